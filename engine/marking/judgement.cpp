// SPDX-License-Identifier: Apache-2.0
// Classes given by the person: misgrading (given against the scheme on their own record) apart from
// miscoding (the scheme on their own record against the scheme on the truth).
#include "marking/judgement.hpp"

#include <algorithm>

namespace haunch::marking {
namespace {

std::string number(int value) { return std::to_string(value); }

std::string sentence_of(const ClassVerdict& verdict, const std::string& what, const std::string& scheme_why,
                        bool provisional) {
  std::string text;
  if (!verdict.own_record && !verdict.given) return {};
  if (!verdict.own_record) {
    text = what + ": class " + number(*verdict.given) +
           " was given; the scheme gives none for what was logged" +
           (scheme_why.empty() ? "" : " (" + scheme_why + ")");
  } else if (!verdict.given) {
    text = what + ": no class was given; the scheme gives " + number(*verdict.own_record) +
           " for what was logged";
  } else if (*verdict.given == *verdict.own_record) {
    text = what + ": class " + number(*verdict.given) + " is right for what was logged";
  } else {
    text = what + ": misgraded; class " + number(*verdict.given) + " was given, the scheme gives " +
           number(*verdict.own_record) + " for what was logged";
  }
  if (verdict.truth && verdict.own_record && *verdict.truth != *verdict.own_record)
    text += "; miscoded: what is there gets class " + number(*verdict.truth);
  else if (verdict.truth && !verdict.own_record)
    text += "; what is there gets class " + number(*verdict.truth);
  return text + (provisional ? " (provisional)." : ".");
}

/// A class given to the end of a stretch is given to the stretch.
std::map<std::string, std::map<std::string, int>> given_by_begin(const coding::Record& attempt,
                                                                 const std::vector<Finding>& findings) {
  std::map<std::string, std::map<std::string, int>> given;
  for (const coding::GivenClasses& entry : attempt.judgement->classes) {
    std::string id = entry.observation;
    for (const Finding& finding : findings)
      if (is_one_of(finding.rows, id)) id = finding.id;
    // Of two classes for one goal the worse is taken, whichever stands first.
    for (const auto& [goal, grade] : entry.classes) {
      const auto [known, is_new] = given[id].emplace(goal, grade);
      if (!is_new) known->second = std::max(known->second, grade);
    }
  }
  return given;
}

}  // namespace

std::string PairedIds::truth_of(const std::string& attempt) const {
  for (const auto& [truth, mark] : pairs)
    if (mark == attempt) return truth;
  return {};
}

const grading::GoalClass* class_in(const grading::Grade& grade, const std::string& observation,
                                   const std::string& goal) {
  for (const grading::ObservationGrade& graded : grade.observations)
    if (graded.observation == observation)
      for (const grading::GoalClass& one : graded.goals)
        if (one.goal == goal) return &one;
  return nullptr;
}

std::optional<int> worst_class(const grading::Grade& grade, const std::string& observation) {
  std::optional<int> worst;
  for (const grading::ObservationGrade& graded : grade.observations)
    if (graded.observation == observation)
      for (const grading::GoalClass& one : graded.goals)
        if (one.grade) worst = std::max(worst.value_or(0), *one.grade);
  return worst;
}

GradingMarks mark_grading(const coding::Record& attempt, const grading::Grade& own,
                          const grading::Grade& truth, const PairedIds& paired, base::LengthUnit unit) {
  GradingMarks marks;
  if (!attempt.judgement) return marks;
  const coding::Judgement& judgement = *attempt.judgement;
  marks.given = !judgement.classes.empty() || judgement.object_class.has_value();
  if (!marks.given) return marks;
  const std::vector<Finding> findings = findings_of(attempt);
  const auto given = given_by_begin(attempt, findings);
  const bool any_classes = !judgement.classes.empty();
  for (const Finding& finding : findings) {
    const auto entry = given.find(finding.id);
    for (const std::string& goal : own.goals) {
      ClassVerdict verdict;
      verdict.observation = finding.id;
      verdict.goal = goal;
      if (entry != given.end())
        if (const auto found = entry->second.find(goal); found != entry->second.end())
          verdict.given = found->second;
      const grading::GoalClass* here = class_in(own, finding.id, goal);
      const grading::GoalClass* there = class_in(truth, paired.truth_of(finding.id), goal);
      if (here != nullptr) verdict.own_record = here->grade;
      if (there != nullptr) verdict.truth = there->grade;
      if (!verdict.given && !(verdict.own_record && any_classes)) continue;
      const bool provisional =
          (here != nullptr && here->provisional) || (there != nullptr && there->provisional);
      verdict.sentence = sentence_of(verdict, where_of(finding, unit) + ", " + goal,
                                     here == nullptr ? "" : here->reason, provisional);
      if (verdict.own_record) {
        ++marks.asked;
        if (verdict.given == verdict.own_record) ++marks.right;
      }
      marks.classes.push_back(std::move(verdict));
    }
  }
  marks.object.goal = "object";
  marks.object.given = judgement.object_class;
  marks.object.own_record = own.object_class;
  marks.object.truth = truth.object_class;
  if (judgement.object_class) {
    marks.object.sentence =
        sentence_of(marks.object, "Object class", own.object_reason, own.provisional || truth.provisional);
    if (own.object_class) {
      ++marks.asked;
      if (marks.object.given == marks.object.own_record) ++marks.right;
    }
  }
  return marks;
}

ActionReason action_for(const coding::Record& record, const Rules& rules, base::LengthUnit unit) {
  ActionReason result;
  result.why = "nothing in the record calls for more";
  bool any = false;
  for (const Finding& finding : findings_of(record))
    for (const Meaning& meaning : rules.inside().actions) {
      if (!falls_under(meaning, *finding.seen, finding.q1, finding.q2)) continue;
      // Of equally serious findings the first along the pipe is named.
      if (any && meaning.action <= result.action) continue;
      if (meaning.action == coding::Action::carry_on) continue;
      any = true;
      result = {meaning.action, finding.id, where_of(finding, unit) + ": " + meaning.why};
    }
  return result;
}

ActionMark mark_action(const coding::Record& truth, const coding::Record& attempt, const Rules& rules,
                       base::LengthUnit unit) {
  const ActionReason there = action_for(truth, rules, unit), here = action_for(attempt, rules, unit);
  ActionMark mark;
  mark.own_record = here.action;
  mark.truth = there.action;
  if (attempt.judgement) mark.given = attempt.judgement->action;
  mark.right = mark.given == there.action;
  const std::string wanted = "\"" + coding::show(there.action) + "\" (" + there.why + ")";
  if (!mark.given) {
    mark.sentence = "No action was given. What is there calls for " + wanted + ".";
    return mark;
  }
  if (mark.right) {
    mark.sentence = "Right: what is there calls for " + wanted + ".";
    return mark;
  }
  mark.sentence = "\"" + coding::show(*mark.given) + "\" was given; what is there calls for " + wanted + ".";
  if (*mark.given == here.action)
    mark.sentence += " It fits what was logged, so the coding led to it.";
  else if (here.action == there.action)
    mark.sentence += " What was logged calls for that too.";
  return mark;
}

}  // namespace haunch::marking
