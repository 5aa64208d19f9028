// SPDX-License-Identifier: Apache-2.0
// Questions a finished scene answers.
#include "scene/scene.hpp"

#include <algorithm>
#include <cassert>

namespace haunch::scene {

Vec2 centre_at(const Piece& piece, double z_m) {
  const double length = piece.to_m - piece.from_m;
  const double share = length > 0 ? (z_m - piece.from_m) / length : 0.0;
  return piece.from_centre + share * (piece.to_centre - piece.from_centre);
}

int piece_at(const Scene& scene, double z_m) {
  assert(!scene.pieces.empty());
  const auto after = std::upper_bound(scene.pieces.begin(), scene.pieces.end(), z_m,
                                      [](double z, const Piece& piece) { return z < piece.from_m; });
  return static_cast<int>(std::max<std::ptrdiff_t>(0, after - scene.pieces.begin() - 1));
}

namespace {

const Piece& at(const Scene& scene, double z_m) {
  return scene.pieces[static_cast<std::size_t>(piece_at(scene, z_m))];
}

}  // namespace

Vec2 centre_at(const Scene& scene, double z_m) {
  const double z = std::clamp(z_m, 0.0, scene.length_m());
  return centre_at(at(scene, z), z);
}

double radius_at(const Scene& scene, double z_m) { return at(scene, z_m).radius_m; }

double invert_at(const Scene& scene, double z_m) { return centre_at(scene, z_m).y - radius_at(scene, z_m); }

Vec3 wall_point(const Scene& scene, double z_m, double clock_h) {
  const Vec2 point = centre_at(scene, z_m) + radius_at(scene, z_m) * toward_clock(clock_h);
  return {point.x, point.y, std::clamp(z_m, 0.0, scene.length_m())};
}

double distance_of(const Scenario& scenario, double z_m) {
  const Inspection& inspection = scenario.inspection;
  const double from_zero = inspection.distance_zero == End::start ? z_m : scenario.length_m - z_m;
  return from_zero + inspection.zero_before_m;
}

double chainage_of(const Scenario& scenario, double distance_m) {
  const Inspection& inspection = scenario.inspection;
  const double from_zero = distance_m - inspection.zero_before_m;
  return inspection.distance_zero == End::start ? from_zero : scenario.length_m - from_zero;
}

int travel(const Scenario& scenario) { return scenario.inspection.from == End::start ? 1 : -1; }

}  // namespace haunch::scene
