// SPDX-License-Identifier: Apache-2.0
// The person's own classes and action, and what the two Records come to. Inside this room.
#pragma once

#include <map>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "marking/finding.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

/// Which mark stands for which true finding, by id.
struct PairedIds {
  std::unordered_map<std::string, std::string> mark_of, truth_of;
  std::set<std::string> again;  ///< marks on what another mark has found
  std::set<std::string> right;  ///< marks of which everything is right, within its tolerance
};

/// A grade by the ids of its observations. Points into the grade.
class GradeById {
 public:
  explicit GradeById(const grading::Grade& grade);
  bool has(const std::string& observation) const { return by_id_.contains(observation); }
  const grading::GoalClass* class_in(const std::string& observation, const std::string& goal) const;
  /// The worst class of an observation, or nothing.
  std::optional<int> worst_class(const std::string& observation) const;
  /// The worst that rests on no provisional row, or nothing.
  std::optional<int> worst_firm_class(const std::string& observation) const;

 private:
  std::unordered_map<std::string, const grading::ObservationGrade*> by_id_;
};

/// Ids that stood on more than one observation, and the new ids of all but the first.
using Doubles = std::map<std::string, std::vector<std::string>>;
/// Gives every observation an id of its own, the same ones whatever the order of the rows.
Doubles tell_doubles_apart(coding::Record& record);

/// What of the attempt's own classes and names could not be taken as it stands.
std::vector<std::string> remarks_on(const coding::Record& attempt, const std::vector<Finding>& findings,
                                    const Doubles& doubles, const grading::Scheme& scheme,
                                    base::LengthUnit unit);

/// Marks that lie beyond where the truth begins or ends, by more than a tolerance reaches: outside the pipe,
/// or past where the inspection was broken off.
std::vector<std::string> remarks_on_places(const std::vector<Finding>& truths,
                                           const std::vector<Finding>& attempts, const Rules::Inside& rules,
                                           base::LengthUnit unit);

GradingMarks mark_grading(const coding::Record& attempt, const grading::Grade& own,
                          const grading::Grade& truth, const PairedIds& paired, base::LengthUnit unit);
/// What a finding calls for by itself.
coding::Action action_of(const Finding& finding, const Rules::Inside& rules);
/// `seen` is what of the truth is held against the attempt, `whole` all of it: care that turns out to be
/// called for by what could not be seen is not too much.
ActionMark mark_action(const coding::Record& seen, const coding::Record& whole, const coding::Record& attempt,
                       const Rules& rules, base::LengthUnit unit);
Consequence consequence_of(const coding::Record& truth, const coding::Record& attempt,
                           grading::Grade truth_grade, grading::Grade attempt_grade, const PairedIds& paired,
                           const grading::Scheme& scheme, base::LengthUnit unit);

}  // namespace haunch::marking
