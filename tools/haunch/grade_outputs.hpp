// SPDX-License-Identifier: Apache-2.0
// What `haunch grade` writes while it goes, and at its end.
#pragma once

#include <fstream>
#include <optional>
#include <string>

#include "grade_batch.hpp"
#include "report/measure.hpp"

namespace haunch::cli {

/// The grades as JSON, written as they come: one alone is an object of kind "grade", more are a list in one
/// of kind "grades" with the table of runs after it.
class GradesJson {
 public:
  explicit GradesJson(std::ostream& out) : out_(out) {}
  void add(const std::string& grade);
  /// `alone`: nothing else was asked for, so that one grade stands by itself and none is no output.
  void finish(const report::RunsTable& table, bool alone);

 private:
  std::ostream& out_;
  std::string first_;
  std::size_t count_ = 0;
};

/// A file that is written as it comes and takes its name only when it is whole; "-" is standard output.
class WrittenAsItGoes {
 public:
  explicit WrittenAsItGoes(const std::filesystem::path& file);
  ~WrittenAsItGoes();
  WrittenAsItGoes(const WrittenAsItGoes&) = delete;
  WrittenAsItGoes& operator=(const WrittenAsItGoes&) = delete;
  std::ostream& out();
  /// Throws std::runtime_error when it could not be written.
  void finish();

 private:
  std::filesystem::path file_, unfinished_;
  std::ofstream stream_;
};

struct Pages {
  std::filesystem::path file;
  report::Zero zero;
  base::LengthUnit unit = base::LengthUnit::metres;
};
/// The owner's summary: a page each for the worst runs, with a table in front where there is more than one.
void write_pages(const Pages& pages, const Batch& batch, const report::RunsTable& table);

}  // namespace haunch::cli
