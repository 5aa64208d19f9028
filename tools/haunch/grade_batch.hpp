// SPDX-License-Identifier: Apache-2.0
// Files and folders of inspections, graded one after another: memory holds one inspection at a time and a
// small row for each.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "cli.hpp"
#include "exchange/inspections.hpp"
#include "grading/grade.hpp"
#include "report/advice.hpp"
#include "report/runs.hpp"

namespace haunch::cli {

/// The files named, and for folders those within that may hold inspections, sorted by name; pictures, films
/// and documents are passed over. InputProblems where a folder holds none.
std::vector<std::filesystem::path> files_to_grade(const std::vector<std::string>& named);

/// One inspection that was graded; good for the time of a call.
struct OneGraded {
  std::uint32_t file = 0;  ///< index into the files
  int inspection = 1;
  const coding::Record& record;
  const grading::Grade& grade;
  const report::Advice& advice;
  report::RemarkCount remarks;
};

struct Batch {
  std::vector<std::filesystem::path> files;
  const grading::Scheme& scheme;
  const GivenSite& site;
};

/// Grades all and gives the table. Remarks of the check go to the error stream, a few of them one by one and
/// many counted by kind. What cannot be read or makes no sense is listed, and the rest goes on.
report::RunsTable grade_all(const Batch& batch, const std::function<void(const OneGraded&)>& each);

/// Grades the inspections of a second reading again, for pages of those chosen: `each` gets those whose
/// file and number are among `chosen`.
void grade_again(const Batch& batch, const std::map<std::uint32_t, std::vector<int>>& chosen,
                 const std::function<void(const OneGraded&)>& each);

}  // namespace haunch::cli
