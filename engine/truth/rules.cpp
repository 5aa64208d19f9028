// SPDX-License-Identifier: Apache-2.0
// Reads content/coding/truth-rules.json.
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

struct Named {
  const char* name;
  double Rules::*value;
};
constexpr Named all_rules[] = {
    {"crack_opens_mm", &Rules::crack_opens_mm},
    {"fracture_from_mm", &Rules::fracture_from_mm},
    {"joint_gap_from_mm", &Rules::joint_gap_from_mm},
    {"joint_shift_from_mm", &Rules::joint_shift_from_mm},
    {"joint_bend_from_deg", &Rules::joint_bend_from_deg},
    {"bore_change_from_percent", &Rules::bore_change_from_percent},
    {"unit_length_change_from_percent", &Rules::unit_length_change_from_percent},
    {"water_from_percent", &Rules::water_from_percent},
    {"point_up_to_m", &Rules::point_up_to_m},
    {"at_joint_within_m", &Rules::at_joint_within_m},
    {"mass_hides_from_percent", &Rules::mass_hides_from_percent},
    {"sight_range_bores", &Rules::sight_range_bores},
    {"found_from_mm", &Rules::found_from_mm},
    {"cloudy_hides_from_mm", &Rules::cloudy_hides_from_mm},
    {"mortar_gone_from_mm", &Rules::mortar_gone_from_mm},
    {"soil_shows_from_mm", &Rules::soil_shows_from_mm},
    {"deformed_from_percent", &Rules::deformed_from_percent},
    {"abandoned_under_water_from_m", &Rules::abandoned_under_water_from_m},
    {"bend_from_deg", &Rules::bend_from_deg},
    {"connection_low_within_h", &Rules::connection_low_within_h},
    {"connection_set_back_from_mm", &Rules::connection_set_back_from_mm},
    {"connection_gap_from_mm", &Rules::connection_gap_from_mm},
    {"connection_broken_from_mm", &Rules::connection_broken_from_mm},
    {"connection_blocked_from_percent", &Rules::connection_blocked_from_percent},
    {"quarters_displaced_from_percent", &Rules::quarters_displaced_from_percent},
    {"sight_lost_under_bores", &Rules::sight_lost_under_bores},
    {"lens_covered_from_percent", &Rules::lens_covered_from_percent},
};

}  // namespace

base::Result<Rules> read_rules(const std::filesystem::path& path) {
  const auto document = base::JsonDocument::read(path, "truth-rules");
  if (!document) return document.problems();
  const nlohmann::json& values = document.value().root().at("rules");
  Rules rules;
  for (const Named& rule : all_rules) rules.*rule.value = values.at(rule.name).at("value").get<double>();
  if (rules.fracture_from_mm < rules.crack_opens_mm) {
    return document.value().problem("/rules/fracture_from_mm/value",
                                    "an open gap would begin below the width where lines become visible",
                                    "at least crack_opens_mm");
  }
  return rules;
}

const Rules& shipped_rules() {
  static const Rules rules = [] {
    const auto read = read_rules(base::content_dir() / "coding" / "truth-rules.json");
    if (!read)
      throw std::runtime_error("the content folder is damaged: " + base::to_line(read.problems().front()));
    return read.value();
  }();
  return rules;
}

}  // namespace haunch::truth
