// SPDX-License-Identifier: Apache-2.0
#include "scene/scenario.hpp"

namespace haunch::scene {

int lining_at(const Scenario& scenario, double z_m) {
  for (std::size_t i = 0; i < scenario.faults.size(); ++i)
    if (const auto* lining = std::get_if<ShortLining>(&scenario.faults[i].kind);
        lining && z_m >= lining->from_m && z_m <= lining->to_m)
      return static_cast<int>(i);
  return -1;
}

double lined_m(const Scenario& scenario, double z_m) {
  const int index = lining_at(scenario, z_m);
  if (index < 0) return 0;
  return std::get<ShortLining>(scenario.faults[static_cast<std::size_t>(index)].kind).thickness_mm / 1000;
}

}  // namespace haunch::scene
