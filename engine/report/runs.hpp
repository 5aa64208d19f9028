// SPDX-License-Identifier: Apache-2.0
// Many inspections as one table, worst first. A row is small, because a large file has very many.
#pragma once

#include <cstdint>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/advice.hpp"
#include "report/owner_words.hpp"

namespace haunch::report {

/// What a procedure makes of a pipe beside its class (grading::Overall).
struct RunOverall {
  std::optional<float> number;
  std::int16_t grade = -1;  ///< -1: none
  bool complete = false, provisional = false;
};

struct RunRow {
  std::string doubtful;    ///< sizes that can hardly be and that the class hangs on; empty: none
  std::uint32_t file = 0;  ///< index into the list of files
  std::int32_t inspection = 1;
  std::string pipe;                     ///< "Pipe from 2925 to 6"
  const std::string* urgent = nullptr;  ///< title of what is most urgent, of the Meanings
  std::optional<float> length_m, number;
  std::uint32_t findings = 0, errors = 0, warnings = 0;
  std::uint8_t next = 0;          ///< index into Meanings::next()
  std::int16_t worst_class = -1;  ///< of the whole pipe; -1: none
  /// What it might be if all were known; a class with a worse `class_most` is a lower bound.
  std::int16_t class_least = -1, class_most = -1;
  std::uint32_t not_classed = 0;    ///< findings that should have a class and have none
  std::vector<RunOverall> overall;  ///< as RunsTable::overall; empty where there is none
  bool provisional = false, wholly_inspected = true, remarks = false;
};
/// `overall` as RunsTable has it.
RunRow run_row(std::uint32_t file, int inspection, const coding::Record& record, const grading::Grade& grade,
               const Advice& advice, const RemarkCount& remarks,
               const std::vector<std::string>& overall = {});

/// By what it calls for, then by class, then by number; then by file and inspection, so that the order never
/// depends on anything else. A pipe that has no class because its findings have none may be worse than the
/// slightest, and comes before that; any other without a class comes last.
bool worse(const RunRow& a, const RunRow& b);

/// What could not be graded, and why.
struct NotGraded {
  std::uint32_t file = 0;
  int inspection = 0;            ///< 0: the file as a whole
  std::vector<std::string> why;  ///< problem lines, the first few
  std::size_t more = 0;          ///< how many problems beyond these

  /// Counts them only: a file may have very many.
  void drop_reasons() {
    more += why.size();
    why = {};
  }
};

struct RunsTable {
  std::vector<std::string> files;
  std::vector<std::string> overall;  ///< ids of what the scheme judges beside the pipe's class
  std::vector<RunRow> runs;          ///< worst first
  std::vector<NotGraded> not_graded;
  base::LengthUnit unit = base::LengthUnit::metres;
};
std::string runs_text(const RunsTable& table, const Meanings& meanings, std::size_t most_rows);
/// `,"runs": [..], "not_graded": [..]` without the braces around it: the tail of an object of kind "grades".
void write_runs_json(const RunsTable& table, const Meanings& meanings, std::ostream& out);
void write_runs_csv(const RunsTable& table, const Meanings& meanings, std::ostream& out);
/// A section with a table whose rows lead to the pages "#p1" .. "#pN" of the first `pages` runs.
std::string runs_html(const RunsTable& table, const Meanings& meanings, std::size_t most_rows,
                      std::size_t pages);

/// One cell: quoted where needed, and never run as a formula by a spreadsheet.
std::string csv_cell(const std::string& text);

}  // namespace haunch::report
