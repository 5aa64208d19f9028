// SPDX-License-Identifier: Apache-2.0
// A sealing ring out of its groove: thickness by eye, how it hangs is stated.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {

using scene::Vec3;

Solid ring_solid(const scene::Scene& scene, const scene::SealingRing& ring, std::uint64_t seed64) {
  const double radius = scene::radius_at(scene, ring.at_m);
  const auto seed = static_cast<std::uint32_t>(seed64);
  base::Random random(seed64 ^ 0x21U);
  const double thick = std::clamp(0.045 * radius, 0.0025, 0.006) * random.uniform(0.85, 1.2);
  const double from = ring.arc.from_h, width = base::arc_width_h(ring.arc), hangs = ring.hangs_mm / 1000;
  const double lean = random.uniform(0.1, 0.35) * (random.uniform() < 0.5 ? -1 : 1),
               skew = random.uniform(-0.25, 0.25);
  const scene::Vec2 middle = scene::toward_clock(from + width / 2);
  // It hangs down; where it came out below the middle it stands in by its stiffness.
  const Vec3 way = scene::normalised({-middle.x, std::min(-middle.y, 0.0) - 0.35, 0});
  const auto wave = [&](double t, std::uint32_t k) {
    return static_cast<double>(layered_noise(static_cast<float>(4 * t), 0.3F, 0.1F, seed + k, 2));
  };
  const auto place = [&](double t, double depth) {
    const Vec3 foot = on_wall(radius, from + width * t,
                              0.25 * thick - (depth > 0 ? 0 : 0.9 * thick * (0.5 + 0.9 * wave(t, 1))), 0);
    return foot + Vec3{0, 0, 0.6 * thick * wave(t, 2)} + depth * (way + Vec3{0.12 * wave(t, 3), 0, lean});
  };
  const auto arch = [&](double t) {
    const double s = std::clamp(t + skew * t * (1 - t), 0.0, 1.0);
    return std::pow(std::max(0.0, 4 * s * (1 - s)), 1.5);
  };
  const auto made = [&](double deep) {
    Solid solid;
    const auto strand = [&](double t0, double t1, const std::function<double(double)>& depth) {
      std::vector<Vec3> line;
      for (int i = 0; i <= 90; ++i) {
        const double t = t0 + (t1 - t0) * i / 90;
        line.push_back(place(t, depth(t)));
      }
      add(solid, rod(
                     line, [&](double) { return thick; }, 18, {0.0002, 0.01, seed}, Stuff::rubber, seed % 3));
    };
    if (!ring.torn) {
      strand(0, 1, [&](double t) { return deep * arch(t); });
    } else {
      // Parted: one end hangs free, of the other a stub shows.
      std::vector<Vec3> line;
      for (int i = 0; i <= 90; ++i) {
        const double t = i / 90.0;
        Vec3 p = place(0.42 * t, 0);
        const double down = deep * t * t * (1.3 - 0.3 * t);
        p = p + down * (way + Vec3{0.25 * wave(t, 3), 0, lean + 0.3 * wave(t, 4)});
        line.push_back(p);
      }
      add(solid, rod(
                     line, [&](double t) { return thick * (t > 0.96 ? 0.7 : 1); }, 18, {0.0002, 0.01, seed},
                     Stuff::rubber, seed % 3));
      strand(0.75, 1, [&](double t) { return 0.35 * deep * std::max(0.0, 0.9 - t) / 0.15 * (1 - t); });
    }
    return solid;
  };
  // As far from the wall it left as is stated, whatever way it took.
  const auto reached = [&](const Solid& solid) {
    double most = 0;
    for (const SolidPart& part : solid.parts)
      for (const SolidPoint& p : part.points) {
        const Vec3 off{p.at.x - radius * middle.x, p.at.y - radius * middle.y, 0};
        most = std::max(most, scene::dot(off, way));
      }
    return most;
  };
  double low = 0, high = 2.2 * radius;
  for (int i = 0; hangs > 0 && i < 24; ++i) {
    const double mid = (low + high) / 2;
    (reached(made(mid)) < hangs ? low : high) = mid;
  }
  Solid solid = made(hangs > 0 ? (low + high) / 2 : 0);
  // Nothing of it reaches through the wall on the far side.
  for (SolidPart& part : solid.parts)
    for (SolidPoint& p : part.points) {
      const double away = std::hypot(p.at.x, p.at.y), most = radius + 0.25 * thick + thick;
      if (away > most) p.at.x *= most / away, p.at.y *= most / away;
    }
  solid.arc = ring.arc;
  return into_scene(scene, joint_near_m(scene, ring.at_m), std::move(solid));
}

}  // namespace haunch::matter
