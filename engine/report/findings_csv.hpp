// SPDX-License-Identifier: Apache-2.0
// Graded findings for spreadsheets: one row for each finding, with class, row and reason for each goal.
#pragma once

#include <string>
#include <vector>

#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/advice.hpp"
#include "report/measure.hpp"

namespace haunch::report {

std::string findings_csv_head(const std::vector<std::string>& goals);
/// The rows of one record, most urgent first; "pipe_class" is that of the whole pipe, a lower bound where
/// "pipe_class_most" is worse. Cells that a spreadsheet would run as a formula do not run.
std::string findings_csv(const std::string& file, int inspection, const coding::Record& record,
                         const grading::Grade& grade, const Advice& advice, const Measure& measure,
                         const Meanings& meanings);

}  // namespace haunch::report
