// SPDX-License-Identifier: Apache-2.0
#include "grading/doubt.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "base/words.hpp"
#include "grading/along.hpp"
#include "grading/scheme_inside.hpp"

namespace haunch::grading {
namespace {

using coding::DoubtfulSize;

constexpr std::size_t most_named = 3;

/// Doubtful sizes by the finding that they count for: a run's are those of all its rows.
using SizesOfFindings = std::unordered_map<std::string, std::vector<const DoubtfulSize*>>;

SizesOfFindings of_findings(const coding::Record& record, const std::vector<DoubtfulSize>& doubtful) {
  std::unordered_multimap<std::size_t, const DoubtfulSize*> by_row;
  for (const DoubtfulSize& size : doubtful) by_row.emplace(size.observation, &size);
  SizesOfFindings sizes;
  const Changes changes(record);
  for (const coding::Extent& extent : extents_in_any_order(record))
    for (const std::size_t row : rows_of(record, extent, changes))
      for (auto [at, end] = by_row.equal_range(row); at != end; ++at) {
        const std::string& id = record.observations[extent.first].id;
        sizes[id.empty() ? "o" + std::to_string(extent.first + 1) : id].push_back(at->second);
      }
  return sizes;
}

/// Was the class, or that there is none, read from that quantification?
bool decided_by(const Row& row, const GoalClass& goal, int quantification) {
  const Quantity measured = quantification == 2 ? Quantity::q2 : Quantity::q1;
  return !row.flat && !row.not_relevant && row.quantity == measured &&
         (goal.outcome == Outcome::classed || goal.outcome == Outcome::no_row ||
          goal.outcome == Outcome::no_defect);
}

std::string name_of(const coding::Record& record, const DoubtfulSize& size) {
  const coding::Observation& seen = record.observations[size.observation];
  const std::string at = seen.distance_m.show();
  return coding::show_code(seen) + (at.empty() ? "" : " at " + at + " m") + ": " + size.why;
}

/// "it would be class 3"; a density has a number and no class.
std::string would_be(const std::optional<int>& grade, const std::optional<double>& number = {}) {
  if (grade) return "it would be class " + std::to_string(*grade);
  if (number) return "it would be " + base::show_number(std::round(*number * 1e4) / 1e4);
  return "it would be no class at all";
}

/// What the object class, and whatever else is judged of the whole pipe, hangs on, if it does.
void mark_object(Grade& grade, const coding::Record& record, const Scheme& scheme, const Site& site,
                 const std::vector<const DoubtfulSize*>& deciding) {
  coding::Record without = record;
  for (const DoubtfulSize* size : deciding) {
    coding::Observation& seen = without.observations[size->observation];
    (size->quantification == 2 ? seen.q2 : seen.q1) = {};
  }
  const Grade other = grading::grade(without, scheme, site, Words::none);
  std::vector<std::string> named(
      grade.doubtful.begin(),
      grade.doubtful.begin() + static_cast<std::ptrdiff_t>(std::min(most_named, grade.doubtful.size())));
  if (grade.doubtful.size() > most_named)
    named.push_back(std::to_string(grade.doubtful.size() - most_named) + " more");
  const std::string sizes = " without " + base::join(named, "; ");
  for (Overall& one : grade.overall) {
    const auto same = std::find_if(other.overall.begin(), other.overall.end(),
                                   [&one](const Overall& any) { return any.id == one.id; });
    const bool there = same != other.overall.end();
    const std::optional<int> its_class = there ? same->grade : std::nullopt;
    const std::optional<double> its_number = there ? same->number : std::nullopt;
    one.doubtful = one.grade ? one.grade != its_class : one.number && one.number != its_number;
    if (!one.doubtful) continue;
    one.reason += "; doubtful: " +
                  (one.grade || its_number ? would_be(its_class, one.grade ? std::nullopt : its_number)
                                           : std::string("there would be none")) +
                  sizes;
  }
  if (other.object_class == grade.object_class) return;
  grade.object_class_doubtful = true;
  grade.object_reason += "; doubtful: " + would_be(other.object_class) + sizes;
  if (other.object_class) return;
  grade.object_least.reset();
  grade.object_most.reset();
}

}  // namespace

void mark_doubtful(Grade& grade, const coding::Record& record, const Scheme& scheme, const Site& site,
                   const std::vector<DoubtfulSize>& doubtful) {
  if (doubtful.empty()) return;
  const SizesOfFindings sizes = of_findings(record, doubtful);
  const std::vector<Row>& rows = scheme.inside().rows;
  std::vector<const DoubtfulSize*> deciding;
  for (ObservationGrade& one : grade.observations) {
    const auto here = sizes.find(one.observation);
    if (here == sizes.end()) continue;
    for (GoalClass& goal : one.goals) {
      const auto row =
          std::find_if(rows.begin(), rows.end(), [&goal](const Row& any) { return any.id == goal.row; });
      if (goal.row.empty() || row == rows.end()) continue;
      for (const DoubtfulSize* size : here->second) {
        if (!decided_by(*row, goal, size->quantification)) continue;
        goal.doubtful = true;
        if (!goal.reason.empty()) goal.reason += "; doubtful: " + size->why;
        if (std::find(deciding.begin(), deciding.end(), size) == deciding.end()) deciding.push_back(size);
      }
    }
  }
  for (const DoubtfulSize* size : deciding) grade.doubtful.push_back(name_of(record, *size));
  if (!deciding.empty()) mark_object(grade, record, scheme, site, deciding);
}

}  // namespace haunch::grading
