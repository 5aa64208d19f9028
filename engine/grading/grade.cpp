// SPDX-License-Identifier: Apache-2.0
// The procedure over a whole Record: classes, numbers, object number, damage length number.
#include "grading/grade.hpp"

#include <algorithm>
#include <cmath>
#include <set>

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

void check_site(const Site& site, const Scheme::Inside& scheme, Grade& result) {
  for (const Condition& condition : scheme.conditions) {
    if (condition.field == "place" || condition.field == "joint") continue;
    const std::string& value = site_value(site, condition.field);
    const bool known = std::any_of(condition.options.begin(), condition.options.end(),
                                   [&](const PointsOption& option) { return option.when == value; });
    if (known || value == "no") continue;
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

Site site_from(const Record& record) {
  Site site;
  // Letters of ACK from memory; what has no row in the table stays empty.
  const std::string use = base::trim(record.header_value("ACK").value_or(""));
  if (use == "A") site.system = "foul water";
  if (use == "B") site.system = "surface water";
  if (use == "C") site.system = "combined";
  if (use == "E") site.system = "culverted watercourse";
  return site;
}

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
    for (const std::string& goal : inside.goals) {
      GoalClass classed = classify(finding, goal, inside, list);
      add_points(classed, finding, site, inside);
      graded.provisional = graded.provisional || classed.provisional;
      if (classed.number)
        graded.max_number = std::max(graded.max_number.value_or(*classed.number), *classed.number);
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

}  // namespace haunch::grading
