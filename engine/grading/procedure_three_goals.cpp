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
//
// A condition that is not known counts no points, and some take points away. Beside the class stands what it
// might be with the fewest and the most points that the unknown could give; where a finding has no class for
// a goal, it might be the worst (ours).
#include <algorithm>
#include <cmath>
#include <set>

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
  bool known = true;
};

/// Points that a condition which is not known might give a goal.
struct Span {
  double least = 0, most = 0;
};
Span span_of(const Condition& condition, const std::string& goal) {
  Span span;
  for (const PointsOption& option : condition.options)
    if (const auto found = option.points.find(goal); found != option.points.end()) {
      span.least = std::min(span.least, found->second);
      span.most = std::max(span.most, found->second);
    }
  return span;
}

/// Steps 2 and 3, with the reasons.
void add_points(GoalClass& classed, const std::vector<Held>& all, const ThreeGoals& tables, bool words,
                bool& provisional) {
  double number = tables.class_numbers.at(*classed.grade);
  provisional = provisional || tables.numbers.provisional;
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
    // That a condition is worth nothing decides as well.
    provisional =
        provisional ||
        (held.known && held.condition->mark.provisional &&
         std::any_of(held.condition->options.begin(), held.condition->options.end(),
                     [&](const PointsOption& option) { return option.points.contains(classed.goal); }));
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

bool known(const Work& work, const Condition& condition, const Finding& finding) {
  if (condition.field == "place") return finding.seen->clock_from.has_value();
  if (condition.field == "joint") return true;
  const SiteField* field = work.scheme.field(condition.field);
  return field != nullptr && std::find(field->values.begin(), field->values.end(),
                                       work.site.value(condition.field)) != field->values.end();
}

std::vector<Held> held_by(const Work& work, const Finding& finding) {
  std::vector<Held> held;
  for (const Condition& condition : work.scheme.three_goals.conditions)
    held.push_back({&condition, holding(condition, finding, work.site), known(work, condition, finding)});
  return held;
}

void check_site(Work& work) {
  for (const Condition& condition : work.scheme.three_goals.conditions) {
    if (condition.field == "place" || condition.field == "joint" || known(work, condition, {})) continue;
    const std::string& value = work.site.value(condition.field);
    work.missing(condition.name + (value.empty() ? "" : ": \"" + value + "\" is not in the table"),
                 "nothing is counted for that, and the class may be another");
  }
}

int class_of(const ThreeGoals& tables, double number) {
  int found = tables.object_otherwise;
  for (const auto& [here, from] : tables.object_from)
    if (number >= from) found = std::max(found, here);
  return found;
}

/// What the class might be if all were known, and what it hangs on.
void look_round(Work& work, int object_class) {
  const ThreeGoals& tables = work.scheme.three_goals;
  Grade& grade = work.grade;
  // The class may also be better: only where the numbers of all findings fall far enough.
  int least = tables.object_otherwise, most = object_class;
  std::set<std::string_view> conditions;
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    bool place = false;
    const std::vector<Held> all = held_by(work, work.findings[i]);
    for (const GoalClass& goal : grade.observations[i].goals) {
      if (!goal.number) continue;
      Span sum{*goal.number, *goal.number};
      for (const Held& held : all) {
        if (held.known) continue;
        const Span span = span_of(*held.condition, goal.goal);
        sum.least += span.least;
        sum.most += span.most;
      }
      const int low = class_of(tables, std::max(sum.least, tables.least_final_number));
      const int high = class_of(tables, sum.most);
      least = std::max(least, low);
      most = std::max(most, high);
      const bool down = class_of(tables, *goal.number) == object_class && low < object_class;
      for (const Held& held : all) {
        const Span span = span_of(*held.condition, goal.goal);
        if (held.known || !((high > object_class && span.most > 0) || (down && span.least < 0))) continue;
        if (held.condition->field == "place")
          place = true;
        else
          conditions.insert(held.condition->name);
      }
    }
    if (place)
      work.leave_open(grade.observations[i].observation, "", true, "its place on the clock is not given");
  }
  for (const Condition& condition : tables.conditions)
    if (conditions.contains(condition.name)) work.leave_open("", "", true, condition.name + " not known");
  const bool unclassed = std::any_of(grade.open.begin(), grade.open.end(), [](const Open& one) {
    return !one.observation.empty() && !one.classed;
  });
  const bool gaps = std::any_of(grade.observations.begin(), grade.observations.end(), [](const auto& one) {
    return std::any_of(one.goals.begin(), one.goals.end(), [](const GoalClass& goal) { return goal.least; });
  });
  grade.object_least = std::min(least, object_class);
  grade.object_most = unclassed || gaps ? std::max(object_class, work.scheme.worst_class) : most;
}

