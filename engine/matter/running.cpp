// SPDX-License-Identifier: Apache-2.0
// Ground water coming in: what runs down the wall, drips and falls. How fast and how thick: ours,
// by eye; what falls does so by gravity.
#include <algorithm>
#include <cmath>

#include "matter/running_build.hpp"

namespace haunch::matter {

using scene::Vec3;

Solid Running::film(double from, double z0, double wide_m, double thick_m, std::uint32_t k) const {
  const double side = from >= 0 ? 1 : -1, last = side * tau / 2;
  constexpr int rows = 90, columns = 32;
  SolidPart part{Stuff::wet, 0, rows + 1, columns + 1, false, {}};
  for (int r = 0; r <= rows; ++r)
    for (int c = 0; c <= columns; ++c) {
      const double t = static_cast<double>(r) / rows, u = 2.0 * c / columns - 1;
      const double foot = 0.30 + 0.22 * bumpy({u * 3, 0.3, 0}, 1, seed + k + 6U, 2);
      const double a = from - side * 0.05 + (last - from + side * (0.05 + foot * (1 - u * u))) * t;
      const double ragged = 1 + 0.7 * bumpy({a * radius, u > 0 ? 1.0 : 0.0, 0}, 0.02, seed + k + 1U, 3);
      const double wander = 0.4 * wide_m * bumpy({a * radius, 0.5, 0}, 0.05, seed + k + 2U, 2);
      const double spread = 0.30 + 0.55 * t + 0.9 * std::pow(t, 8);
      const double z = z0 + wander * std::min(1.0, 4 * t) + u * wide_m * ragged * spread;
      // Ripples go down it; between rivulets the wall is no more than wet.
      const Vec3 own{a * radius - 0.25 * time_s, 0, z};
      const double runs = bumpy({0.25 * a * radius, 0.7, z}, 0.006, seed + k + 4U, 2);
      const double deep =
          thick_m * (1 - u * u) * (0.75 + 1.3 * runs + 0.6 * bumpy(own, 0.010, seed + k + 3U, 2));
      const bool dry = std::abs(u) > 0.99 || deep < 0.18 * thick_m;
      part.points.push_back({on(a, dry ? 0.0004 : -0.0003 - deep, z), own});
    }
  return {{std::move(part)}, {}};
}

Solid Running::drop(const Vec3& at, double r, const Vec3& way, Stuff stuff) {
  const double drawn = std::max(scene::length(way), 0.4 * r);
  const Vec3 end = at + (drawn / std::max(1e-9, scene::length(way))) * way;
  const double slim = r / std::sqrt(1 + 0.15 * drawn / r);
  return rod(
      smooth_line({at, end}, 4),
      [&](double t) { return slim * (0.35 + 2.6 * (t + 0.1) * (1.05 - t)) * (0.8 + 0.4 * t); }, 6, {}, stuff,
      0);
}

double Running::flight_s(const Vec3& from, const Vec3& speed) const {
  double after = 0.004;
  while (after < 1 && inside(thrown(from, speed, after))) after += 0.002;
  return after;
}

void Running::splash(Solid& all, const Vec3& at, int count, double speed, base::Random& random) const {
  for (int i = 0; i < count; ++i) {
    const double life = random.uniform(0.06, 0.14), phase = random.uniform(), big = random.uniform();
    const Vec3 inward = scene::normalised({-at.x, -at.y, 0});
    const Vec3 way =
        speed * random.uniform(0.3, 1.0) *
        scene::normalised(inward + 0.9 * Vec3{random.normal(), random.normal(), random.normal()});
    const double after = life * (time_s / life + phase - std::floor(time_s / life + phase));
    const Vec3 p = thrown(at + 0.002 * inward, way, after);
    if (inside(p) && scene::dot(way, inward) > 0)
      add(all, drop(p, 0.0003 + 0.0011 * big * big * big, 0.3 * shutter_s * way));
  }
}

void Running::rings(Solid& all, const Vec3& at, double after) const {
  if (at.y > level + 0.004 || level < -radius) return;
  const double half = std::sqrt(std::max(0.0, radius * radius - level * level));
  for (int k = 0; k < 3; ++k) {
    const double since = after - 0.05 * k, wide = 0.003 + 0.16 * since;
    if (since <= 0 || wide > 0.9 * half) continue;
    std::vector<Vec3> line;
    for (int i = 0; i <= 40; ++i) {
      const double a = tau * i / 40;
      line.push_back({at.x + wide * std::cos(a), level + 0.0001, at.z + wide * std::sin(a)});
    }
    const double thick = 0.0007 * std::max(0.15, 1 - since / 0.3);
    add(all, rod(
                 line, [thick](double) { return thick; }, 6, {}, Stuff::stream, 0));
  }
}

Solid Running::drips() const {
  base::Random random(seed64 ^ 0xd1U);
  Solid all = film(top, 0, 0.014 + 0.12 * radius * random.uniform(0.6, 1.4), 0.0005, 0);
  // One hangs and grows at each of a few places; where one is ripe it falls.
  const int places = 2 + static_cast<int>(random.below(3));
  for (int i = 0; i < places; ++i) {
    const double z = i == 0 ? 0 : random.uniform(-0.03, 0.03),
                 a = top + (i == 0 ? 0 : random.uniform(-0.16, 0.16));
    const double period = random.uniform(0.35, 0.9), r = random.uniform(0.0021, 0.0029);
    const double turn = time_s / period + random.uniform(), since = period * (turn - std::floor(turn));
    const double grown = since / period, long_m = r * (0.9 + 2.3 * grown);
    const Vec3 foot = on(a, 0.0005, z), from = on(a, -0.002, z), nothing{};
    add(all, rod(
                 smooth_line({foot, foot + Vec3{0, -long_m, 0}}, 12),
                 [&](double t) {
                   return r * (0.7 + 0.5 * grown) * (0.75 + 0.5 * t) *
                          std::sqrt(std::max(0.05, 1 - t * t * t * t));
                 },
                 20, {}, Stuff::stream, 0));
    const double whole = flight_s(from, nothing);
    if (since < whole) {
      add(all, drop(thrown(from, nothing, since), 1.2 * r,
                    {0, -std::min(gravity_m_s2 * since * 0.8 * shutter_s, 0.016), 0}));
    } else if (since < whole + 0.30) {
      // It has struck: a small crown of spray, and rings.
      const Vec3 at = thrown(from, nothing, whole);
      const double after = since - whole;
      rings(all, at, after);
      for (int k = 0; k < 9 && after < 0.10; ++k) {
        const double turned_by = tau * k / 9 + random.uniform(-0.3, 0.3);
        const Vec3 way{0.35 * std::cos(turned_by), random.uniform(0.35, 0.8), 0.35 * std::sin(turned_by)};
        const Vec3 p = thrown(at, way, after);
        if (inside(p)) add(all, drop(p, random.uniform(0.0004, 0.0010), 0.3 * shutter_s * way));
      }
    }
  }
  return all;
}

Solid Running::flows() const {
  base::Random random(seed64 ^ 0xf1U);
  Solid all = film(top, 0, 0.018 + 0.20 * radius * random.uniform(0.7, 1.3), 0.0014, 0);
  if (std::cos(top) < 0.1) return all;
  const Vec3 inward = scene::normalised({-std::sin(top), -std::cos(top), 0});
  const Vec3 speed = random.uniform(0.05, 0.35) * inward + Vec3{0, 0, random.uniform(-0.1, 0.1)};
  const double r = random.uniform(0.0016, 0.0026);
  // Two or three threads that leave side by side and wind about one another.
  const int threads = 2 + static_cast<int>(random.below(2));
  Vec3 struck;
  for (int i = 0; i < threads; ++i) {
    const Vec3 from = on(top + random.uniform(-0.012, 0.012) / radius, -0.001, random.uniform(-0.006, 0.006));
    const Vec3 own = speed + 0.04 * Vec3{random.normal(), 0, random.normal()};
    const double whole = flight_s(from, own);
    if (i == 0) struck = thrown(from, own, whole);
    thread(all, from, own, whole, 0, i == 0 ? 1.0 : random.uniform(0.5, 1.0), r * (i == 0 ? 1.0 : 0.6), 0.55,
           Stuff::stream, seed + 50U * static_cast<std::uint32_t>(i));
  }
  splash(all, struck, 26, 0.9, random);
  add(all, froth(struck, 0.010, 0.004));
  return all;
}

Solid water_solid(const scene::Scene& scene, const scene::Infiltration& water, std::uint64_t seed,
                  double time_s) {
  const Running running{
      scene::radius_at(scene, water.at_m), water.arc.from_h, seed, time_s,
      std::max(-1.0e6, scene::level_at(scene.water, water.at_m)) - scene::centre_at(scene, water.at_m).y};
  Solid solid = water.rate == scene::WaterRate::drips   ? running.drips()
                : water.rate == scene::WaterRate::flows ? running.flows()
                                                        : running.gushes();
  solid.arc = {water.arc.from_h, water.arc.from_h, false};
  return into_scene(scene, water.at_m, std::move(solid));
}

}  // namespace haunch::matter
