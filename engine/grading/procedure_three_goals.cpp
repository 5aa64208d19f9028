// SPDX-License-Identifier: Apache-2.0
// Procedure "three goals", after the published steps of BFR Abwasser, annex A-3.1 (public pages):
//
//   1  a preliminary class for each goal of each finding, from the class rows
//   2  the class gives a number (Table A-3-2)
//   3  boundary points of the same goal are added (Table A-3-3); across or on a limit of the circumference
//      the larger ones. A goal without a class gets none (from memory); not below a least number (from
//      memory)
//   4  a class of the final number is an interim result that nothing uses: left out
//   5  the largest final number of a finding (MaxSZE)
//   6  the largest of all findings is the preliminary object number (OZV)
//   7  the damage length number: MaxSZE times length, a point counting a stated length (SLZ)
//   8  extra points from SLZ, object number and length: the table was NOT FOUND, and the procedure stops here
//   9  (final object number: preliminary plus extra points)
//  10  object class from the number: bounds from memory; its meaning (Table A-3-9)
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "grading/procedure.hpp"

namespace haunch::grading {
namespace {

using base::show_number;

/// Which of the place rows hold for a clock position: "lower", "upper", "whole", two of them where
/// an arc crosses or touches a limit, none where no clock is given.
std::vector<std::string_view> places_on(const std::optional<int>& from_h, const std::optional<int>& to_h) {
  if (!from_h) return {};
  const int from = *from_h, to = to_h.value_or(from);
  if (from < 1 || from > 12 || to < 1 || to > 12) return {};
  if (to_h && from == 12 && to == 12) return {"whole"};
  // The table's own arcs, named as they stand there.
  if (from == 3 && to == 9) return {"lower"};
  if (from == 9 && to == 3) return {"upper"};
  bool lower = false, upper = false;
  for (int hour = from;; hour = hour % 12 + 1) {
    lower = lower || (hour >= 3 && hour <= 9);
    upper = upper || hour >= 9 || hour <= 3;
    if (hour == to) break;
  }
  if (lower && upper) return {"lower", "upper"};
  return {lower ? "lower" : "upper"};
}

/// Options of a condition that hold here: the site's, or the observation's own.
std::vector<std::string_view> holding(const Condition& condition, const Finding& finding, const Site& site) {
  if (condition.field == "place") return places_on(finding.seen->clock_from, finding.seen->clock_to);
  if (condition.field == "joint") return {finding.seen->at_joint ? "yes" : "no"};
  const std::string& value = site.value(condition.field);
  return value.empty() ? std::vector<std::string_view>() : std::vector<std::string_view>{value};
}

/// What is the same for every goal of a finding.
struct Held {
  const Condition* condition;
  std::vector<std::string_view> options;
};

/// Steps 2 and 3, with the reasons.
void add_points(GoalClass& classed, const std::vector<Held>& all, const ThreeGoals& tables, bool words) {
  double number = tables.class_numbers.at(*classed.grade);
  std::string sum = "; number " + show_number(number);
  bool added = false;
  for (const Held& held : all) {
    const PointsOption* best = nullptr;
    double points = 0;
    for (const PointsOption& option : held.condition->options) {
      if (std::find(held.options.begin(), held.options.end(), option.when) == held.options.end()) continue;
      const auto found = option.points.find(classed.goal);
      if (found == option.points.end() || (best != nullptr && points >= found->second)) continue;
      points = found->second;
      best = &option;
    }
    if (points == 0) continue;
    number += points;
    added = true;
    if (words)
      sum += (points < 0 ? " - " : " + ") + show_number(std::abs(points)) + " (" +
             (held.condition->field == "joint" ? "at a joint" : best->criterion) + ")";
  }
  if (number < tables.least_final_number) {
    number = tables.least_final_number;
    added = true;
    if (words) sum += ", not below " + show_number(number) + " (" + tables.least.source + ")";
    classed.provisional = classed.provisional || tables.least.provisional;
  }
  classed.number = number;
  if (words) classed.reason += sum + (added ? " = " + show_number(number) : "");
}

void check_site(Work& work) {
  for (const Condition& condition : work.scheme.three_goals.conditions) {
    if (condition.field == "place" || condition.field == "joint") continue;
    const std::string& value = work.site.value(condition.field);
    const SiteField* field = work.scheme.field(condition.field);
    if (field != nullptr &&
        std::find(field->values.begin(), field->values.end(), value) != field->values.end())
      continue;
    work.missing(condition.name + (value.empty() ? "" : ": \"" + value + "\" is not in the table"));
  }
}

std::string meaning_of(const Work& work, int object_class) {
  const auto found = work.scheme.object_meaning.find(object_class);
  return found == work.scheme.object_meaning.end() ? std::string() : found->second;
}

/// Step 10, and where the procedure stops before it.
void judge_object(Work& work, std::size_t unclassed) {
  const ThreeGoals& tables = work.scheme.three_goals;
  Grade& grade = work.grade;
  const std::string unseen = unseen_words(grade);
  const std::size_t defects = grade.observations.size();
  if (defects == 0) {
    if (unseen.empty()) {
      grade.object_class = 0;
      grade.object_reason = "no defect recorded: class 0 (" + meaning_of(work, 0) +
                            "); that no defect means class 0 is " + tables.object.source;
    } else {
      grade.object_reason = "no object class, as no defect is recorded and the pipe was " + unseen;
    }
    return;
  }
  if (!grade.object_number) {
    grade.object_reason = "no object class: " + std::to_string(defects) +
                          (defects == 1 ? " defect is" : " defects are") +
                          " recorded and none could be given a class";
    if (!unseen.empty()) grade.object_reason += "; " + unseen;
    return;
  }
  int object_class = tables.object_otherwise;
  for (const auto& [here, from] : tables.object_from)
    if (*grade.object_number >= from) object_class = std::max(object_class, here);
  grade.object_class = object_class;
  grade.object_reason =
      "preliminary object number " + show_number(*grade.object_number) + ": class " +
      std::to_string(object_class) + " (" + meaning_of(work, object_class) + "); bounds " +
      tables.object.source + ". The procedure stops at the preliminary object number, because " +
      tables.length_points_why + "; the damage length number is " + show_number(*grade.length_number);
  if (unclassed > 0)
    grade.object_reason += ". " + std::to_string(unclassed) +
                           (unclassed == 1 ? " defect has" : " defects have") +
                           " no class at all, so the true class may be worse";
  if (!unseen.empty()) grade.object_reason += ". The class is that of what was seen; " + unseen;
}

}  // namespace

void run_three_goals(Work& work) {
  const ThreeGoals& tables = work.scheme.three_goals;
  Grade& grade = work.grade;
  check_site(work);
  std::size_t unclassed = 0;
  std::vector<Held> held;
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    const Finding& finding = work.findings[i];
    ObservationGrade& graded = grade.observations[i];
    held.clear();
    for (const Condition& condition : tables.conditions)
      held.push_back({&condition, holding(condition, finding, work.site)});
    // The point length is also the limit between point and stretch.
    graded.length_m = std::max(tables.point_length_m, finding.extent_m());
    bool any_open = false;
    for (GoalClass& goal : graded.goals) {
      any_open = any_open || (goal.outcome != Outcome::not_relevant && goal.outcome != Outcome::no_defect);
      if (!goal.grade) continue;
      add_points(goal, held, tables, work.words);
      graded.max_number = std::max(graded.max_number.value_or(*goal.number), *goal.number);
    }
    if (!graded.max_number) {
      unclassed += any_open ? 1 : 0;
      continue;
    }
    grade.object_number = std::max(grade.object_number.value_or(*graded.max_number), *graded.max_number);
    grade.length_number = grade.length_number.value_or(0) + *graded.max_number * graded.length_m;
  }
  if (grade.length_number) grade.length_number = std::round(*grade.length_number * 1000) / 1000;
  judge_object(work, unclassed);
  grade.provisional = tables.object.provisional;
  if (grade.object_class)
    grade.overall.push_back({"object", "object class", grade.object_number, grade.object_class,
                             meaning_of(work, *grade.object_class), grade.object_reason, tables.object.source,
                             tables.object.provisional});
  if (!work.findings.empty() && !grade.missing.empty())
    grade.notes.push_back("Site conditions that are not known count 0 points: " +
                          base::join(grade.missing, "; "));
}

}  // namespace haunch::grading
