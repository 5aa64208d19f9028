// SPDX-License-Identifier: Apache-2.0
#include "base/result.hpp"

#include <algorithm>

namespace haunch::base {

std::string to_line(const Problem& problem) {
  std::string line = problem.place.file;
  if (problem.place.line > 0) {
    line += ':' + std::to_string(problem.place.line);
    if (problem.place.column > 0) line += ':' + std::to_string(problem.place.column);
  }
  if (!line.empty()) line += ": ";
  if (problem.severity == Severity::warning) line += "warning: ";
  if (problem.severity == Severity::note) line += "note: ";
  line += problem.what;
  if (!problem.expected.empty()) line += "; expected " + problem.expected;
  if (!problem.suggestion.empty()) line += "; did you mean \"" + problem.suggestion + "\"?";
  return line;
}

bool has_errors(const Problems& problems) {
  return std::any_of(problems.begin(), problems.end(),
                     [](const Problem& p) { return p.severity == Severity::error; });
}

}  // namespace haunch::base
