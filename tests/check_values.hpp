// SPDX-License-Identifier: Apache-2.0
// measurement/check-values.json: cases with their published results, each with its source; and fixtures that
// somebody else's program worked out from the same formulas.
#pragma once

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace haunch::testing_help {

inline std::optional<nlohmann::json> check_value(const std::string& id) {
  const std::filesystem::path path = HAUNCH_SOURCE_DIR "/../shared/reference/measurement/check-values.json";
  std::ifstream file(path);
  if (!file) return std::nullopt;
  const nlohmann::json all = nlohmann::json::parse(file);
  for (const char* list : {"checks", "derived_fixtures"})
    for (const nlohmann::json& check : all.at(list))
      if (check.at("id") == id) return check;
  return std::nullopt;
}

}  // namespace haunch::testing_help

#define NEEDS_CHECK(name, id)                                \
  const auto name = ::haunch::testing_help::check_value(id); \
  if (!name) GTEST_SKIP() << "check value " << id << " is not here: measurement/check-values.json is missing"
