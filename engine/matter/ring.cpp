// SPDX-License-Identifier: Apache-2.0
// A sealing ring out of its groove: thickness by eye, how it hangs is stated.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {

using scene::Vec3;

namespace {
constexpr double tau = 2 * std::numbers::pi;
}

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
  const Vec3 way =
      scene::normalised({-middle.x, -middle.y - 0.35 * std::clamp(1 + 3 * middle.y, 0.0, 1.0), 0});
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
    // A flat band with a lip along one side, that twists as it hangs; `ends` how its two ends look, 0 .. 1:
    // whole there or torn off thin.
    const auto band = [&](const std::vector<Vec3>& line, double first_whole, double last_whole,
                          std::uint32_t k) {
      constexpr int round = 28;
      const auto rows = static_cast<int>(line.size());
      SolidPart part{Stuff::rubber, seed % 3, rows, round, true, {}};
      double gone = 0;
      for (int i = 0; i < rows; ++i) {
        const auto at = static_cast<std::size_t>(i);
        if (i > 0) gone += scene::length(line[at] - line[at - 1]);
        const double t = static_cast<double>(i) / (rows - 1);
        const Vec3 on =
            scene::normalised(line[std::min(at + 1, line.size() - 1)] - line[at > 0 ? at - 1 : 0]);
        // Its width lies along the pipe where it sits in the wall.
        const double twist = (deep > 0 ? 0.5 : 0.12) * wave(2.5 * t, 40U + k);
        const Vec3 flat = scene::normalised(Vec3{0, 0, 1} - on.z * on), out = scene::cross(on, flat);
        const Vec3 wide_way = std::cos(twist) * flat + std::sin(twist) * out,
                   thick_way = std::cos(twist) * out - std::sin(twist) * flat;
        const auto whole = [](double from_end, double share) {
          return share + (1 - share) * std::clamp(from_end / 0.05, 0.0, 1.0);
        };
        double size = std::min(whole(t, first_whole), whole(1 - t, last_whole));
        if (i == 0 || i + 1 == rows) size = 0.02;  // closed
        for (int c = 0; c < round; ++c) {
          const double a = tau * c / round, u = std::cos(a), v = std::sin(a);
          // A rounded strip; its lip stands up along one side, and a groove runs beside that.
          double half = 0.55 * v;
          if (v > 0)
            half += 0.62 * std::exp(-(u - 0.74) * (u - 0.74) / 0.03) -
                    0.16 * std::exp(-(u - 0.2) * (u - 0.2) / 0.05);
          const double tear = 1 + 0.07 * wave(40 * gone, 50U + k + (u > 0 ? 0U : 1U));
          const double broad = 1.9 * thick * size * tear * u,
                       height = thick * (0.3 + 0.7 * size) * half * (size > 0.05 ? 1 : 0.05);
          part.points.push_back({line[at] + broad * wide_way + height * thick_way, {broad, height, gone}});
        }
      }
      solid.parts.push_back(std::move(part));
    };
    // An end goes in behind the wall.
    const auto behind = [&](double from_end) {
      const double t = std::clamp(1 - from_end / 0.07, 0.0, 1.0);
      return 2.6 * thick * t * t;
    };
    const auto outward = [&](const Vec3& p, double by) {
      const double away = std::max(1e-9, std::hypot(p.x, p.y));
      return p + (by / away) * Vec3{p.x, p.y, 0};
    };
    const auto strand = [&](double t0, double t1, const std::function<double(double)>& depth, double first,
                            double last, bool first_in, bool last_in, std::uint32_t k) {
      std::vector<Vec3> line;
      const int count = t1 - t0 < 0.5 ? 24 : 90;
      for (int i = 0; i <= count; ++i) {
        const double u = static_cast<double>(i) / count, t = t0 + (t1 - t0) * u;
        line.push_back(
            outward(place(t, depth(t)), (first_in ? behind(u) : 0) + (last_in ? behind(1 - u) : 0)));
      }
      band(line, first, last, k);
    };
    if (!ring.torn) {
      strand(
          0, 1, [&](double t) { return deep * arch(t); }, 1, 1, true, true, 1);
    } else {
      // Parted: one end hangs free, of the other a stub shows.
      std::vector<Vec3> line;
      for (int i = 0; i <= 90; ++i) {
        const double t = i / 90.0;
        const double down = deep * t * t * (1.3 - 0.3 * t);
        line.push_back(outward(place(0.42 * t, 0), behind(t)) +
                       down * (way + Vec3{0.25 * wave(t, 3), 0, lean + 0.3 * wave(t, 4)}));
      }
      band(line, 1, 0.15, 2);
      strand(
          0.75, 1, [&](double t) { return 0.35 * deep * std::max(0.0, 0.9 - t) / 0.15 * (1 - t); }, 0.2, 1,
          false, true, 3);
    }
    return solid;
  };
  // As far from the wall it left as is stated, whatever way it took: back along the way it hangs, to the
  // wall.
  const auto reached = [&](const Solid& solid) {
    double most = 0;
    for (const SolidPart& part : solid.parts)
      for (const SolidPoint& p : part.points) {
        const double along = p.at.x * way.x + p.at.y * way.y, away2 = p.at.x * p.at.x + p.at.y * p.at.y;
        const double chord = along * along - away2 + radius * radius;
        if (chord > 0) most = std::max(most, along + std::sqrt(chord));
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
      const double away = std::hypot(p.at.x, p.at.y), most = radius + 3 * thick;
      if (away > most) p.at.x *= most / away, p.at.y *= most / away;
    }
  solid.arc = ring.arc;
  return into_scene(scene, joint_near_m(scene, ring.at_m), std::move(solid));
}

}  // namespace haunch::matter
