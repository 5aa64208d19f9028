// SPDX-License-Identifier: Apache-2.0
// Animals in a drain. Sizes: a brown rat's body 0.16 to 0.24 m, a cockroach of drains 22 to 32 mm, from
// memory; in narrow pipes younger, smaller rats.
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/vermin_build.hpp"

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

/// What a body measures at a share of its length from the rump.
struct Girth {
  double half = 0, top = 0, bottom = 0;  ///< half its width; heights above what it stands on
};
/// A body along z, `bent_m` its middle line's place to the side at each share of the length.
Solid skin(double long_m, int rows, int around, const std::function<Girth(double)>& girth,
           const std::function<double(double)>& bent_m, const Rough& coat, Stuff stuff, std::uint32_t tint) {
  SolidPart part{stuff, tint, rows + 1, around, true, {}};
  for (int r = 0; r <= rows; ++r)
    for (int c = 0; c < around; ++c) {
      const double t = static_cast<double>(r) / rows, a = tau * c / around, z = long_m * (t - 0.5);
      const Girth g = girth(t);
      const double middle = (g.top + g.bottom) / 2, high = (g.top - g.bottom) / 2;
      const Vec3 own{long_m * g.half * std::sin(a), long_m * (middle + high * std::cos(a)), z};
      // Hair lies backwards, in clumps where it is wet.
      const double clump =
          coat.out_m * static_cast<double>(layered_noise(
                           static_cast<float>(own.x / coat.size_m), static_cast<float>(own.y / coat.size_m),
                           static_cast<float>(own.z / (3.5 * coat.size_m)), coat.seed, 3));
      part.points.push_back({{bent_m(t) + own.x + clump * std::sin(a), own.y + clump * std::cos(a), z}, own});
    }
  return {{std::move(part)}, {}};
}

}  // namespace

