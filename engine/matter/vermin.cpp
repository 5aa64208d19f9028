// SPDX-License-Identifier: Apache-2.0
// Animals in a drain. Sizes: a brown rat's body 0.16 to 0.24 m, a cockroach 28 to 40 mm, from memory; in
// narrow pipes younger, smaller ones.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {
namespace {

using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

double shaped(double t, std::initializer_list<scene::Vec2> knots) {
  const scene::Vec2* last = knots.begin();
  for (const scene::Vec2& k : knots) {
    if (t <= k.x) {
      const double u = k.x > last->x ? (t - last->x) / (k.x - last->x) : 1;
      return last->y + (k.y - last->y) * u * u * (3 - 2 * u);
    }
    last = &k;
  }
  return last->y;
}

/// Its nose at +z, feet at y = 0, before it is put in place.
Solid rat(double long_m, std::uint32_t seed, base::Random& random) {
  const double bend = random.uniform(-0.25, 0.25), hunch = random.uniform(0.9, 1.2);
  const double half = long_m / 2;
  std::vector<Vec3> spine;
  for (int i = 0; i <= 60; ++i) {
    const double t = i / 60.0, z = long_m * (t - 0.5);
    const double up =
        long_m * shaped(t, {{0, 0.11}, {0.28, 0.19 * hunch}, {0.55, 0.19}, {0.75, 0.19}, {1, 0.12}});
    spine.push_back({bend * z * z / half, up, z});
  }
  Solid all = rod(
      spine,
      [&](double t) {
        return long_m * shaped(t, {{0, 0.05},
                                   {0.12, 0.13},
                                   {0.32, 0.185 * hunch},
                                   {0.55, 0.15},
                                   {0.70, 0.105},
                                   {0.82, 0.095},
                                   {0.93, 0.055},
                                   {1, 0.022}});
      },
      44, {0.0022, 0.007, seed}, Stuff::fur, seed % 3);
  // Ears, eyes, legs and the bare tail.
  const Vec3 head = spine[48];
  for (const double side : {-1.0, 1.0}) {
    Solid ear = pebble({0.030 * long_m, 0.045 * long_m, 0.012 * long_m}, seed + 3U, false, Stuff::rubber, 2);
    move(ear, turned(0.35 * side, -0.3, 0), head + long_m * Vec3{0.070 * side, 0.105, -0.03});
    add(all, std::move(ear));
    Solid eye = pebble({0.011 * long_m, 0.011 * long_m, 0.011 * long_m}, seed + 4U, false, Stuff::eye, 0);
    move(eye, {}, spine[53] + long_m * Vec3{0.062 * side, 0.035, 0});
    add(all, std::move(eye));
    for (const int at : {14, 42}) {
      const Vec3 hip = spine[static_cast<std::size_t>(at)] + long_m * Vec3{0.09 * side, -0.06, 0};
      const Vec3 foot{hip.x + 0.035 * side * long_m, 0.01 * long_m,
                      hip.z + random.uniform(-0.04, 0.08) * long_m};
      add(all, rod(
                   smooth_line({hip, 0.5 * (hip + foot) + Vec3{0.02 * side * long_m, 0, -0.02 * long_m}, foot,
                                foot + Vec3{0, 0, 0.06 * long_m}},
                               18),
                   [&](double t) { return long_m * (0.045 - 0.030 * t); }, 14, {0.001, 0.006, seed},
                   Stuff::fur, seed % 3));
    }
  }
  const double sway = random.uniform(-0.5, 0.5);
  add(all, rod(
               smooth_line({spine.front(),
                            {spine.front().x + 0.1 * sway * long_m, 0.03 * long_m, -0.75 * long_m},
                            {spine.front().x + 0.5 * sway * long_m, 0.015 * long_m, -1.05 * long_m},
                            {spine.front().x, 0.015 * long_m, -1.35 * long_m}},
                           50),
               [&](double t) { return long_m * (0.024 - 0.017 * t); }, 12, {0.0002, 0.004, seed},
               Stuff::rubber, 2));
  return all;
}

/// Its head at +z, lying on the plane y = 0.
Solid cockroach(double long_m, std::uint32_t seed, base::Random& random) {
  std::vector<Vec3> line;
  for (int i = 0; i <= 40; ++i) line.push_back({0, 0.11 * long_m, long_m * (i / 40.0 - 0.5)});
  Solid all = rod(
      line,
      [&](double t) {
        return long_m * shaped(t, {{0, 0.05},
                                   {0.15, 0.15},
                                   {0.5, 0.19},
                                   {0.74, 0.17},
                                   {0.78, 0.155},
                                   {0.9, 0.15},
                                   {0.96, 0.09},
                                   {1, 0.05}});
      },
      32, {0.0003, 0.003, seed}, Stuff::shell, 0);
  for (SolidPart& part : all.parts)
    for (SolidPoint& p : part.points) p.at.y = 0.06 * long_m + 0.42 * (p.at.y - 0.06 * long_m);
  for (const double side : {-1.0, 1.0}) {
    for (int leg = 0; leg < 3; ++leg) {
      const double z = long_m * (0.22 - 0.17 * leg), back = long_m * (leg == 0   ? 0.25
                                                                      : leg == 1 ? -0.1
                                                                                 : -0.42) +
                                                            random.uniform(-0.06, 0.06) * long_m;
      add(all, rod(
                   smooth_line({{0.1 * side * long_m, 0.06 * long_m, z},
                                {0.32 * side * long_m, 0.13 * long_m, z + 0.4 * back},
                                {0.5 * side * long_m, 0.0, z + back}},
                               16),
                   [&](double t) { return long_m * (0.024 - 0.014 * t); }, 8, {}, Stuff::shell, 1));
    }
    add(all, rod(
                 smooth_line({{0.04 * side * long_m, 0.08 * long_m, 0.48 * long_m},
                              {0.25 * side * long_m, 0.14 * long_m, 0.85 * long_m},
                              {0.45 * side * long_m + random.uniform(-0.1, 0.1) * long_m, 0.1 * long_m,
                               1.25 * long_m}},
                             20),
                 [&](double t) { return long_m * (0.012 - 0.007 * t); }, 6, {}, Stuff::shell, 1));
  }
  return all;
}

}  // namespace

