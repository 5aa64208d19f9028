// SPDX-License-Identifier: Apache-2.0
// Machine-readable grades and scores (schemas: content/schemas/grade, scores).
#pragma once

#include <string>
#include <vector>

#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "scores/store.hpp"

namespace haunch::report {

/// A Record and what it was graded as.
struct GradedRecord {
  std::string file;    ///< as named on the command line
  int inspection = 1;  ///< number within the file
  const coding::Record* record = nullptr;
  grading::Grade grade;
};

/// One grade as an object of kind "grade"; any other number as {"kind": "grades", "grades": [..]}.
std::string grades_to_json(const std::vector<GradedRecord>& graded);

std::string scores_to_json(const std::vector<scores::Attempt>& attempts);

}  // namespace haunch::report
