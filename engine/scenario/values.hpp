// SPDX-License-Identifier: Apache-2.0
// Values of a scenario file as far as they can be taken: what is absent or of the wrong type is NaN, empty or
// `otherwise`, and the schema has said so already. Inside this room.
#pragma once

#include <initializer_list>
#include <limits>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>

#include "base/clock.hpp"

namespace haunch::scenario {

using Json = nlohmann::json;

inline constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// Null where there is none.
const Json& child(const Json& object, const char* key);
const Json& item(const Json& list, std::size_t index);
std::size_t count(const Json& list);
bool has(const Json& object, const char* key);

double number(const Json& object, const char* key, double otherwise = unknown);
std::string text(const Json& object, const char* key, std::string otherwise = {});
bool flag(const Json& object, const char* key);
/// "clock": [12, 12] and nothing at all are the whole way round.
base::ClockArc arc(const Json& object);
/// at_m twice, or from_m and to_m.
std::pair<double, double> extent(const Json& fault);

template <class Enum>
Enum pick(const std::string& word, std::initializer_list<std::pair<const char*, Enum>> words,
          Enum otherwise) {
  for (const auto& [known, value] : words) {
    if (word == known) return value;
  }
  return otherwise;
}

}  // namespace haunch::scenario
