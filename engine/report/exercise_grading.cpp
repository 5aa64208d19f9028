// SPDX-License-Identifier: Apache-2.0
// The person's own grading on an exercise's page, and what the scheme makes of both records.
#include <kainjow/mustache.hpp>

#include "report/exercise_desk.hpp"
#include "report/standing.hpp"

namespace haunch::report {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;

namespace {

std::string class_text(const std::optional<int>& grade, bool provisional) {
  return show_class(grade, provisional, "–");
}

Data class_data(const ExerciseDesk& desk, const marking::ClassVerdict& verdict) {
  Data entry;
  const Line* line = find_line(desk.attempts, verdict.observation);
  entry.set("label", line ? line->label : std::string());
  entry.set("words", line ? line->where + ", " + line->code : std::string("the whole run"));
  entry.set("goal", verdict.goal.empty() ? "object class" : verdict.goal);
  entry.set("given", class_text(verdict.given, false));  // the person's own, whatever the scheme rests on
  entry.set("own", class_text(verdict.own_record, verdict.own_provisional));
  entry.set("truth", class_text(verdict.truth, verdict.truth_provisional));
  entry.set("differs", verdict.given != verdict.own_record);
  entry.set("sentence", verdict.sentence);
  return entry;
}

/// The scheme's classes for a Record: one row a finding with a class for each goal.
List scheme_rows(const grading::Grade& grade, const std::vector<Line>& lines) {
  List rows;
  for (const grading::ObservationGrade& one : grade.observations) {
    Data entry;
    set_line(entry, find_line(lines, one.observation), one.observation);
    List goals;
    bool any = false;
    for (const grading::GoalClass& goal : one.goals) {
      if (goal.outcome == grading::Outcome::not_relevant) continue;
      any = true;
      Data cell;
      cell.set("goal", goal.goal);
      // Where there is no class the reason says so itself.
      const bool said = !goal.grade && !goal.reason.empty();
      std::string classed = goal.grade ? "class " + std::to_string(*goal.grade) : grading::show(goal.outcome);
      if (goal.provisional) classed += " (provisional)";
      cell.set("class", said ? std::string() : classed + ". ");
      cell.set("reason", reason_alone(goal));
      cell.set("source", goal.source);
      goals.push_back(cell);
    }
    entry.set("goals", goals);
    if (any) rows.push_back(entry);
  }
  return rows;
}

}  // namespace

void set_grading(Data& page, const ExerciseDesk& desk) {
  const marking::GradingMarks& marks = desk.page.marking.grading;
  page.set("graded", marks.given);
  page.set("classes_right", marking::show_right(marks));
  List classes;
  if (marks.given) {
    for (const marking::ClassVerdict& verdict : marks.classes) classes.push_back(class_data(desk, verdict));
    classes.push_back(class_data(desk, marks.object));
  }
  page.set("classes", classes);
  const marking::ActionMark& action = desk.page.marking.action;
  page.set("action_given", action.given ? coding::show(*action.given) : std::string("not given"));
  page.set("action_own", coding::show(action.own_record));
  page.set("action_truth", coding::show(action.truth));
  page.set("action_sentence", action.sentence);
}

void set_scheme(Data& page, const ExerciseDesk& desk) {
  const marking::Consequence& consequence = desk.page.marking.consequence;
  const grading::Grade& truth = consequence.truth;
  page.set("consequences", sentences(consequence.sentences));
  page.set("no_consequence", consequence.sentences.empty());
  page.set("scheme", truth.scheme);
  page.set("scheme_truth", scheme_rows(truth, desk.truths));
  page.set("scheme_attempt", scheme_rows(consequence.attempt, desk.attempts));
  page.set("object_classes", sentences(desk.page.object_classes));
  page.set("any_object_classes", !desk.page.object_classes.empty());
  page.set("worst_class", std::to_string(truth.worst_class));
  page.set("object_truth", show_object_class(truth, "–"));
  page.set("object_attempt", show_object_class(consequence.attempt, "–"));
  const auto number = [](const std::optional<double>& value) {
    return value ? one_decimal(*value) : std::string("–");
  };
  page.set("number_truth", number(truth.object_number));
  page.set("number_attempt", number(consequence.attempt.object_number));
  page.set("object_reason", truth.object_reason);
  const std::string why = provisional_words(truth.provisional ? truth : consequence.attempt);
  page.set("provisional", !why.empty());
  page.set("provisional_words", why);
  page.set("any_missing", !truth.missing.empty());
  page.set("missing", not_known_words(truth));
  const auto notes = other_notes(truth);
  page.set("any_notes", !notes.empty());
  page.set("grade_notes", sentences(notes));
}

}  // namespace haunch::report
