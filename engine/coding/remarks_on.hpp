// SPDX-License-Identifier: Apache-2.0
// Gathers problems of a Record, each named after its observation. Inside coding.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "coding/record.hpp"
#include "coding/validate.hpp"

namespace haunch::coding {

struct RemarksOn {
  const Record& record;
  std::string file_name;
  const RecordPlaces& places;
  base::Problems problems;

  /// "BAB B A at 3.4 m"; with its number where no line of a file says which one is meant.
  std::string name(std::size_t index) const;
  void add(base::Severity severity, std::size_t index, std::string_view what, std::string expected,
           std::string suggestion = {});
  void error(std::size_t index, std::string_view what, std::string expected, std::string suggestion = {}) {
    add(base::Severity::error, index, what, std::move(expected), std::move(suggestion));
  }
  void warn(std::size_t index, std::string_view what, std::string expected, std::string suggestion = {}) {
    add(base::Severity::warning, index, what, std::move(expected), std::move(suggestion));
  }
  void note(std::size_t index, std::string_view what, std::string expected) {
    add(base::Severity::note, index, what, std::move(expected));
  }
  /// At a place of its own, where one is known.
  void at(const std::vector<base::Place>& known, std::size_t index, base::Severity severity, std::string what,
          std::string expected, std::string suggestion = {}) {
    problems.push_back({index < known.size() ? known[index] : base::Place{file_name, 0, 0}, severity,
                        std::move(what), std::move(expected), std::move(suggestion)});
  }
  void whole(base::Severity severity, std::string what, std::string expected, std::string suggestion = {}) {
    problems.push_back(
        {{file_name, 0, 0}, severity, std::move(what), std::move(expected), std::move(suggestion)});
  }
};

/// Continuous observations: begun, ended, numbered, in place. (validate_runs.cpp)
void check_runs(RemarksOn& remarks);
/// Header codes and values, given classes and names of observations. (validate_header.cpp)
void check_header(RemarksOn& remarks, const CodeList& list);
void check_names(RemarksOn& remarks);

}  // namespace haunch::coding
