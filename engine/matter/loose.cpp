// SPDX-License-Identifier: Apache-2.0
// What has come loose: pebbles, shards of pipe, heaps of soil.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"

namespace haunch::matter {
namespace {

using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

double bumpy(const Vec3& p, double size, std::uint32_t seed, int octaves) {
  return static_cast<double>(layered_noise(static_cast<float>(p.x / size), static_cast<float>(p.y / size),
                                           static_cast<float>(p.z / size), seed, octaves));
}

/// How far a torn rim stands out at a place on it.
double torn(double along, std::uint32_t seed) {
  return 0.5 * static_cast<double>(layered_noise(static_cast<float>(along), 0.3F, 0.7F, seed, 3)) +
         0.3 * static_cast<double>(noise(static_cast<float>(3 * along), 0.5F, 0.2F, seed + 1U));
}

}  // namespace

Solid shard(double pipe_radius, double wall_m, double half, double length, std::uint32_t seed) {
  const int along = std::clamp(static_cast<int>(length / 0.003), 12, 60);
  constexpr int across = 28, round = 2 * across;
  SolidPart shell{Stuff::ware, seed, along + 1, round, true, {}};
  for (int r = 0; r <= along; ++r) {
    const double t = 2.0 * r / along - 1;
    for (int c = 0; c < round; ++c) {
      const bool outer = c >= across;
      const double u = outer ? 1 - 2.0 * (c - across) / (across - 1.0) : 2.0 * c / (across - 1.0) - 1;
      const double width = half * (1 + 0.8 * torn(2 * t, seed + (u > 0 ? 2U : 9U))),
                   ends = 1 + 0.9 * torn(1.5 * u, seed + (t > 0 ? 4U : 17U));
      // Corners go first.
      const double a = u * width * std::sqrt(1 - 0.6 * t * t * t * t),
                   z = t * ends * length / 2 + (outer ? 0.3 * wall_m * t : 0);
      const double rr = pipe_radius + (outer ? wall_m : 0);
      shell.points.push_back(
          {{rr * std::sin(a), pipe_radius - rr * std::cos(a), z}, {rr * a, outer ? wall_m : 0, z}});
    }
  }
  const auto at = [&](int row, int column) {
    return shell.points[static_cast<std::size_t>(row) * round + static_cast<std::size_t>(column)];
  };
  Solid solid;
  // Where it broke: its two ends, and a hair outside its two flanks.
  for (const int row : {0, along}) {
    SolidPart end{Stuff::broken, seed, 2, across, false, {}};
    for (int c = 0; c < across; ++c) end.points.push_back(at(row, c));
    for (int c = 0; c < across; ++c) end.points.push_back(at(row, round - 1 - c));
    solid.parts.push_back(std::move(end));
  }
  for (const bool right : {false, true}) {
    SolidPart flank{Stuff::broken, seed, along + 1, 2, false, {}};
    for (int r = 0; r <= along; ++r)
      for (const int column : {right ? across - 1 : 0, right ? across : round - 1}) {
        SolidPoint p = at(r, column);
        p.at.x += right ? 0.0002 : -0.0002;
        flank.points.push_back(p);
      }
    solid.parts.push_back(std::move(flank));
  }
  solid.parts.push_back(std::move(shell));
  return solid;
}

Solid pebble(const Vec3& half, std::uint32_t seed, bool angular, Stuff stuff, std::uint32_t tint) {
  base::Random random(seed);
  std::vector<std::pair<Vec3, double>> cuts;
  for (int k = 0; angular && k < 10; ++k)
    cuts.emplace_back(scene::normalised({random.normal(), random.normal(), random.normal() + 1e-3}),
                      random.uniform(0.6, 0.95));
  const int detail = std::max({half.x, half.y, half.z}) > 0.006 ? 12 : 7;
  SolidPart part{stuff, tint, detail + 1, 2 * detail, true, {}};
  for (int r = 0; r <= detail; ++r)
    for (int c = 0; c < 2 * detail; ++c) {
      const double t = 0.03 + (std::numbers::pi - 0.06) * r / detail, a = tau * c / (2 * detail);
      const Vec3 d{std::sin(t) * std::cos(a), std::cos(t), std::sin(t) * std::sin(a)};
      double away = 1;
      for (const auto& [normal, cut] : cuts)
        if (const double facing = scene::dot(d, normal); facing > 0.05) away = std::min(away, cut / facing);
      away *= 1 + (angular ? 0.07 : 0.15) * bumpy(d, 0.6, seed, 3);
      const Vec3 p{away * d.x * half.x, away * d.y * half.y, away * d.z * half.z};
      part.points.push_back({p, p});
    }
  return {{std::move(part)}, {}};
}

Solid mound(double radius, double high, double long_m, double from_clock_h, double bumps_m, Stuff stuff,
            std::uint32_t seed) {
  const scene::Vec2 from = scene::toward_clock(from_clock_h);
  const int rows = std::clamp(static_cast<int>(2 * long_m / 0.003), 40, 160), columns = 80;
  SolidPart part{stuff, seed, rows + 1, columns + 1, false, {}};
  // It leans to the side it came from, no steeper than loose ground stands (ours, by eye).
  const double lean = 0.55 * from.x;
  for (int r = 0; r <= rows; ++r)
    for (int c = 0; c <= columns; ++c) {
      // A hair outside the wall, so that no flat cell shows within it.
      const double z = long_m * (2.0 * r / rows - 1), a = (2.0 * c / columns - 1) * tau / 4;
      const double x = 1.012 * radius * std::sin(a), wall = -1.012 * radius * std::cos(a);
      const double edge = 1 + 0.35 * bumpy({0, x / radius, z > 0 ? 0.3 : 4.3}, 0.6, seed + 3U, 2) +
                          0.22 * bumpy({x, 0, z > 0 ? 0.3 : 4.3}, 0.011, seed + 4U, 2);
      const double t = std::abs(z) / (long_m * edge);
      const double fall = t < 1 ? (1 - t) * (1 - t) * (1 + 2 * t) : 0;
      const Vec3 own{x, 0, z};
      const double bump =
          bumps_m * (bumpy(own, 0.024, seed + 5U, 3) + 0.25 * bumpy(own, 0.009, seed + 6U, 1));
      const double y = -radius + high * fall + lean * x * fall + bump * std::min(1.0, 3 * fall);
      const double top = fall > 0.004 ? std::max(y, wall) : wall;
      part.points.push_back({{x, top, z}, {x, top, z}});
    }
  return {{std::move(part)}, {}};
}

Solid soil_solid(const scene::Scene& scene, const scene::SoilIngress& soil, std::uint64_t seed64) {
  const double radius = scene::radius_at(scene, soil.at_m), hour = soil.arc.from_h;
  const auto seed = static_cast<std::uint32_t>(seed64);
  const Stuff stuff = soil.kind == scene::SoilKind::sand   ? Stuff::sand
                      : soil.kind == scene::SoilKind::peat ? Stuff::peat
                                                           : Stuff::earth;
  const bool gravel = soil.kind == scene::SoilKind::gravel;
  const double coarse = soil.kind == scene::SoilKind::sand   ? 0.0016
                        : soil.kind == scene::SoilKind::peat ? 0.010
                                                             : 0.007;
  // Where it comes in it bulges out; what runs on down the wall from there is no thicker than a grain.
  const auto trail = [&](base::Random& random) {
    const double top = std::remainder(hour, 12.0) * tau / 12, side = top >= 0 ? 1 : -1;
    const double wide = std::clamp(random.uniform(0.22, 0.42) * radius, 0.012, 0.05);
    const double down = std::clamp(random.uniform(0.030, 0.045) / radius, 0.25, 0.7);
    constexpr int rows = 44, columns = 40;
    SolidPart part{gravel ? Stuff::sand : stuff, seed, rows + 1, columns + 1, false, {}};
    for (int r = 0; r <= rows; ++r)
      for (int c = 0; c <= columns; ++c) {
        const double t = 2.0 * r / rows - 1, u = 2.0 * c / columns - 1;
        const double a = top + side * down * (0.35 + t);
        const Vec3 own{a * radius, 0, u * wide};
        // Full above, thinning out in tongues below.
        const double round = std::max(0.0, 1 - t * t - u * u * (1.2 - 0.3 * t));
        const double thick = 0.10 * radius * round * (0.75 + 0.8 * bumpy(own, 0.013, seed + 8U, 3)) -
                             0.0015 * (0.6 + 0.9 * bumpy(own, 0.006, seed + 9U, 2));
        const double k = radius - std::clamp(thick, -0.003, 0.014);
        part.points.push_back({{k * std::sin(a), k * std::cos(a), own.z}, own});
      }
    return Solid{{std::move(part)}, {}};
  };
  Solid all = of_share(
      [&](double high) {
        base::Random random(seed64);
        const double long_m =
            std::max(radius * random.uniform(1.2, 2.4), 1.3 * high + random.uniform(0.3, 0.8) * radius);
        Solid heap_of = mound(radius, high, long_m, hour, coarse * (gravel ? 0.4 : 1.0),
                              gravel ? Stuff::sand : stuff, seed);
        Heap heap(radius);
        heap.take(heap_of);
        const int lumps = gravel ? 240 : soil.kind == scene::SoilKind::sand ? 0 : 26;
        for (int i = 0; i < lumps; ++i) {
          // Many small ones to a large one; most have edges, a few are worn round.
          const double big = random.uniform();
          // Where little has come in, and in a narrow bore, all are small.
          const double r = std::min(1.0, 2 * high / radius) * std::min(1.0, radius / 0.075) *
                           (gravel ? 0.0022 + 0.0075 * big * big * big : 0.0016 + 0.0045 * big * big);
          const std::uint32_t tint = seed + static_cast<std::uint32_t>(i * 6 / lumps);
          Solid lump = pebble({r * random.uniform(0.7, 1.3), r * random.uniform(0.45, 0.8), r},
                              seed + 77U * static_cast<std::uint32_t>(i), random.uniform() < 0.75,
                              gravel ? Stuff::stone : stuff, tint);
          const double way = random.uniform(-1, 1) * 1.12;
          move(lump, turned(0, random.uniform(-1, 1), random.uniform(0, tau)), {});
          std::vector<Vec3> places;
          for (int k = 0; k < 5; ++k)
            places.push_back({random.uniform(-0.8, 0.8) * radius, 0,
                              long_m * (way * std::abs(way) + random.uniform(-0.1, 0.1))});
          heap.let_roll(lump, places, 0.6 * r);
          add(heap_of, std::move(lump));
        }
        base::Random hanging(seed64 ^ 0x5U);
        add(heap_of, trail(hanging));
        return heap_of;
      },
      0.0, 2.4 * radius, soil.takes_percent / 100, radius);
  all.arc = {hour, hour, false};
  return into_scene(scene, soil.at_m, std::move(all));
}

}  // namespace haunch::matter
