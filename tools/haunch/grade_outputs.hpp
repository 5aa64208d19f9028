// SPDX-License-Identifier: Apache-2.0
// What `haunch grade` writes while it goes, and at its end.
#pragma once

#include <iostream>
#include <optional>
#include <streambuf>
#include <string>

#include "base/files.hpp"
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
  /// Throws std::runtime_error when it cannot be written.
  explicit WrittenAsItGoes(const std::filesystem::path& file);
  std::ostream& out() { return file_ ? stream_ : std::cout; }
  /// Throws std::runtime_error when it could not be written.
  void finish();

 private:
  /// Hands on to the file what the stream has gathered.
  class Gathered : public std::streambuf {
   public:
    explicit Gathered(std::optional<base::NewFile>& file) : file_(file) {}

   protected:
    int_type overflow(int_type letter) override;
    std::streamsize xsputn(const char* text, std::streamsize length) override;
    int sync() override;

   private:
    std::optional<base::NewFile>& file_;
    std::string gathered_;
  };
  std::optional<base::NewFile> file_;  ///< none: standard output
  Gathered gathered_{file_};
  std::ostream stream_{&gathered_};
};

struct Pages {
  std::filesystem::path file;
  report::Zero zero;
  base::LengthUnit unit = base::LengthUnit::metres;
};
/// The owner's summary: a page each for the worst runs, with a table in front where there is more than one.
void write_pages(const Pages& pages, const Batch& batch, const report::RunsTable& table);

}  // namespace haunch::cli
