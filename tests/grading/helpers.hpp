// SPDX-License-Identifier: Apache-2.0
// Records in a few words, random ones, and the outside check values of the grading procedure.
#pragma once

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"

namespace haunch::grading::testing {

/// Where the check values come from: the published guideline's own pages (steps, Tables A-3-2, A-3-3,
/// A-3-9). Empty when the file is not here.
inline std::optional<nlohmann::json> reference(const std::string& name = "grading-bfr.json") {
  const std::filesystem::path path = std::filesystem::path(HAUNCH_SOURCE_DIR "/../shared/reference") / name;
  std::ifstream file(path);
  if (!file) return std::nullopt;
  return nlohmann::json::parse(file);
}

struct Place {
  std::optional<int> from, to;
  bool joint = false;
};

inline coding::Observation seen(double distance_m, std::string code, std::string ch1 = "",
                                std::string ch2 = "", coding::Number q1 = {}, Place place = {}) {
  coding::Observation one;
  one.distance_m = distance_m;
  one.code = std::move(code);
  one.ch1 = std::move(ch1);
  one.ch2 = std::move(ch2);
  one.q1 = std::move(q1);
  one.clock_from = place.from;
  one.clock_to = place.to;
  one.at_joint = place.joint;
  return one;
}

inline coding::Record record_of(std::vector<coding::Observation> observations, std::string material = "AE",
                                std::string bore_mm = "150") {
  coding::Record record;
  if (!material.empty()) record.set_header("ACD", std::move(material));
  if (!bore_mm.empty()) record.set_header("ACB", std::move(bore_mm));
  record.observations = std::move(observations);
  coding::number_observations(record);
  return record;
}

/// Grade of the only observation, under the shipped scheme.
inline ObservationGrade grade_one(const coding::Observation& one, const Site& site = {},
                                  std::string material = "AE", std::string bore_mm = "150") {
  const Grade all = grade(record_of({one}, std::move(material), std::move(bore_mm)), Scheme::shipped(), site);
  return all.observations.empty() ? ObservationGrade{} : all.observations.front();
}

inline const GoalClass& goal_of(const ObservationGrade& grade, const std::string& goal) {
  for (const GoalClass& one : grade.goals)
    if (one.goal == goal) return one;
  throw std::runtime_error("no goal " + goal);
}

inline coding::Observation random_defect(base::Random& random) {
  static const std::vector<std::vector<std::string>> kinds = {
      {"BAA", "A", ""}, {"BAB", "A", "A"}, {"BAB", "B", "A"}, {"BAB", "C", "B"}, {"BAC", "A", ""},
      {"BAC", "C", ""}, {"BAF", "C", "A"}, {"BAG", "", ""},   {"BAH", "D", ""},  {"BAJ", "A", ""},
      {"BAJ", "B", ""}, {"BAJ", "C", ""},  {"BAO", "", ""},   {"BAP", "", ""},   {"BBA", "B", ""},
      {"BBB", "B", ""}, {"BBC", "A", ""},  {"BBE", "C", ""},  {"BBF", "B", ""},  {"BAL", "G", "A"},
      {"BAE", "", ""}};
  const auto& kind = kinds[random.below(static_cast<std::uint32_t>(kinds.size()))];
  coding::Observation one = seen(random.below(3000) / 100.0, kind[0], kind[1], kind[2]);
  if (random.below(10) > 0) one.q1 = coding::Number(random.below(600) / 10.0);
  if (random.below(4) > 0) one.clock_from = static_cast<int>(random.below(12)) + 1;
  if (one.clock_from && random.below(2) == 0) one.clock_to = static_cast<int>(random.below(12)) + 1;
  one.at_joint = random.below(3) == 0;
  return one;
}

/// Points, stretches, inventory, now and then a change of material; sites known or not.
inline coding::Record random_record(base::Random& random) {
  coding::Record record;
  if (random.below(5) > 0) record.set_header("ACD", random.below(2) == 0 ? "AE" : "AX");
  if (random.below(5) > 0) record.set_header("ACB", std::to_string(100 + 50 * random.below(9)));
  const auto count = random.below(12);
  for (std::uint32_t i = 0; i < count; ++i) {
    coding::Observation one = random_defect(random);
    if (random.below(4) == 0) {
      one.stretch = "A" + std::to_string(i + 1);
      coding::Observation end = one;
      end.stretch = "B" + std::to_string(i + 1);
      end.distance_m = *one.distance_m.value + random.below(600) / 100.0;
      record.observations.push_back(one);
      one = end;
    }
    record.observations.push_back(one);
  }
  record.observations.push_back(seen(0, "BCD", "A"));
  record.observations.push_back(seen(40, "BCE", "A"));
  if (random.below(3) == 0) record.observations.push_back(seen(random.below(40), "AED", "AG"));
  coding::number_observations(record);
  return record;
}

inline Site random_site(base::Random& random) {
  static const std::vector<std::string> systems = {"", "foul water", "surface water", "combined",
                                                   "culverted watercourse"};
  static const std::vector<std::string> zones = {"", "outside", "IIIb", "IIIa", "II", "I"};
  static const std::vector<std::string> waters = {"", "invert above the aquifer", "in the fluctuation zone",
                                                  "in the aquifer"};
  static const std::vector<std::string> soils = {"", "loam, clay", "sandy loam, loess, loamy sand, fine sand",
                                                 "medium or coarse sand, gravel"};
  const auto pick = [&](const auto& from) {
    return from[random.below(static_cast<std::uint32_t>(from.size()))];
  };
  Site site;
  const auto set = [&](const char* field, const std::string& value) {
    if (!value.empty()) site.values[field] = value;
  };
  set("system", pick(systems));
  set("water_endangering", random.below(4) == 0 ? "yes" : "");
  set("protection_zone", pick(zones));
  set("groundwater", pick(waters));
  set("soil", pick(soils));
  return site;
}

template <class T>
void shuffle(std::vector<T>& items, base::Random& random) {
  for (std::size_t i = items.size(); i > 1; --i)
    std::swap(items[i - 1], items[random.below(static_cast<std::uint32_t>(i))]);
}

}  // namespace haunch::grading::testing
