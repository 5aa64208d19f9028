// SPDX-License-Identifier: Apache-2.0
// What is wrong with a run as its reader says it, a line each.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "scenario/read.hpp"

namespace haunch::scenario_test {

inline std::vector<std::string> problems(const std::string& text) {
  std::vector<std::string> found;
  const auto read = scenario::scenario_from_json(text, "run.json");
  for (const base::Problem& problem : read.problems()) found.push_back(base::to_line(problem));
  return found;
}

}  // namespace haunch::scenario_test
