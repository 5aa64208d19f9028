// SPDX-License-Identifier: Apache-2.0
// Which bricks of a wall a fault has taken, for whoever draws it and for the truth.
#pragma once

#include <vector>

#include "base/clock.hpp"
#include "matter/solid.hpp"
#include "scene/brickwork.hpp"

namespace haunch::matter {

struct BrickArea {
  std::vector<scene::Brick> bricks;
  double bore_mm = 0;
  double from_m = 0, to_m = 0;  ///< from the first of them to the last, half a joint about each
  double from_angle = 0;        ///< of its first edge, radians clockwise from the crown
  double span = 0;              ///< radians
  base::ClockArc arc;           ///< the same as hours
  double radius_m() const { return bore_mm / 2000; }
  bool holds(const scene::Brick& brick) const;
};
BrickArea bricks_of(const scene::Scene& scene, const scene::BrickDamage& damage);
/// Metres on the wall to the edge of the nearest of them; negative within.
double edge_distance_m(const BrickArea& area, double z_m, double angle);
/// Metres on the wall to the middle of the nearest joint between bricks.
double joint_distance_m(double bore_mm, double z_m, double angle);
/// How far the invert has dropped at a place along it: least at its two ends.
double dropped_m(const BrickArea& area, const scene::BrickDamage& damage, double z_m);

/// The bricks that stand out of place, or the heap that has come down; nothing for the other forms.
Solid brick_solid(const scene::Scene& scene, const scene::BrickDamage& damage, std::uint64_t seed);

}  // namespace haunch::matter