std::string meaning_of(const Work& work, int object_class) {
  const auto found = work.scheme.object_meaning.find(object_class);
  return found == work.scheme.object_meaning.end() ? std::string() : found->second;
}

std::string findings_words(std::size_t count, const std::string& rest_of_one,
                           const std::string& rest_of_many) {
  return std::to_string(count) + (count == 1 ? " defect " + rest_of_one : " defects " + rest_of_many);
}

bool lengths_known(const Work& work) {
  return std::all_of(work.findings.begin(), work.findings.end(),
                     [](const Finding& finding) { return finding.extent_known(); });
}

/// Step 10, and where the procedure stops before it.
void judge_object(Work& work) {
  const ThreeGoals& tables = work.scheme.three_goals;
  Grade& grade = work.grade;
  const std::string unseen = unseen_words(grade);
  const std::size_t defects = grade.observations.size(), unclassed = work.unclassed();
  if (defects == 0) {
    if (unseen.empty()) {
      grade.object_class = grade.object_least = grade.object_most = 0;
      grade.object_reason = "no defect recorded: class 0 (" + meaning_of(work, 0) +
                            "); that no defect means class 0 is " + tables.object.source;
    } else {
      grade.object_reason = "no object class, as no defect is recorded and the pipe was " + unseen;
    }
    return;
  }
  if (!grade.object_number) {
    grade.object_reason = "no object class: " + findings_words(defects, "is", "are") +
                          " recorded and none could be given a class";
    if (unclassed > 0) grade.object_reason += ": " + open_words(work);
    if (!unseen.empty()) grade.object_reason += "; " + unseen;
    return;
  }
  const int object_class = class_of(tables, *grade.object_number);
  if (object_class == tables.object_otherwise && unclassed > 0) {
    grade.object_reason =
        "no object class: what could be classed comes to class " + std::to_string(object_class) +
        ", the slightest, but " +
        findings_words(unclassed, "has no class for some goal", "have no class for some goal") +
        " and may be worse: " + open_words(work);
    if (!unseen.empty()) grade.object_reason += "; " + unseen;
    return;
  }
  grade.object_class = object_class;
  look_round(work, object_class);
  if (!work.words) return;
  grade.object_reason = "preliminary object number " + show_number(*grade.object_number) + ": class " +
                        std::to_string(object_class) + " (" + meaning_of(work, object_class) + "); bounds " +
                        tables.object.source +
                        ". The procedure stops at the preliminary object number, because " +
                        tables.length_points_why + "; the damage length number is " +
                        (lengths_known(work) ? "" : "at least ") + show_number(*grade.length_number) +
                        (lengths_known(work) ? "" : ", as the length of a run is not known");
  if (*grade.object_most > object_class || *grade.object_least < object_class)
    grade.object_reason += ". It might be class " + span_words(grade) +
                           " if all were known; that hangs on what is not known: " + open_words(work);
  if (!unseen.empty()) grade.object_reason += ". The class is that of what was seen; " + unseen;
}

}  // namespace

void run_three_goals(Work& work) {
  const ThreeGoals& tables = work.scheme.three_goals;
  Grade& grade = work.grade;
  check_site(work);
  bool numbers_provisional = false;
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    const Finding& finding = work.findings[i];
    ObservationGrade& graded = grade.observations[i];
    const std::vector<Held> held = held_by(work, finding);
    // The point length is also the limit between point and stretch.
    graded.length_m = std::max(tables.point_length_m, finding.extent_m());
    for (GoalClass& goal : graded.goals) {
      if (!goal.grade) continue;
      add_points(goal, held, tables, work.words, graded.provisional);
      graded.max_number = std::max(graded.max_number.value_or(*goal.number), *goal.number);
    }
    numbers_provisional = numbers_provisional || graded.provisional;
    if (!graded.max_number) continue;
    grade.object_number = std::max(grade.object_number.value_or(*graded.max_number), *graded.max_number);
    grade.length_number = grade.length_number.value_or(0) + *graded.max_number * graded.length_m;
  }
  if (grade.length_number) grade.length_number = std::round(*grade.length_number * 1000) / 1000;
  judge_object(work);
  grade.provisional = tables.object.provisional;
  if (grade.object_class)
    grade.overall.push_back({"object",
                             "object class",
                             grade.object_number,
                             grade.object_class,
                             meaning_of(work, *grade.object_class),
                             grade.object_reason,
                             tables.object.source,
                             tables.object.provisional || numbers_provisional,
                             *grade.object_most == *grade.object_class,
                             {{"damage length number", grade.length_number.value_or(0)}},
                             tables.object_from,
                             true});
  if (!work.findings.empty() && !grade.missing.empty()) grade.notes.push_back(work.missing_words());
}

}  // namespace haunch::grading
