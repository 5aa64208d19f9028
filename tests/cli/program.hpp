// SPDX-License-Identifier: Apache-2.0
// Runs the built haunch as a user would, in a folder of the test's own.
#pragma once

#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace haunch::cli_test {

using Json = nlohmann::json;

struct Ran {
  int code = -1;  ///< exit code; 128 + n when a signal ended it
  std::string out, err;
};

/// A folder that goes away with the test, and the program run in it. No display, and the user's own
/// scores are out of reach.
class Program {
 public:
  Program();
  ~Program();
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  Ran run(const std::vector<std::string>& arguments) const;
  /// Runs, expects exit code 0 and reads the output as JSON.
  Json json(const std::vector<std::string>& arguments) const;

  std::filesystem::path folder() const { return folder_; }
  std::filesystem::path path(const std::string& name) const { return folder_ / name; }
  void write(const std::string& name, const std::string& text) const;
  std::string read(const std::string& name) const;

 private:
  std::filesystem::path folder_;
};

/// A shipped scenario ("canteen-branch"), and all of them.
std::filesystem::path shipped(const std::string& name);
std::vector<std::filesystem::path> shipped_scenarios();

/// A short clean run: one material, no faults, no water to speak of.
extern const char* const clean_scenario;

/// Every problem of a text against content/schemas; fails the test for each.
void expect_schema(const std::string& text, const std::string& schema);

/// A page without the letters of its pictures, which could spell anything.
std::string without_pictures(const std::string& html);

/// Fails unless there is a line that starts "file:line:column: " with a line and a column, and all
/// lines that name the file do; gives how many there are.
int problem_lines(const std::string& text, const std::string& file);

}  // namespace haunch::cli_test
