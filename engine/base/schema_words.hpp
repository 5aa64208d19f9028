// SPDX-License-Identifier: Apache-2.0
// Says in plain words where a JSON value breaks a JSON Schema (draft 7, what our schemas use of it).
// Inside base; others use json_document.hpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace haunch::base {

struct Breach {
  std::string pointer;
  bool at_key = false;  ///< the key is wrong, not its value
  std::string what;
  std::string expected;
  std::string suggestion;
  bool operator==(const Breach&) const = default;
};

std::vector<Breach> breaches(const nlohmann::json& value, const nlohmann::json& schema);

}  // namespace haunch::base
