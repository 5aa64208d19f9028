// SPDX-License-Identifier: Apache-2.0
#include "matter/openings.hpp"
#include "matter/squashed.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid.hpp"

namespace haunch::matter {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double far_m = 1e3;

double half_length_of(const WallOutline& outline) {
  double half = 0;
  for (const scene::Vec2& corner : outline.corners) half = std::max(half, std::abs(corner.x));
  return half;
}

Opening opening_of(const scene::Hole& hole, double radius, std::uint64_t seed) {
  Opening opening;
  opening.outline = hole_outline(hole, radius, seed);
  opening.z_m = opening.outline.z_m;
  opening.angle = opening.outline.angle;
  opening.half_length_m = half_length_of(opening.outline);
  return opening;
}

Opening opening_of(const scene::Connection& connection, double radius, std::uint64_t seed) {
  Opening opening;
  opening.is_branch = true;
  opening.branch = branch_shape(connection, radius, seed);
  opening.outline = opening.branch.broken_edge;
  opening.z_m = opening.branch.z_m;
  opening.angle = opening.branch.angle;
  // What sticks to the wall stops at the outside of a pipe that stands in.
  if (opening.branch.reach_in_m > 0) opening.branch.bore_radius_m += opening.branch.wall_m;
  opening.half_length_m = std::max(opening.branch.bore_radius_m, half_length_of(opening.outline));
  return opening;
}

}  // namespace

std::vector<Opening> openings_in(const scene::Scene& scene, const scene::Stretch& stretch) {
  std::vector<Opening> openings;
  int number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    const std::uint64_t seed = fault_seed(scene.scenario, ++number);
    const double radius = radius_at(scene, stretch_of(fault).from_m);
    if (const auto* hole = std::get_if<scene::Hole>(&fault.kind))
      openings.push_back(opening_of(*hole, wall_radius_m(scene, hole->at_m, hole->clock_h), seed));
    else if (const auto* broken = std::get_if<scene::BrokenWall>(&fault.kind))
      openings.push_back(opening_of(hole_of(*broken), radius_at(scene, broken->at_m), seed));
    else if (const auto* connection = std::get_if<scene::Connection>(&fault.kind))
      openings.push_back(opening_of(*connection, radius, seed));
  }
  std::erase_if(openings, [&](const Opening& o) {
    return o.z_m + o.half_length_m < stretch.from_m || o.z_m - o.half_length_m > stretch.to_m;
  });
  return openings;
}

double edge_distance_m(const Opening& opening, double radius, double z, double angle) {
  const double around = std::remainder(angle - opening.angle, tau), along = z - opening.z_m;
  double nearest = far_m;
  if (!opening.outline.corners.empty()) nearest = edge_distance_m(opening.outline, {along, around * radius});
  if (opening.is_branch && std::abs(around) < tau / 4)
    nearest = std::min(nearest,
                       length(scene::Vec2{along, radius * std::sin(around)}) - opening.branch.bore_radius_m);
  return nearest;
}

double displaced_m(const scene::Joint& joint) {
  if (joint.faults.empty()) return 0;
  return std::max(joint.open ? joint.gap_m : 0.0, length(joint.step));
}

}  // namespace haunch::matter
