// SPDX-License-Identifier: Apache-2.0
#include "measure/pipe.hpp"

#include <algorithm>
#include <cmath>

namespace haunch::measure {
namespace {

using scene::Vec2;
using scene::Vec3;

constexpr double no_slack_m = 1e-9;

/// How far outside a piece's section a point on the ray lies; only the sign matters.
double outside(const scene::Piece& piece, const Ray& ray, double t) {
  const Vec3 p = ray.from + t * ray.way;
  const Vec2 c = scene::centre_at(piece, p.z);
  const Vec2 off{p.x - c.x, p.y - c.y};
  const double away = scene::length(off);
  if (away == 0) return -1;
  return away - scene::radius_toward(scene::bore_at(piece, p.z), 1 / away * off);
}

/// Where the ray leaves a round piece: the sheared cylinder in coordinates that follow its line.
double leaves_round(const scene::Piece& piece, const Ray& ray) {
  const double long_m = piece.to_m - piece.from_m;
  const Vec2 slope = 1 / long_m * (piece.to_centre - piece.from_centre);
  const double along = ray.from.z - piece.from_m;
  const double qx = ray.from.x - piece.from_centre.x - slope.x * along,
               qy = ray.from.y - piece.from_centre.y - slope.y * along;
  const double ex = ray.way.x - slope.x * ray.way.z, ey = ray.way.y - slope.y * ray.way.z;
  const double a = ex * ex + ey * ey, b = qx * ex + qy * ey,
               c = qx * qx + qy * qy - piece.radius_m * piece.radius_m;
  if (a < 1e-16) return 1e9;
  return (-b + std::sqrt(std::max(0.0, b * b - a * c))) / a;
}

/// The same of a pressed one between two distances, the first inside: its sections are convex enough that a
/// ray leaves once.
double leaves_pressed(const scene::Piece& piece, const Ray& ray, double from, double to) {
  double low = from, high = from;
  constexpr double step_m = 0.004;
  while (high < to && outside(piece, ray, high) < 0) low = high, high = std::min(high + step_m, to);
  if (outside(piece, ray, high) < 0) return 1e9;
  for (int i = 0; i < 48; ++i) {
    const double middle = (low + high) / 2;
    (outside(piece, ray, middle) < 0 ? low : high) = middle;
  }
  return (low + high) / 2;
}

WallPlace place(const scene::Piece& piece, const Ray& ray, double t, bool end_of) {
  const Vec3 p = ray.from + t * ray.way;
  const Vec2 c = scene::centre_at(piece, p.z);
  return {t, p.z, std::atan2(p.x - c.x, p.y - c.y), end_of};
}

}  // namespace

std::optional<WallPlace> meet_wall(const scene::Scene& scene, const Ray& ray) {
  const int way = ray.way.z >= 0 ? 1 : -1;
  double t_in = 0;
  const int first = scene::piece_at(scene, ray.from.z);
  for (int k = first; k >= 0 && k < static_cast<int>(scene.pieces.size()); k += way) {
    const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(k)];
    if (k != first) {
      const double plane = way > 0 ? piece.from_m : piece.to_m;
      t_in = (plane - ray.from.z) / ray.way.z;
      if (outside(piece, ray, t_in) > no_slack_m) return place(piece, ray, t_in, true);
    }
    const double end = way > 0 ? piece.to_m : piece.from_m;
    const double t_end = std::abs(ray.way.z) > 1e-12 ? (end - ray.from.z) / ray.way.z : 1e9;
    const double t = piece.round() ? leaves_round(piece, ray)
                                   : leaves_pressed(piece, ray, t_in, std::min(t_end, t_in + 40));
    if (t <= t_end) return place(piece, ray, std::max(t, t_in), false);
  }
  return std::nullopt;
}

Round round_of(const scene::Scene& scene, Vec3 point) {
  const Vec2 c = scene::centre_at(scene, point.z);
  return {point.z, std::atan2(point.x - c.x, point.y - c.y), std::hypot(point.x - c.x, point.y - c.y)};
}

}  // namespace haunch::measure
