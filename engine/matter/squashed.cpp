// SPDX-License-Identifier: Apache-2.0
#include "matter/squashed.hpp"

#include <algorithm>

#include "scene/layout.hpp"
#include "scene/materials.hpp"

namespace haunch::matter {

std::vector<scene::Crack> cracks_of(const scene::Scene& scene, const scene::Squashed& squashed) {
  const scene::Section& section =
      scene.scenario.sections[static_cast<std::size_t>(scene::section_at(scene.scenario, squashed.from_m))];
  if (scene::is_flexible(section.material)) return {};
  const double radius = section.bore_mm / 2000, lost = squashed.percent / 100;
  const scene::Bore worst{radius * (1 - lost), scene::other_hinged_half_m(radius, lost), scene::BoreForm::hinged};
  const double gape_mm = 2 * scene::hinge_turn(worst) * section.wall_mm;
  std::vector<scene::Crack> cracks;
  for (const double hour : {12.0, 3.0, 6.0, 9.0}) {
    const bool top_or_bottom = hour == 12 || hour == 6;
    cracks.push_back({squashed.from_m,
                      squashed.to_m,
                      {hour, hour, false},
                      scene::CrackForm::along,
                      top_or_bottom == squashed.vertical ? gape_mm : 0.0});
  }
  return cracks;
}

double wall_radius_m(const scene::Scene& scene, double z_m, double clock_h) {
  return scene::radius_toward(scene::bore_at(scene, z_m), scene::toward_clock(clock_h));
}

double wall_radius_m(const scene::Scene& scene, const scene::Crack& crack) {
  const scene::Bore bore = scene::bore_at(scene, (crack.from_m + crack.to_m) / 2);
  if (bore.round()) return bore.half_height_m;
  if (crack.form != scene::CrackForm::along || crack.arc.whole) return scene::mean_radius_m(bore);
  return scene::radius_toward(bore, scene::toward_clock(crack.arc.from_h + base::arc_width_h(crack.arc) / 2));
}

}  // namespace haunch::matter
