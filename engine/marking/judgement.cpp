// SPDX-License-Identifier: Apache-2.0
// Classes given by the person: misgrading (given against the scheme on their own record) apart from
// miscoding (the scheme on their own record against the scheme on the truth).
#include "marking/judgement.hpp"

#include <algorithm>

namespace haunch::marking {
namespace {

std::string number(int value) { return std::to_string(value); }

/// What decides a class, for somebody who wants to look it up.
std::string row_words(const grading::GoalClass& one) {
  if (one.row.empty() || !one.grade) return {};
  std::string reason = one.reason.substr(0, one.reason.find(';'));
  const std::string named = "row " + one.row;
  return reason.starts_with(named) ? reason : named + ": " + reason;
}

std::string in_brackets(const std::string& row) { return row.empty() ? row : " (" + row + ")"; }

/// `coded_right`: what was logged is right within every tolerance.
std::string sentence_of(const ClassVerdict& verdict, const std::string& what, const std::string& scheme_why,
                        bool coded_right = false) {
  std::string text;
  const bool provisional = verdict.own_provisional || verdict.truth_provisional;
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
           number(*verdict.own_record) + " for what was logged" + in_brackets(verdict.own_row);
  }
  if (verdict.truth && verdict.own_record && *verdict.truth != *verdict.own_record)
    text += (coded_right ? "; what is there, a little off within the tolerance, gets class "
                         : "; miscoded: what is there gets class ") +
            number(*verdict.truth) + in_brackets(verdict.truth_row);
  else if (verdict.truth && !verdict.own_record)
    text += "; what is there gets class " + number(*verdict.truth) + in_brackets(verdict.truth_row);
  return text + (provisional ? " (provisional)." : ".");
}

/// A class given to the end of a stretch is given to the stretch.
std::map<std::string, std::map<std::string, int>> given_by_begin(const coding::Record& attempt,
                                                                 const std::vector<Finding>& findings) {
  std::map<std::string, std::map<std::string, int>> given;
  std::unordered_map<std::string, std::string> begin_of;
  for (const Finding& finding : findings)
    for (const std::string& row : finding.rows) begin_of[row] = finding.id;
  for (const coding::GivenClasses& entry : attempt.judgement->classes) {
    const auto begin = begin_of.find(entry.observation);
    const std::string& id = begin == begin_of.end() ? entry.observation : begin->second;
    // Of two classes for one goal the worse is taken, whichever stands first.
    for (const auto& [goal, grade] : entry.classes) {
      const auto [known, is_new] = given[id].emplace(goal, grade);
      if (!is_new) known->second = std::max(known->second, grade);
    }
  }
  return given;
}

/// `firm`: the class by the scheme, where it rests on no provisional row.
void count(GradingMarks& marks, const ClassVerdict& verdict, std::optional<int> firm) {
  if (!verdict.own_record) return;
  const int right = verdict.given == verdict.own_record ? 1 : 0;
  ++marks.asked;
  marks.right += right;
  if (!firm) return;
  ++marks.asked_firm;
  marks.right_firm += right;
}

}  // namespace

std::string show_right(const GradingMarks& grading) {
  const std::string all = number(grading.right) + " of " + number(grading.asked) + " right";
  if (grading.asked == grading.asked_firm) return all;
  if (grading.asked_firm == 0) return all + ", all provisional: practice only";
  return all + "; " + number(grading.right_firm) + " of " + number(grading.asked_firm) +
         " firm, the rest provisional: practice only";
}

GradeById::GradeById(const grading::Grade& grade) {
  for (const grading::ObservationGrade& graded : grade.observations)
    by_id_.emplace(graded.observation, &graded);
}

const grading::GoalClass* GradeById::class_in(const std::string& observation, const std::string& goal) const {
  const auto found = by_id_.find(observation);
  if (found == by_id_.end()) return nullptr;
  for (const grading::GoalClass& one : found->second->goals)
    if (one.goal == goal) return &one;
  return nullptr;
}

std::optional<int> GradeById::worst_firm_class(const std::string& observation) const {
  std::optional<int> worst;
  if (const auto found = by_id_.find(observation); found != by_id_.end())
    for (const grading::GoalClass& one : found->second->goals)
      if (const auto firm = grading::firm_class(one)) worst = std::max(worst.value_or(0), *firm);
  return worst;
}

std::optional<int> GradeById::worst_class(const std::string& observation) const {
  std::optional<int> worst;
  if (const auto found = by_id_.find(observation); found != by_id_.end())
    for (const grading::GoalClass& one : found->second->goals)
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
  const GradeById own_by_id(own), truth_by_id(truth);
  for (const Finding& finding : findings) {
    const auto entry = given.find(finding.id);
    const auto there_id = paired.truth_of.find(finding.id);
    for (const std::string& goal : own.goals) {
      ClassVerdict verdict;
      verdict.observation = finding.id;
      verdict.goal = goal;
      if (entry != given.end())
        if (const auto found = entry->second.find(goal); found != entry->second.end())
          verdict.given = found->second;
      const grading::GoalClass* here = own_by_id.class_in(finding.id, goal);
      const grading::GoalClass* there =
          there_id == paired.truth_of.end() ? nullptr : truth_by_id.class_in(there_id->second, goal);
      if (here != nullptr) {
        verdict.own_record = here->grade;
        verdict.own_provisional = here->provisional;
        verdict.own_row = row_words(*here);
      }
      if (there != nullptr) {
        verdict.truth = there->grade;
        verdict.truth_provisional = there->provisional;
        verdict.truth_row = row_words(*there);
      }
      if (!verdict.given && !(verdict.own_record && any_classes)) continue;
      verdict.sentence = sentence_of(verdict, where_of(finding, unit) + ", " + goal,
                                     here == nullptr ? "" : here->reason, paired.right.contains(finding.id));
      count(marks, verdict, here == nullptr ? std::nullopt : grading::firm_class(*here));
      marks.classes.push_back(std::move(verdict));
    }
  }
  marks.object.goal = "object";
  marks.object.given = judgement.object_class;
  marks.object.own_record = own.object_class;
  marks.object.truth = truth.object_class;
  marks.object.own_provisional = grading::decides_on_provisional(own);
  marks.object.truth_provisional = grading::decides_on_provisional(truth);
  if (judgement.object_class) {
    marks.object.sentence = sentence_of(marks.object, "Object class", own.object_reason);
    if (own.object_class && own.object_most.value_or(0) > *own.object_class)
      marks.object.sentence +=
          " It is the least class for what was logged: what is not known of the site might make it worse.";
    count(marks, marks.object, marks.object.own_provisional ? std::nullopt : own.object_class);
  }
  return marks;
}

}  // namespace haunch::marking
