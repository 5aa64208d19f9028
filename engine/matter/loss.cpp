// SPDX-License-Identifier: Apache-2.0
// Foam that turns over the place where the stream leaves the pipe. By eye.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "matter/solid.hpp"
#include "scene/water.hpp"

namespace haunch::matter {

Solid loss_solid(const scene::Scene& scene, const scene::Exfiltration& water, std::uint64_t seed64) {
  const double z0 = std::max(0.0, water.at_m - 0.25 * scene::dips_before_m);
  const double level = scene::level_at(scene.water, z0), invert = scene::invert_at(scene, z0);
  Solid solid;
  solid.arc = water.arc;
  if (level <= invert + 5e-4) return solid;
  const scene::Vec2 axis = scene::centre_at(scene, z0);
  const double radius = scene::radius_at(scene, z0), below = axis.y - level;
  const double half = std::sqrt(std::max(1e-8, radius * radius - below * below));
  base::Random random(base::mix(seed64 + 31U));
  const auto seed = static_cast<std::uint32_t>(seed64);
  const double reach = std::min(0.85 * half, 0.36 * radius);
  const double x0 = std::clamp(radius * scene::toward_clock(water.arc.from_h).x, reach - half, half - reach);
  const double way = random.uniform() < 0.5 ? -1 : 1, start = random.uniform(0, 2 * std::numbers::pi);
  constexpr int arms = 3, rows = 60, columns = 7;
  for (int arm = 0; arm < arms; ++arm) {
    SolidPart part{Stuff::foam, 0, rows, columns, false, {}};
    const double first = start + arm * 2 * std::numbers::pi / arms, most = random.uniform(0.7, 1.0) * reach;
    for (int r = 0; r < rows; ++r)
      for (int c = 0; c < columns; ++c) {
        // Wound in towards the place, drawn out along the stream, in flecks.
        const double t = static_cast<double>(r) / (rows - 1), turn = first + way * 4.2 * t;
        const double away = most * (1 - 0.88 * t);
        const double fleck =
            std::max(0.0, 0.55 + 1.2 * static_cast<double>(noise(static_cast<float>(9 * t),
                                                                 static_cast<float>(arm), 0.5F, seed)));
        const double wide = 0.10 * reach * fleck * std::sin(std::numbers::pi * std::min(1.0, 1.3 * t));
        const double off = away + wide * (2.0 * c / (columns - 1) - 1);
        const double x = x0 + off * std::cos(turn), z = z0 + 1.7 * off * std::sin(turn);
        const double here = std::max(scene::level_at(scene.water, std::clamp(z, 0.0, scene.length_m())),
                                     scene::invert_at(scene, z) + 2e-4);
        const scene::Vec3 p{scene::centre_at(scene, z).x + x, here + 0.0006, z};
        part.points.push_back({p, p});
      }
    solid.parts.push_back(std::move(part));
  }
  // Drawn towards the place the surface wrinkles.
  constexpr int along = 44, across = 25;
  SolidPart skin{Stuff::wet, 0, along, across, false, {}};
  for (int r = 0; r < along; ++r) {
    const double z =
        std::clamp(water.at_m - scene::dips_before_m * (1 - static_cast<double>(r) / (along - 1)), 0.0,
                   scene.length_m());
    const double here = std::max(scene::level_at(scene.water, z), scene::invert_at(scene, z) + 2e-4);
    const double down = scene::centre_at(scene, z).y - here;
    const double wide = 0.97 * std::sqrt(std::max(1e-8, radius * radius - down * down));
    for (int c = 0; c < across; ++c) {
      const double s = 2.0 * c / (across - 1) - 1, x = s * wide;
      const double dx = x - x0, dz = (z - water.at_m) / 1.8, off = std::hypot(dx, dz);
      const double wave =
          std::sin(off / 0.0030 + 2.5 * std::atan2(dz, dx) +
                   3 * static_cast<double>(noise(static_cast<float>(x / 0.02), static_cast<float>(z / 0.02),
                                                 0.2F, seed + 9U)));
      const double edge = r == 0 || c == 0 || c == across - 1 ? -0.0008 : 0.0003;
      const scene::Vec3 p{scene::centre_at(scene, z).x + x,
                          here + edge + 0.0009 * wave * std::exp(-off / 0.05), z};
      skin.points.push_back({p, p});
    }
  }
  solid.parts.push_back(std::move(skin));
  return solid;
}

}  // namespace haunch::matter
