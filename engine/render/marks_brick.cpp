// SPDX-License-Identifier: Apache-2.0
// Where bricks are out of the wall, and courses that have lost their mortar.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/brick_damage.hpp"
#include "matter/noise.hpp"
#include "render/marks.hpp"

namespace haunch::render {

OpeningMark brick_mark(const scene::Scene& scene, const scene::BrickDamage& damage, int number) {
  constexpr double tau = 2 * std::numbers::pi, margin = 0.006;
  const matter::BrickArea area = matter::bricks_of(scene, damage);
  OpeningMark mark;
  mark.fault = static_cast<std::uint16_t>(number);
  mark.seed = static_cast<std::uint32_t>(scene::fault_seed(scene.scenario, number));
  mark.radius = static_cast<float>(area.radius_m());
  // What chips off about the opening is mortar.
  mark.broken = linear_from_srgb(126, 118, 102);
  const double half_z = (area.to_m - area.from_m) / 2 + margin,
               half_s = area.span / 2 * area.radius_m() + margin;
  mark.outline.z_m = (area.from_m + area.to_m) / 2;
  mark.outline.angle = area.from_angle + area.span / 2;
  mark.outline.corners = {{-half_z, -half_s}, {half_z, -half_s}, {half_z, half_s}, {-half_z, half_s}};
  mark.z0 = static_cast<float>(mark.outline.z_m - half_z);
  mark.z1 = static_cast<float>(mark.outline.z_m + half_z);
  mark.angle = static_cast<float>(mark.outline.angle - tau * std::floor(mark.outline.angle / tau));
  mark.half_angle = static_cast<float>(half_s / area.radius_m());
  mark.grid_step = static_cast<float>(std::max(0.0008, std::sqrt(4 * half_z * half_s / 250000)));
  mark.grid_z = static_cast<float>(-half_z), mark.grid_s = static_cast<float>(-half_s);
  mark.grid_columns = static_cast<int>(-2 * mark.grid_z / mark.grid_step) + 2;
  mark.grid_rows = static_cast<int>(-2 * mark.grid_s / mark.grid_step) + 2;
  for (int row = 0; row < mark.grid_rows; ++row)
    for (int column = 0; column < mark.grid_columns; ++column) {
      const double z = mark.outline.z_m +
                       static_cast<double>(mark.grid_z + static_cast<float>(column) * mark.grid_step),
                   s = static_cast<double>(mark.grid_s + static_cast<float>(row) * mark.grid_step);
      const double edge = matter::edge_distance_m(area, z, mark.outline.angle + s / area.radius_m());
      // The bed it lay in has crumbled unevenly; bricks that went together leave no bed between.
      const auto torn = static_cast<double>(matter::layered_noise(
          static_cast<float>(z / 0.014), static_cast<float>(s / 0.014), 0.4F, mark.seed, 3));
      mark.grid.push_back(static_cast<float>(edge - 0.0012 + 0.0022 * torn));
    }
  return mark;
}

}  // namespace haunch::render
