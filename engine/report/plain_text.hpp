// SPDX-License-Identifier: Apache-2.0
// What the command line prints for people: records, marks and grades as plain text.
#pragma once

#include <string>
#include <vector>

#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "marking/mark.hpp"
#include "scores/store.hpp"

namespace haunch::report {

/// Columns in step; the last column runs on as it is. `indent` spaces before each row.
using Row = std::vector<std::string>;
std::string columns(const std::vector<Row>& rows, std::size_t indent = 0);
/// Breaks at spaces so that no line is wider than `width` (a longer word stands alone).
std::string wrapped(const std::string& text, std::size_t indent, std::size_t width = 96);

std::string truth_text(const coding::Record& record, const coding::CodeList& list, base::LengthUnit unit);
std::string marking_text(const marking::Marking& marking, const coding::Record& truth,
                         const coding::Record& attempt, const coding::CodeList& list, base::LengthUnit unit);
std::string grade_text(const grading::Grade& grade, const coding::Record& record,
                       const coding::CodeList& list, base::LengthUnit unit);
std::string scores_text(const std::vector<scores::Attempt>& attempts);

}  // namespace haunch::report
