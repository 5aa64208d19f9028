// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "scene/layout.hpp"
#include "scene/materials.hpp"

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

std::optional<Lined> lining_over(const Scenario& scenario, double z_m) {
  if (const int index = lining_at(scenario, z_m); index >= 0) {
    const auto& lining = std::get<ShortLining>(scenario.faults[static_cast<std::size_t>(index)].kind);
    return Lined{lining.from_m, lining.to_m, lining.thickness_mm, lining.finish};
  }
  if (scenario.sections.empty() || z_m < scenario.sections.front().from_m - 1e-9 ||
      z_m > scenario.sections.back().to_m + 1e-9)
    return std::nullopt;
  const int index = section_at(scenario, z_m);
  const Section& section = scenario.sections[static_cast<std::size_t>(index)];
  if (section.material != Material::liner) return std::nullopt;
  return Lined{section.from_m, section.to_m, usual_wall_mm(Material::liner, section.bore_mm),
               LiningFinish::felt, index};
}

double liner_seam_angle(const Scenario& scenario, int index) {
  constexpr double tau = 2 * std::numbers::pi;
  const Section& section = scenario.sections[static_cast<std::size_t>(index)];
  for (const Fault& fault : scenario.faults)
    if (const auto* defect = std::get_if<LiningDefect>(&fault.kind);
        defect && defect->form == LiningForm::seam_off && defect->from_m >= section.from_m - 1e-9 &&
        defect->to_m <= section.to_m + 1e-9)
      return tau * defect->arc.from_h / 12;
  base::Random random(base::mix(scenario.seed * 53 + static_cast<std::uint64_t>(index) + 5U));
  // Nobody lays it where it is trodden, so seldom at the invert.
  const double turn = random.uniform(-0.36, 0.36);
  return tau * (turn - std::floor(turn));
}

}  // namespace haunch::scene
