// SPDX-License-Identifier: Apache-2.0
// Machine-readable grades and scores (schemas: content/schemas/grade, scores).
#pragma once

#include <string>
#include <vector>

#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/advice.hpp"
#include "scores/store.hpp"

namespace haunch::report {

/// A Record and what it was graded as.
struct GradedRecord {
  std::string file;    ///< as named on the command line
  int inspection = 1;  ///< number within the file
  const coding::Record* record = nullptr;
  grading::Grade grade;
  const Advice* advice = nullptr;  ///< what comes next is said too where it is given
};
/// An object of kind "grade".
std::string grade_to_json(const GradedRecord& one);

std::string scores_to_json(const std::vector<scores::Attempt>& attempts);

}  // namespace haunch::report