Solid vermin_solid(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed64) {
  const double radius = scene::radius_at(scene, vermin.at_m);
  const auto seed = static_cast<std::uint32_t>(seed64);
  base::Random random(seed64 ^ 0x7eU);
  Solid all;
  Heap heap(radius);
  const int count = static_cast<int>(vermin.count);
  for (int i = 0; i < count; ++i) {
    const auto seed_i = seed + 61U * static_cast<std::uint32_t>(i);
    const double turn = random.uniform() < 0.5 ? 0 : tau / 2;
    if (vermin.kind == scene::VerminKind::rat) {
      const double long_m = std::min(random.uniform(0.16, 0.24), 2.3 * radius);
      Solid one = rat(long_m, seed_i, random);
      move(one, turned(0, 0, turn + random.uniform(-0.3, 0.3)),
           {random.uniform(-0.25, 0.25) * radius, 0,
            0.34 * (i - 0.5 * (count - 1)) + random.uniform(-0.04, 0.04)});
      heap.let_down(one, 0.004);
      add(all, std::move(one));
    } else {
      const double long_m = random.uniform(0.028, 0.040);
      Solid one = cockroach(long_m, seed_i, random);
      // Anywhere on the wall above the water, any way round.
      const double hour = random.uniform(-4.2, 4.2), z = random.uniform(-0.16, 0.16),
                   way = random.uniform(0, tau);
      move(one, turned(0, 0, way), {});
      const Vec3 place = on_wall(radius, hour, 0, z);
      const Turn stand = along_y({-place.x, -place.y, 0}, {0, 0, 1});
      move(one, stand, place);
      // Legs follow the wall's curve.
      for (SolidPart& part : one.parts)
        for (SolidPoint& p : part.points) {
          const double away = std::hypot(p.at.x, p.at.y);
          if (away > radius) p.at.x *= radius / away, p.at.y *= radius / away;
        }
      add(all, std::move(one));
    }
  }
  all.arc = {12, 12, true};
  return into_scene(scene, vermin.at_m, std::move(all));
}

}  // namespace haunch::matter
