// SPDX-License-Identifier: Apache-2.0
#include "scene/bore.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haunch::scene {
namespace {

constexpr double pi = std::numbers::pi;
constexpr int strips = 512;  // of what has no closed form: area and wall of a part-full section

/// Half the clear width at a height over the middle.
double half_width_at(const Bore& bore, double y) {
  if (!bore.hinged) {
    const double up = y / bore.half_height_m;
    return bore.half_width_m * std::sqrt(std::max(0.0, 1 - up * up));
  }
  // Beside a hinge that stands in, the quarters reach a little past it.
  const double shift = quarter_shift_m(bore), r = quarter_radius_m(bore), up = std::abs(y) + shift;
  const double wide = std::sqrt(std::max(0.0, r * r - up * up));
  return std::max(0.0, shift + wide - std::max(0.0, shift - wide));
}

/// The wall's right half in short straight pieces, from the invert up to a height over the middle.
template <class Each>
void walk_wall(const Bore& bore, double level, Each each) {
  Vec2 last{0, -bore.half_height_m};
  for (int i = 1; i <= strips; ++i) {
    const double turn = pi * i / strips;
    const Vec2 out{std::sin(turn), -std::cos(turn)};
    Vec2 from = last, to = radius_toward(bore, out) * out;
    last = to;
    if (from.y > level && to.y > level) continue;
    const double share = (level - from.y) / (to.y - from.y);
    const Vec2 meets = from + share * (to - from);
    if (to.y > level) to = meets;
    if (from.y > level) from = meets;
    each(from, to);
  }
}

double turn_of(const Bore& bore, double depth_m) {
  return std::acos(1 - std::clamp(depth_m / bore.half_height_m, 0.0, 2.0));
}

}  // namespace

double perimeter_m(const Bore& bore) {
  const double a = bore.half_width_m, b = bore.half_height_m;
  const double h = (a - b) * (a - b) / ((a + b) * (a + b));
  return pi * (a + b) * (1 + 3 * h / (10 + std::sqrt(4 - 3 * h)));
}

double other_half_axis_m(double radius_m, double shortened_by) {
  if (shortened_by == 0) return radius_m;
  const double small = radius_m * (1 - shortened_by);
  double low = radius_m, high = pi / 2 * radius_m;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (perimeter_m({middle, small, false}) < 2 * pi * radius_m ? low : high) = middle;
  }
  return (low + high) / 2;
}

double other_hinged_half_m(double radius_m, double shortened_by) {
  const double small = radius_m * (1 - shortened_by);
  return std::sqrt(2 * radius_m * radius_m - small * small);
}

double hinge_turn(const Bore& bore) {
  return std::abs(std::atan2(bore.half_height_m, bore.half_width_m) - pi / 4);
}

double quarter_shift_m(const Bore& bore) { return (bore.half_width_m - bore.half_height_m) / 2; }

double quarter_radius_m(const Bore& bore) {
  return std::sqrt((bore.half_width_m * bore.half_width_m + bore.half_height_m * bore.half_height_m) / 2);
}

double radius_toward(const Bore& bore, Vec2 direction) {
  if (bore.half_width_m == bore.half_height_m) return bore.half_height_m;
  const double x = std::abs(direction.x), y = std::abs(direction.y);
  if (!bore.hinged) {
    const double u = x / bore.half_width_m, v = y / bore.half_height_m;
    return 1 / std::sqrt(u * u + v * v);
  }
  const double shift = quarter_shift_m(bore), r = quarter_radius_m(bore), along = shift * (x - y);
  return along + std::sqrt(std::max(0.0, along * along - 2 * shift * shift + r * r));
}

bool inside(const Bore& bore, Vec2 place, double slack_m) {
  const double away = length(place);
  return away == 0 || away <= radius_toward(bore, 1 / away * place) + slack_m;
}

double height_above(const Bore& bore, double x_m) {
  const double most = bore.half_width_m, x = std::abs(x_m);
  if (x >= most) return 0;
  if (!bore.hinged) return bore.half_height_m * std::sqrt(1 - x / most * (x / most));
  const double shift = quarter_shift_m(bore), r = quarter_radius_m(bore), out = x - shift;
  return std::sqrt(std::max(0.0, r * r - out * out)) - shift;
}

double mean_radius_m(const Bore& bore) {
  if (!bore.hinged) return std::sqrt(bore.half_width_m * bore.half_height_m);
  return std::sqrt(area_m2(bore, 2 * bore.half_height_m) / pi);
}

double width_m(const Bore& bore, double depth_m) {
  const double depth = std::clamp(depth_m, 0.0, 2 * bore.half_height_m);
  return 2 * half_width_at(bore, depth - bore.half_height_m);
}

double area_m2(const Bore& bore, double depth_m) {
  const double turn = turn_of(bore, depth_m);
  if (!bore.hinged) return bore.half_width_m * bore.half_height_m * (turn - std::sin(2 * turn) / 2);
  double area = 0;
  walk_wall(bore, std::min(depth_m, 2 * bore.half_height_m) - bore.half_height_m,
            [&](Vec2 a, Vec2 b) { area += (a.x + b.x) * (b.y - a.y); });
  return std::max(0.0, area);
}

double wetted_m(const Bore& bore, double depth_m) {
  if (bore.half_width_m == bore.half_height_m) return 2 * bore.half_height_m * turn_of(bore, depth_m);
  double wall = 0;
  walk_wall(bore, std::min(depth_m, 2 * bore.half_height_m) - bore.half_height_m,
            [&](Vec2 a, Vec2 b) { wall += 2 * length(b - a); });
  return wall;
}

}  // namespace haunch::scene