Solid rat(double long_m, std::uint32_t seed, base::Random& random) {
  const double bend = random.uniform(-0.16, 0.16), hunch = random.uniform(0.90, 1.12);
  const double looks = random.uniform(-0.10, 0.10);  // its head turned aside
  const std::uint32_t coat = seed % 3;
  const auto aside = [&](double t) {
    const double head = std::max(0.0, t - 0.62);
    return long_m * (bend * (2 * t - 1) * (2 * t - 1) + looks * 5 * head * head);
  };
  // A wedge of a head, a low back that rises to the haunches, the belly near the ground.
  const auto girth = [&](double t) {
    return Girth{
        shaped(t, {{0, 0.025},
                   {0.07, 0.095},
                   {0.22, 0.150 * hunch},
                   {0.42, 0.140},
                   {0.58, 0.112},
                   {0.68, 0.092},
                   {0.78, 0.088},
                   {0.87, 0.058},
                   {0.95, 0.030},
                   {1, 0.008}}),
        shaped(t, {{0, 0.10},
                   {0.08, 0.195},
                   {0.24, 0.285 * hunch},
                   {0.42, 0.275},
                   {0.58, 0.235},
                   {0.68, 0.205},
                   {0.78, 0.200},
                   {0.88, 0.155},
                   {0.96, 0.108},
                   {1, 0.085}}),
        shaped(
            t,
            {{0, 0.06}, {0.1, 0.022}, {0.3, 0.012}, {0.55, 0.018}, {0.68, 0.050}, {0.8, 0.065}, {1, 0.068}})};
  };
  Solid all = skin(long_m, 76, 56, girth, aside, {0.0026, 0.0032, seed}, Stuff::fur, coat);
  const auto on = [&](double t, double side, double up) {
    const Girth g = girth(t);
    return Vec3{aside(t) + long_m * g.half * side, long_m * (g.bottom + (g.top - g.bottom) * up),
                long_m * (t - 0.5)};
  };
  for (const double side : {-1.0, 1.0}) {
    // Round ears laid back, thin.
    Solid ear = pebble({0.029 * long_m, 0.031 * long_m, 0.008 * long_m}, seed + 3U, false, Stuff::skin, 0);
    move(ear, turned(0.55 * side, -0.35, 0.5 * side), on(0.735, 0.72 * side, 1.02));
    add(all, std::move(ear));
    Solid eye = pebble({0.010 * long_m, 0.010 * long_m, 0.010 * long_m}, seed + 4U, false, Stuff::eye, 0);
    move(eye, {}, on(0.855, 0.80 * side, 0.72));
    add(all, std::move(eye));
    // The haunch, the long hind foot and the small fore foot.
    Solid haunch =
        pebble({0.050 * long_m, 0.095 * long_m, 0.115 * long_m}, seed + 5U, false, Stuff::fur, coat);
    move(haunch, turned(0, 0.25, 0), on(0.22, 0.82 * side, 0.36));
    add(all, std::move(haunch));
    for (const bool hind : {true, false}) {
      const double t = (hind ? 0.24 : 0.63) + random.uniform(-0.02, 0.03);
      const Vec3 hip = on(t, 0.80 * side, 0.30),
                 foot{hip.x + 0.035 * side * long_m, 0.010 * long_m, hip.z + (hind ? 0.02 : 0.05) * long_m};
      if (!hind)
        add(all,
            rod(
                smooth_line({hip, 0.5 * (hip + foot) + Vec3{0.012 * side * long_m, 0, -0.012 * long_m}, foot},
                            14),
                [&](double u) { return long_m * (0.040 - 0.024 * u); }, 14, {0.0008, 0.004, seed}, Stuff::fur,
                coat));
      add(all, rod(
                   smooth_line(
                       {foot - Vec3{0, 0, (hind ? 0.06 : 0.01) * long_m}, foot,
                        foot + Vec3{0.012 * side * long_m, -0.003 * long_m, (hind ? 0.09 : 0.05) * long_m}},
                       10),
                   [&](double u) { return long_m * (0.015 - 0.004 * u); }, 10, {0.0003, 0.003, seed},
                   Stuff::skin, 0));
    }
    for (int hair = 0; hair < 4; ++hair) {
      const Vec3 root = on(0.955, 0.8 * side, 0.55);
      add(all,
          rod(
              smooth_line({root, root + long_m * Vec3{0.07 * side, 0.016 * (hair - 1.2), 0.012 * (hair - 2)},
                           root + long_m * Vec3{0.14 * side, 0.030 * (hair - 1.6), -0.01}},
                          8),
              [&](double u) { return 0.00028 * (1 - 0.7 * u); }, 5, {}, Stuff::paper, 0));
    }
  }
  Solid nose = pebble({0.010 * long_m, 0.008 * long_m, 0.008 * long_m}, seed + 6U, false, Stuff::skin, 1);
  move(nose, {}, on(1, 0, 0.5));
  add(all, std::move(nose));
  const double sway = random.uniform(-0.5, 0.5);
  const Vec3 rump = on(0.015, 0, 0.45);
  add(all, rod(
               smooth_line({rump + Vec3{0, 0, 0.03 * long_m},
                            {rump.x + 0.10 * sway * long_m, 0.022 * long_m, -0.70 * long_m},
                            {rump.x + 0.42 * sway * long_m, 0.012 * long_m, -0.95 * long_m},
                            {rump.x + 0.30 * sway * long_m, 0.012 * long_m, -1.18 * long_m},
                            {rump.x - 0.15 * sway * long_m, 0.012 * long_m, -1.38 * long_m}},
                           70),
               [&](double t) { return long_m * (0.021 - 0.016 * t); }, 12, {0.0003, 0.0014, seed},
               Stuff::skin, 0));
  return all;
}

