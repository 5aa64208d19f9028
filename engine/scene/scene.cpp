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

Bore bore_at(const Piece& piece, double z_m) {
  const double length = piece.to_m - piece.from_m;
  const double share = length > 0 ? std::clamp((z_m - piece.from_m) / length, 0.0, 1.0) : 0.0;
  const Bore &a = piece.from_bore, &b = piece.to_bore;
  return {a.half_width_m + share * (b.half_width_m - a.half_width_m),
          a.half_height_m + share * (b.half_height_m - a.half_height_m),
          a.form == BoreForm::oval ? b.form : a.form};
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

Bore bore_at(const Scene& scene, double z_m) { return bore_at(at(scene, z_m), z_m); }

double radius_at(const Scene& scene, double z_m) { return at(scene, z_m).radius_m; }

double invert_at(const Scene& scene, double z_m) {
  return centre_at(scene, z_m).y - bore_at(scene, z_m).half_height_m;
}
double crown_at(const Scene& scene, double z_m) {
  return centre_at(scene, z_m).y + bore_at(scene, z_m).half_height_m;
}

Vec3 wall_point(const Scene& scene, double z_m, double clock_h) {
  const Vec2 toward = toward_clock(clock_h);
  const Vec2 point = centre_at(scene, z_m) + radius_toward(bore_at(scene, z_m), toward) * toward;
  return {point.x, point.y, std::clamp(z_m, 0.0, scene.length_m())};
}

Vec2 pressed(const Scene& scene, double z_m, Vec2 place) {
  const Bore bore = bore_at(scene, z_m);
  const double away = length(place);
  if (bore.round() || away == 0) return place;
  return radius_toward(bore, 1 / away * place) / radius_at(scene, z_m) * place;
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
