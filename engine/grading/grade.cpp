// SPDX-License-Identifier: Apache-2.0
// The procedure over a whole Record: classes, numbers, object number, damage length number.
#include "grading/grade.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <tuple>

#include "base/words.hpp"
#include "grading/along.hpp"
#include "grading/classify.hpp"
#include "grading/scheme_inside.hpp"

namespace haunch::grading {
namespace {

using base::show_number;
using coding::Observation;
using coding::Record;

const NotGraded* why_not_graded(const Scheme::Inside& scheme, const std::string& code) {
  for (const NotGraded& entry : scheme.not_graded)
    if (std::find(entry.codes.begin(), entry.codes.end(), code) != entry.codes.end()) return &entry;
  return nullptr;
}

/// What is the same for every finding of a Record.
struct Whole {
  explicit Whole(const Record& whole)
      : record(whole), changes(whole), pipe(pipe_changes(whole)), down(counts_down(whole)) {}
  const Record& record;
  Changes changes;
  std::vector<std::size_t> pipe;
  bool down;
};

Finding finding_of(const Whole& whole, const coding::Extent& extent, const coding::CodeList& list) {
  Finding finding;
  finding.seen = &whole.record.observations[extent.first];
  const Sizes sizes = sizes_of(whole.record, rows_of(whole.record, extent, whole.changes));
  finding.q1 = sizes.q1;
  finding.q2 = sizes.q2;
  finding.pipe = pipe_at(whole.record, list, finding.seen->distance_m.value, whole.pipe, whole.down);
  return finding;
}

std::string id_of(const Record& record, std::size_t index) {
  const std::string& id = record.observations[index].id;
  return id.empty() ? "o" + std::to_string(index + 1) : id;
}

bool is_one_of(const std::vector<std::string>& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const SiteField* inside_field(const Scheme::Inside& scheme, const std::string& name) {
  for (const SiteField& field : scheme.site)
    if (field.name == name) return &field;
  return nullptr;
}

void check_site(const Site& site, const Scheme::Inside& scheme, Grade& result) {
  for (const Condition& condition : scheme.conditions) {
    if (condition.field == "place" || condition.field == "joint") continue;
    const std::string& value = site.value(condition.field);
    const SiteField* field = inside_field(scheme, condition.field);
    const bool known = field != nullptr && is_one_of(field->values, value);
    if (known) continue;
    result.missing.push_back(condition.name +
                             (value.empty() ? "" : ": \"" + value + "\" is not in the table"));
  }
}

void object_of(Grade& result, const Scheme& scheme, std::size_t defects, std::size_t unclassed) {
  const Scheme::Inside& inside = scheme.inside();
  const std::string unseen = result.not_inspected.empty()
                                 ? ""
                                 : "not wholly inspected (" + base::join(result.not_inspected, "; ") +
                                       "): no class can be given for what was not seen";
  result.provisional = result.provisional || inside.object_provisional;
  if (defects == 0) {
    if (unseen.empty()) {
      result.object_class = 0;
      result.object_reason = "no defect recorded: class 0 (" + scheme.object_class_meaning(0) +
                             "); that no defect means class 0 is " + inside.object_source;
    } else {
      result.object_reason = "no object class, as no defect is recorded and the pipe was " + unseen;
    }
    return;
  }
  if (!result.object_number) {
    result.object_reason = "no object class: " + std::to_string(defects) +
                           (defects == 1 ? " defect is" : " defects are") +
                           " recorded and none could be given a class";
    if (!unseen.empty()) result.object_reason += "; " + unseen;
    return;
  }
  int object_class = inside.object_otherwise;
  for (const auto& [grade, from] : inside.object_from)
    if (*result.object_number >= from) object_class = std::max(object_class, grade);
  result.object_class = object_class;
  result.object_reason =
      "preliminary object number " + show_number(*result.object_number) + ": class " +
      std::to_string(object_class) + " (" + scheme.object_class_meaning(object_class) + "); bounds " +
      inside.object_source + ". The procedure stops at the preliminary object number, because " +
      inside.length_points_why + "; the damage length number is " + show_number(*result.length_number);
  if (unclassed > 0)
    result.object_reason += ". " + std::to_string(unclassed) +
                            (unclassed == 1 ? " defect has" : " defects have") +
                            " no class at all, so the true class may be worse";
  if (!unseen.empty()) result.object_reason += ". The class is that of what was seen; " + unseen;
}

}  // namespace

Grade grade(const Record& record, const Scheme& scheme, const Site& site) {
  const Scheme::Inside& inside = scheme.inside();
  const coding::CodeList& list = coding::CodeList::shipped();
  Grade result;
  result.scheme = inside.title;
  result.goals = inside.goals;
  result.not_inspected = not_inspected(record);
  check_site(site, inside, result);
  std::size_t defects = 0, unclassed = 0;
  std::set<std::string> left_out;
  const Whole whole(record);
  for (const coding::Extent& extent : extents_in_any_order(record)) {
    const Observation& seen = record.observations[extent.first];
    if (const NotGraded* why = why_not_graded(inside, seen.code)) {
      left_out.insert(seen.code + ": not graded, " + why->why);
      continue;
    }
    ++defects;
    const Finding finding = finding_of(whole, extent, list);
    ObservationGrade graded;
    graded.observation = id_of(record, extent.first);
    // The point length is also the limit between point and stretch.
    graded.length_m =
        std::max(inside.point_length_m, extent.continuous ? std::abs(extent.to_m - extent.from_m) : 0);
    if (seen.distance_m.value) {
      graded.from_m = extent.from_m;
      graded.to_m = extent.to_m;
    }
    for (const std::string& goal : inside.goals) {
      GoalClass classed = classify(finding, goal, inside, list);
      add_points(classed, finding, site, inside);
      graded.provisional = graded.provisional || classed.provisional;
      if (classed.number)
        graded.max_number = std::max(graded.max_number.value_or(*classed.number), *classed.number);
      if (classed.grade && (!graded.worst || *classed.grade > *graded.worst)) {
        graded.worst = classed.grade;
        graded.worst_goal = goal;
      }
      graded.goals.push_back(std::move(classed));
    }
    result.provisional = result.provisional || graded.provisional;
    if (graded.max_number) {
      result.object_number = std::max(result.object_number.value_or(*graded.max_number), *graded.max_number);
      result.length_number = result.length_number.value_or(0) + *graded.max_number * graded.length_m;
    } else {
      ++unclassed;
    }
    result.observations.push_back(std::move(graded));
  }
  if (result.length_number) result.length_number = std::round(*result.length_number * 1000) / 1000;
  object_of(result, scheme, defects, unclassed);
  result.worst_class = inside.worst_class;
  if (result.object_class)
    result.overall.push_back({"object", "object class", result.object_number, result.object_class,
                              scheme.object_class_meaning(*result.object_class), result.object_reason,
                              inside.object_source, inside.object_provisional});
  if (result.provisional)
    result.notes.push_back(
        "Provisional: steps, numbers and boundary points follow a published procedure (named in the scheme "
        "file), but class rows or the bounds of object classes are from memory, so no guideline's name may "
        "stand on "
        "this grade.");
  else if (!inside.procedure_source.empty())
    result.notes.push_back("Procedure: " + inside.procedure_source);
  if (defects > 0 && !result.missing.empty())
    result.notes.push_back("Site conditions that are not known count 0 points: " +
                           base::join(result.missing, "; "));
  result.notes.insert(result.notes.end(), left_out.begin(), left_out.end());
  return result;
}

std::vector<std::size_t> worst_first(const Grade& grade) {
  std::vector<std::size_t> order(grade.observations.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto key = [&](std::size_t index) {
    const ObservationGrade& one = grade.observations[index];
    return std::tuple(-one.worst.value_or(0), -one.max_number.value_or(0), one.from_m.value_or(0), index);
  };
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return order;
}

bool decides_on_provisional(const Grade& grade) {
  return grade.provisional ||
         std::any_of(grade.overall.begin(), grade.overall.end(),
                     [](const Overall& one) { return one.provisional; }) ||
         std::any_of(grade.observations.begin(), grade.observations.end(),
                     [](const ObservationGrade& one) { return one.provisional; });
}

std::optional<int> firm_class(const GoalClass& goal) { return goal.provisional ? std::nullopt : goal.grade; }

}  // namespace haunch::grading