// A flat oval, its wings over its back, a shield behind the head.
Solid cockroach(double long_m, std::uint32_t seed, base::Random& random) {
  const std::uint32_t tint = seed % 3;
  const auto girth = [](double t) {
    const double rings = t < 0.5 ? 0.006 * std::sin(tau * t * 13) : 0.0;
    const double half = shaped(t, {{0, 0.03},
                                   {0.06, 0.11},
                                   {0.28, 0.195},
                                   {0.60, 0.205},
                                   {0.735, 0.185},
                                   {0.75, 0.165},
                                   {0.77, 0.190},
                                   {0.86, 0.180},
                                   {0.93, 0.120},
                                   {0.95, 0.075},
                                   {1, 0.03}});
    const double high = shaped(t, {{0, 0.05},
                                   {0.1, 0.105},
                                   {0.45, 0.150},
                                   {0.735, 0.150},
                                   {0.75, 0.125},
                                   {0.78, 0.145},
                                   {0.88, 0.125},
                                   {0.95, 0.085},
                                   {1, 0.06}});
    return Girth{half, high + rings, 0.03};
  };
  Solid all = skin(
      long_m, 60, 36, girth, [](double) { return 0.0; }, {0.00018, 0.0016, seed}, Stuff::shell, tint);
  // Where the wings meet.
  for (SolidPart& part : all.parts)
    for (SolidPoint& p : part.points)
      if (std::abs(p.own.x) < 0.012 * long_m && p.own.y > 0.09 * long_m && p.own.z < 0.22 * long_m)
        p.at.y -= 0.010 * long_m;
  for (const double side : {-1.0, 1.0}) {
    for (int leg = 0; leg < 3; ++leg) {
      const double z = long_m * (0.26 - 0.15 * leg);
      const double back = long_m * (leg == 0   ? 0.22
                                    : leg == 1 ? -0.14
                                               : -0.42) +
                          random.uniform(-0.07, 0.07) * long_m;
      add(all,
          rod(
              smooth_line({{0.10 * side * long_m, 0.05 * long_m, z},
                           {0.27 * side * long_m, 0.12 * long_m, z + 0.35 * back},
                           {0.40 * side * long_m, 0.04 * long_m, z + 0.75 * back},
                           {0.47 * side * long_m, 0.0, z + 1.15 * back}},
                          18),
              [&](double t) { return long_m * (t < 0.4 ? 0.022 - 0.02 * t : 0.014 - 0.012 * (t - 0.4)); }, 7,
              {}, Stuff::shell, tint));
    }
    add(all, rod(
                 smooth_line({{0.04 * side * long_m, 0.08 * long_m, 0.48 * long_m},
                              {0.22 * side * long_m, 0.12 * long_m, 0.80 * long_m},
                              {0.50 * side * long_m + random.uniform(-0.15, 0.15) * long_m, 0.05 * long_m,
                               1.25 * long_m}},
                             20),
                 [&](double t) { return long_m * (0.009 - 0.006 * t); }, 5, {}, Stuff::shell, tint));
  }
  return all;
}

Solid vermin_solid(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed64) {
  if (vermin.place != scene::VerminPlace::pipe) {
    Solid peeping = peeping_solid(scene, vermin, seed64);
    peeping.arc = {12, 12, true};
    return into_scene(scene, vermin.at_m, std::move(peeping));
  }
  const double radius = scene::radius_at(scene, vermin.at_m);
  const auto seed = static_cast<std::uint32_t>(seed64);
  base::Random random(seed64 ^ 0x7eU);
  Solid all;
  const int count = static_cast<int>(vermin.count);
  for (int i = 0; i < count; ++i) {
    const auto seed_i = seed + 61U * static_cast<std::uint32_t>(i);
    const double turn = random.uniform() < 0.5 ? 0 : tau / 2;
    if (vermin.kind == scene::VerminKind::rat) {
      const double long_m = std::min(random.uniform(0.16, 0.24), 2.3 * radius);
      Solid one = rat(long_m, seed_i, random);
      // Seldom quite along the bore.
      const double yaw = (random.uniform() < 0.5 ? -1 : 1) * random.uniform(0.12, 0.40);
      move(one, turned(0, 0, turn + yaw),
           {random.uniform(-0.12, 0.12) * radius, 0,
            0.34 * (i - 0.5 * (count - 1)) + random.uniform(-0.04, 0.04)});
      // Feet, belly and tail follow the wall's curve; its back stays as it is.
      for (SolidPart& part : one.parts)
        for (SolidPoint& p : part.points) {
          const double x = std::clamp(p.at.x, -0.97 * radius, 0.97 * radius);
          const double rise = radius - std::sqrt(radius * radius - x * x);
          p.at.x = x;
          p.at.y += rise * std::max(0.0, 1 - p.at.y / (0.7 * radius)) - radius - 0.002;
        }
      add(all, std::move(one));
    } else {
      const double long_m = random.uniform(0.022, 0.032);
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
