// SPDX-License-Identifier: Apache-2.0
// The rows that a run's truth holds between its nodes, and their codes.
#pragma once

#include <string>
#include <vector>

#include "coding/observation.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::truth_test {

inline std::vector<coding::Observation> rows_of(const truth::Truth& truth) {
  std::vector<coding::Observation> rows;
  for (const coding::Observation& row : truth.record.observations)
    if (row.code != "BCD" && row.code != "BCE") rows.push_back(row);
  return rows;
}
inline std::vector<coding::Observation> rows_of(const scene::Scenario& scenario) {
  return rows_of(truth::derive(scene::build_scene(scenario)));
}
inline std::vector<std::string> codes_of(const std::vector<coding::Observation>& rows) {
  std::vector<std::string> all;
  for (const coding::Observation& row : rows) all.push_back(coding::show_code(row));
  return all;
}

}  // namespace haunch::truth_test
