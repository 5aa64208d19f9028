// SPDX-License-Identifier: Apache-2.0
#include "scenario/values.hpp"

#include <nlohmann/json.hpp>

namespace haunch::scenario {

const Json& child(const Json& object, const char* key) {
  static const Json nothing;
  if (!object.is_object()) return nothing;
  const auto found = object.find(key);
  return found == object.end() ? nothing : *found;
}

const Json& item(const Json& list, std::size_t index) {
  static const Json nothing;
  return list.is_array() && index < list.size() ? list[index] : nothing;
}

std::size_t count(const Json& list) { return list.is_array() ? list.size() : 0; }

double number(const Json& object, const char* key, double otherwise) {
  const Json& value = child(object, key);
  if (value.is_null()) return otherwise;
  return value.is_number() ? value.get<double>() : unknown;
}

std::string text(const Json& object, const char* key, std::string otherwise) {
  const Json& value = child(object, key);
  return value.is_string() ? value.get<std::string>() : otherwise;
}

bool flag(const Json& object, const char* key) {
  const Json& value = child(object, key);
  return value.is_boolean() && value.get<bool>();
}

base::ClockArc arc(const Json& object) {
  const Json& value = child(object, "clock");
  if (value.is_number()) return {value.get<double>(), value.get<double>(), false};
  if (count(value) != 2 || !value[0].is_number() || !value[1].is_number()) return {12, 12, true};
  const double from = value[0].get<double>(), to = value[1].get<double>();
  return {from, to, from == 12 && to == 12};
}

std::pair<double, double> extent(const Json& fault) {
  if (fault.contains("at_m")) return {number(fault, "at_m"), number(fault, "at_m")};
  return {number(fault, "from_m"), number(fault, "to_m")};
}

bool has(const Json& object, const char* key) { return !child(object, key).is_null(); }

}  // namespace haunch::scenario
