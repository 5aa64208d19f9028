// SPDX-License-Identifier: Apache-2.0
#include "scene/bore.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haunch::scene {
namespace {

constexpr double pi = std::numbers::pi;
constexpr int strips = 512;  // of what has no closed form: area and wall of a part-full section

double leg(double hypotenuse, double other) {
  return std::sqrt(std::max(0.0, hypotenuse * hypotenuse - other * other));
}

/// From a place, along a unit direction, out through a circle about `centre`.
double out_of_circle(Vec2 direction, Vec2 centre, double radius) {
  const double along = dot(direction, centre);
  return along + std::sqrt(std::max(0.0, along * along - dot(centre, centre) + radius * radius));
}

/// Half the clear width at a height over the middle.
double half_width_at(const Bore& bore, double y) {
  if (bore.form == BoreForm::oval) {
    const double up = y / bore.half_height_m;
    return bore.half_width_m * std::sqrt(std::max(0.0, 1 - up * up));
  }
  if (bore.form == BoreForm::box) return bore.half_width_m;
  if (bore.form == BoreForm::egg) {
    const EggArcs egg = egg_arcs(bore);
    if (y >= egg.spring_m) return leg(egg.crown_radius_m, y - egg.spring_m);
    if (y >= -egg.invert_from_m) return leg(egg.side_radius_m, y - egg.spring_m) - egg.side_m;
    return leg(egg.invert_radius_m, y + egg.invert_m);
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
    (perimeter_m({middle, small}) < 2 * pi * radius_m ? low : high) = middle;
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

EggArcs egg_arcs(const Bore& bore) {
  const double r = bore.half_width_m;
  return {0.5 * r, 2 * r, r, 1.3 * r, r, 3 * r, 0.5 * r};
}

double radius_toward(const Bore& bore, Vec2 direction) {
  if (bore.round()) return bore.half_height_m;
  const double x = std::abs(direction.x), y = std::abs(direction.y);
  if (bore.form == BoreForm::box) {
    const double across = x > 0 ? bore.half_width_m / x : 1e9, up = y > 0 ? bore.half_height_m / y : 1e9;
    return std::min(across, up);
  }
  if (bore.form == BoreForm::egg) {
    const EggArcs egg = egg_arcs(bore);
    const Vec2 out{x, direction.y};
    const double crown = out_of_circle(out, {0, egg.spring_m}, egg.crown_radius_m);
    if (crown * out.y >= egg.spring_m) return crown;
    const double side = out_of_circle(out, {-egg.side_m, egg.spring_m}, egg.side_radius_m);
    if (side * out.y >= -egg.invert_from_m) return side;
    return out_of_circle(out, {0, -egg.invert_m}, egg.invert_radius_m);
  }
  if (bore.form == BoreForm::oval) {
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
  if (bore.form == BoreForm::box) return bore.half_height_m;
  if (bore.form == BoreForm::egg) {
    const EggArcs egg = egg_arcs(bore);
    return egg.spring_m + leg(egg.crown_radius_m, x);
  }
  if (bore.form == BoreForm::oval) return bore.half_height_m * std::sqrt(1 - x / most * (x / most));
  const double shift = quarter_shift_m(bore), r = quarter_radius_m(bore), out = x - shift;
  return std::sqrt(std::max(0.0, r * r - out * out)) - shift;
}

double depth_below(const Bore& bore, double x_m) {
  if (bore.form != BoreForm::egg) return height_above(bore, x_m);
  const EggArcs egg = egg_arcs(bore);
  const double x = std::min(std::abs(x_m), bore.half_width_m);
  // Where the invert's arc ends, both agree.
  if (x <= half_width_at(bore, -egg.invert_from_m)) return egg.invert_m + leg(egg.invert_radius_m, x);
  return leg(egg.side_radius_m, x + egg.side_m) - egg.spring_m;
}

double mean_radius_m(const Bore& bore) {
  if (bore.form == BoreForm::oval) return std::sqrt(bore.half_width_m * bore.half_height_m);
  return std::sqrt(area_m2(bore, 2 * bore.half_height_m) / pi);
}

double width_m(const Bore& bore, double depth_m) {
  const double depth = std::clamp(depth_m, 0.0, 2 * bore.half_height_m);
  return 2 * half_width_at(bore, depth - bore.half_height_m);
}

double area_m2(const Bore& bore, double depth_m) {
  const double turn = turn_of(bore, depth_m);
  if (bore.form == BoreForm::oval)
    return bore.half_width_m * bore.half_height_m * (turn - std::sin(2 * turn) / 2);
  if (bore.form == BoreForm::box)
    return 2 * bore.half_width_m * std::clamp(depth_m, 0.0, 2 * bore.half_height_m);
  double area = 0;
  walk_wall(bore, std::min(depth_m, 2 * bore.half_height_m) - bore.half_height_m,
            [&](Vec2 a, Vec2 b) { area += (a.x + b.x) * (b.y - a.y); });
  return std::max(0.0, area);
}

double wetted_m(const Bore& bore, double depth_m) {
  if (bore.round()) return 2 * bore.half_height_m * turn_of(bore, depth_m);
  if (bore.form == BoreForm::box) {
    const double depth = std::clamp(depth_m, 0.0, 2 * bore.half_height_m);
    const double lid = depth < 2 * bore.half_height_m ? 0 : 2 * bore.half_width_m;
    return depth > 0 ? 2 * bore.half_width_m + 2 * depth + lid : 0;
  }
  double wall = 0;
  walk_wall(bore, std::min(depth_m, 2 * bore.half_height_m) - bore.half_height_m,
            [&](Vec2 a, Vec2 b) { wall += 2 * length(b - a); });
  return wall;
}

}  // namespace haunch::scene
