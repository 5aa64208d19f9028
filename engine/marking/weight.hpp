// SPDX-License-Identifier: Apache-2.0
// How much each true finding counts in the score. Inside this room.
#pragma once

#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "marking/finding.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

class GradeById;

double run_length_m(const std::vector<Finding>& truths);

/// The one closing observation that stands for the length inspected: the first of the run codes that
/// the truth has.
std::string run_carrier(const std::vector<Finding>& truths, const Rules::Inside& rules);

/// At least a tenth, so that no true finding is worth nothing. Of classes only firm ones count: a score must
/// not hang on what nobody has read. Without them what a finding calls for says how grave it is.
struct Weight {
  int tenths = 1;
  std::string why;  ///< "2 for a finding of its kind, 4 for class 4": adds up to the weight
};
Weight weight_of(const Finding& finding, const GradeById& grade, double run_m, bool carries_run,
                 const Rules::Inside& rules, const coding::CodeList& list);

}  // namespace haunch::marking
