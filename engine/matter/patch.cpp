// SPDX-License-Identifier: Apache-2.0
#include "matter/patch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "matter/noise.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double mortar_beside_m = 0.007;  // smeared on the wall beside the line of a joint; ours

/// Metres into a box with round corners, negative outside.
double into_box(double x, double y, double half_x, double half_y, double round) {
  const double dx = std::abs(x) - half_x + round, dy = std::abs(y) - half_y + round;
  const double out = std::sqrt(std::max(dx, 0.0) * std::max(dx, 0.0) + std::max(dy, 0.0) * std::max(dy, 0.0));
  return round - out - std::min(std::max(dx, dy), 0.0);
}

}  // namespace

PatchArea patch_area(const scene::Scene& scene, double from_m, double to_m, const base::ClockArc& arc,
                     std::uint64_t seed) {
  PatchArea area;
  area.from_m = std::max(from_m, 0.0);
  area.length_m = std::min(to_m, scene.length_m()) - area.from_m;
  area.radius_m = scene::radius_at(scene, (from_m + to_m) / 2);
  area.whole = arc.whole;
  area.from_angle = arc.whole ? 0 : base::degrees_from_crown(arc.from_h) * tau / 360;
  area.round_m = (arc.whole ? 12.0 : base::arc_width_h(arc)) * tau / 12 * area.radius_m;
  const double least = area.whole ? area.length_m : std::min(area.length_m, area.round_m);
  area.ragged_m = std::min(0.016, 0.22 * least);
  area.seed = static_cast<std::uint32_t>(seed ^ (seed >> 32U));
  return area;
}

PatchArea damaged_area(const scene::Scene& scene, const scene::SurfaceDamage& damage, std::uint64_t seed) {
  return patch_area(scene, damage.from_m, damage.to_m, damage.arc, seed);
}

PatchArea mortar_area(const scene::Scene& scene, const scene::MissingMortar& mortar, std::uint64_t seed) {
  if (mortar.length_m > 0)
    return patch_area(scene, mortar.at_m - mortar.length_m / 2, mortar.at_m + mortar.length_m / 2, mortar.arc,
                      seed);
  const scene::Joint* near = nullptr;
  for (const scene::Joint& joint : scene.joints)
    if (!near || std::abs(joint.at_m - mortar.at_m) < std::abs(near->at_m - mortar.at_m)) near = &joint;
  const double at = near ? near->at_m : mortar.at_m, gap = near ? near->gap_m : 0.006;
  const double half = gap / 2 + mortar_beside_m;
  PatchArea area = patch_area(scene, at - half, at + half, mortar.arc, seed);
  // It breaks away to the wall's edge at most places, with teeth left standing.
  area.ragged_m = mortar_beside_m;
  return area;
}

double inside_m(const PatchArea& area, double along_m, double round_m) {
  const double x = along_m - area.length_m / 2, y = round_m - area.round_m / 2;
  const double half_x = area.length_m / 2, half_y = area.round_m / 2;
  const double into = area.whole ? half_x - std::abs(x)
                                 : into_box(x, y, half_x, half_y, 0.75 * std::min({half_x, half_y, 0.08}));
  if (into > 4 * area.ragged_m + 0.02) return into;
  // Noise on the ring itself, so that the whole way round meets its own start.
  const double turn = area.from_angle + round_m / area.radius_m;
  const auto at = [&](double size, std::uint32_t more) {
    return static_cast<double>(noise(static_cast<float>(area.radius_m * std::sin(turn) / size),
                                     static_cast<float>(area.radius_m * std::cos(turn) / size),
                                     static_cast<float>((area.from_m + along_m) / size), area.seed + more));
  };
  const double size = std::max(0.012, 2.2 * area.ragged_m);
  const double torn = 0.62 * at(size, 11U) + 0.30 * at(0.42 * size, 12U) + 0.16 * at(0.17 * size, 13U);
  return into - area.ragged_m * std::clamp(0.5 + 1.2 * torn, 0.0, 1.0);
}

}  // namespace haunch::matter
