// SPDX-License-Identifier: Apache-2.0
// What lies on the invert: bricks, shards of pipe, things lost. Sizes of bricks and the like are
// common practice, no source; how they vary is ours.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/obstacle_build.hpp"

namespace haunch::matter {
namespace {

using scene::ObstacleForm;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

/// 0 .. 1: sharp at the top of a fold.
double fold(const Vec3& p, double size, std::uint32_t seed) {
  const auto n =
      static_cast<double>(layered_noise(static_cast<float>(p.x / size), static_cast<float>(p.y / size),
                                        static_cast<float>(p.z / size), seed, 2));
  return 1 - 2.2 * std::abs(n);
}

struct Lying : ObstacleMaker {
  /// One to three bricks or what is left of them.
  Solid bricks() const {
    const bool whole_fits = 2 * radius > 0.14;
    const double one = 0.072 * 0.105 / (std::numbers::pi * radius * radius);
    const int count = std::clamp(static_cast<int>(std::ceil(share / (0.85 * one))), 1, 5);
    const std::uint32_t tint = s >> 3U;
    return fit(
        [&](double k) {
          base::Random random(seed);
          Heap heap(radius);
          Solid all;
          const int pieces = count + (random.uniform() < 0.35 ? 1 : 0);
          for (int i = 0; i < pieces; ++i) {
            const double size = i < count ? k : 0.45 * k;
            // Whole bricks are rare: most have lost an end.
            const double kept = whole_fits && random.uniform() < 0.3 ? 1.0 : random.uniform(0.35, 0.8);
            const double broken = kept < 1 ? random.uniform(0.006, 0.014) : 0.001;
            const auto seed_i = s + 100U * static_cast<std::uint32_t>(i);
            const Vec3 half{0.0512 * size, 0.0325 * size, 0.1075 * kept * size};
            Solid brick = block(half, 0.0035, {0.0011, 0.006, seed_i}, {broken * size, 0.02, seed_i + 7U},
                                Stuff::brick, tint);
            // The hollow in its bed face.
            for (SolidPart& part : brick.parts)
              for (SolidPoint& p : part.points) {
                if (p.own.y < half.y * 0.999) continue;
                const double in =
                    std::min((0.66 * half.x - std::abs(p.own.x)) / (0.20 * half.x),
                             (0.98 * half.z - 0.020 * size - std::abs(p.own.z)) / (0.010 * size));
                p.at.y -= 0.011 * size * std::clamp(in, 0.0, 1.0);
              }
            // Old mortar, in lumps.
            const int lumps = static_cast<int>(random.below(5));
            for (int k2 = 0; k2 < lumps; ++k2) {
              Solid mortar =
                  pebble({half.x * random.uniform(0.15, 0.45), 0.006 * size * random.uniform(0.5, 1.2),
                          half.z * random.uniform(0.15, 0.4)},
                         seed_i + 3U + static_cast<std::uint32_t>(k2), true, Stuff::mortar, 0);
              move(mortar, {},
                   {half.x * random.uniform(-0.7, 0.7), half.y - 0.001, half.z * random.uniform(-0.8, 0.8)});
              add(brick, std::move(mortar));
            }
            const bool flat = random.uniform() < 0.5;
            const double yaw = random.uniform() < 0.3 ? random.uniform(0.9, 1.5) : random.uniform(-0.7, 0.7);
            move(
                brick,
                turned((flat ? 0 : tau / 4) + random.uniform(-0.22, 0.22), random.uniform(-0.1, 0.1), yaw),
                {random.uniform(-0.3, 0.3) * radius, 0, i == 0 ? 0 : random.uniform(-0.7, 0.7) * 0.2 * size});
            heap.let_down(brick);
            add(all, std::move(brick));
          }
          return all;
        },
        0.12, 1.6);
  }

  Solid pipe_pieces() const {
    const int count = share < 0.06 ? 1 : share < 0.14 ? 2 : 3;
    return fit(
        [&](double k) {
          base::Random random(seed);
          Heap heap(radius);
          Solid all;
          const int pieces = count + static_cast<int>(random.below(2));
          for (int i = 0; i < pieces; ++i) {
            const double size = (i == 0 ? 1.0 : random.uniform(0.5, 0.9)) * k;
            const double half = std::min(1.35, random.uniform(0.45, 0.8) * size);
            Solid piece =
                shard(radius, wall_m, half, std::min(0.30, radius * random.uniform(1.0, 2.2) * size),
                      s + 31U * static_cast<std::uint32_t>(i));
            const bool hollow_down = random.uniform() < 0.45;
            move(piece,
                 turned((hollow_down ? tau / 2 : 0) + random.uniform(-0.5, 0.5), random.uniform(-0.25, 0.25),
                        random.uniform(-0.9, 0.9)),
                 {random.uniform(-0.35, 0.35) * radius, 0, i * random.uniform(-0.5, 0.5) * radius});
            heap.let_down(piece);
            add(all, std::move(piece));
          }
          return all;
        },
        0.15, 2.2);
  }

  Solid bottle() const {
    return fit(
        [&](double k) {
          base::Random random(seed);
          const double r = k * radius, neck = random.uniform(0.30, 0.42) * r,
                       body = random.uniform(2.4, 3.6) * r, shoulder = random.uniform(0.7, 1.6) * r,
                       throat = random.uniform(0.9, 1.8) * r;
          std::vector<scene::Vec2> profile{
              {0.12 * r, 0.02 * r}, {0.06 * r, 0.5 * r}, {0.0, 0.86 * r}, {0.05 * r, 0.97 * r}};
          for (int i = 0; i <= 10; ++i) profile.push_back({0.12 * r + body * i / 10, r});
          for (int i = 1; i <= 10; ++i) {
            const double t = i / 10.0, ease = t * t * (3 - 2 * t);
            profile.push_back({0.12 * r + body + shoulder * t, r + (neck - r) * ease});
          }
          const double top = 0.12 * r + body + shoulder + throat;
          for (int i = 1; i <= 5; ++i) profile.push_back({top - throat + throat * i / 5.0, neck});
          profile.push_back({top, 1.18 * neck});
          profile.push_back({top + 0.25 * r, 1.18 * neck});
          profile.push_back({top + 0.25 * r, 0.75 * neck});
          profile.push_back({top - 0.3 * r, 0.70 * neck});
          profile.push_back({top - 0.3 * r, 0.02 * neck});
          Solid thing = turned_body(profile, 48, {0.01 * r, 0.9 * r, s},
                                    random.uniform() < 0.65 ? Stuff::glass : Stuff::plastic, s >> 4U);
          if (random.uniform() < 0.6) {
            const double from = random.uniform(0.15, 0.35) * body, to = random.uniform(0.6, 0.85) * body;
            std::vector<scene::Vec2> label;
            for (int i = 0; i <= 8; ++i) label.push_back({from + (to - from) * i / 8, r + 0.0005});
            add(thing, turned_body(label, 48, {0.01 * r, 0.9 * r, s}, Stuff::paper, s >> 6U));
          }
          move(thing, {}, {0, 0, -body / 2});
          move(thing,
               turned(0, 0,
                      random.uniform() < 0.5 ? random.uniform(-0.45, 0.45)
                                             : tau / 2 + random.uniform(-0.45, 0.45)),
               {random.uniform(-0.2, 0.2) * radius, 0, 0});
          Heap(radius).let_down(thing);
          return thing;
        },
        0.1, 0.85);
  }

  /// A sheet of cloth that has been carried along: gathered into folds at one end, spread out and frayed at
  /// the other, lying on the wall. `from_m` its gathered end's place, its length to the side `way`.
  Solid cloth_sheet(double wide_m, double long_m, double high_m, double way, std::uint32_t seed_i,
                    std::uint32_t tint) const {
    constexpr int rows = 60, columns = 72;
    SolidPart part{Stuff::cloth, tint, rows + 1, columns + 1, false, {}};
    for (int r = 0; r <= rows; ++r)
      for (int c = 0; c <= columns; ++c) {
        const double t = static_cast<double>(r) / rows, u = 2.0 * c / columns - 1;
        const auto torn =
            static_cast<double>(layered_noise(static_cast<float>(4 * u), 0.3F, 0.1F, seed_i + 7U, 3));
        const auto side = static_cast<double>(
            layered_noise(static_cast<float>(3 * t), u > 0 ? 1.3F : 4.3F, 0.1F, seed_i + 8U, 3));
        const double spread = 0.45 + 0.55 * t;
        const double x = wide_m * u * spread * (1 + 0.30 * side),
                     z = way * long_m * t * (1 + 0.35 * torn * t);
        // Folds run from the gathered end, deep there and flat at the torn one.
        const double folds = fold({u * 1.7 + 0.25 * t, 0.4 * t, 0.2}, 0.55, seed_i + 2U);
        const double small = fold({u * 3.9, 1.4 * t, 0.7}, 0.60, seed_i + 5U);
        const double lies =
            -std::sqrt(std::max(0.0, radius * radius - std::min(x * x, 0.9 * radius * radius)));
        const double high = high_m * (1 - t) * (1 - t) * (0.6 + 0.5 * folds) +
                            0.10 * high_m * (0.4 + 0.6 * folds + 0.5 * small) + 0.0012;
        part.points.push_back({{x, lies + std::max(0.0005, high), z}, {wide_m * u, high, long_m * t}});
      }
    return {{std::move(part)}, {}};
  }

  Solid rag() const {
    return fit(
        [&](double k) {
          base::Random random(seed);
          Solid all;
          Heap heap(radius);
          const int lumps = 1 + static_cast<int>(random.below(3));
          const std::uint32_t tint = s >> 5U;
          // What trails from it, to either side.
          for (int i = 0; i < 3; ++i) {
            const double wide = radius * std::min(0.75, (0.35 + 0.5 * k) * random.uniform(0.7, 1.1));
            add(all, cloth_sheet(wide, radius * random.uniform(1.2, 2.4),
                                 k * radius * random.uniform(0.6, 1.1), i == 1 ? 1 : -1,
                                 s + 29U * static_cast<std::uint32_t>(i), tint + (i == 2 ? 1U : 0U)));
          }
          for (int i = 0; i < lumps; ++i) {
            const double size = k * radius * (i == 0 ? 1.0 : random.uniform(0.35, 0.8));
            const Vec3 half{size * random.uniform(0.9, 1.2), size * random.uniform(0.55, 0.8),
                            size * random.uniform(1.1, 2.2)};
            constexpr int rows = 56, columns = 96;
            SolidPart part{Stuff::cloth, tint, rows + 1, columns, true, {}};
            const auto seed_i = s + 17U * static_cast<std::uint32_t>(i);
            for (int r = 0; r <= rows; ++r)
              for (int c = 0; c < columns; ++c) {
                const double t = 0.02 + (std::numbers::pi - 0.04) * r / rows, a = tau * c / columns;
                const Vec3 d{std::sin(t) * std::cos(a), std::cos(t), std::sin(t) * std::sin(a)};
                // Folds are ridges that run with one another along the flow, smaller ones across them.
                const Vec3 bent{d.x * 1.3 + 0.5 * d.y, d.y * 1.3, d.z * 0.32};
                const Rough large{1, 0.85, seed_i}, small{1, 0.55, seed_i + 3U};
                const auto noise = [&](const Rough& rough, const Vec3& p) {
                  return rough.out_m * fold(p, rough.size_m, rough.seed);
                };
                const double k2 =
                    0.80 + 0.26 * noise(large, bent) + 0.07 * noise(small, {bent.z, bent.x, bent.y});
                part.points.push_back({{half.x * k2 * d.x, half.y * k2 * d.y, half.z * k2 * d.z},
                                       {half.x * d.x, half.y * d.y, half.z * d.z}});
              }
            Solid lump{{std::move(part)}, {}};
            move(lump,
                 turned(random.uniform(-0.3, 0.3), random.uniform(-0.15, 0.15), random.uniform(-0.4, 0.4)),
                 {random.uniform(-0.2, 0.2) * radius * i, 0, i * random.uniform(-0.8, 0.8) * size});
            // Cloth gives: it lies deeper in what it lies on.
            heap.let_down(lump, (i == 0 ? 0.34 : 0.85) * half.y);
            add(all, std::move(lump));
          }
          return all;
        },
        0.05, 1.1);
  }
  Solid ball() const {
    return fit(
        [&](double k) {
          const double r = k * radius;
          std::vector<scene::Vec2> profile;
          base::Random random(seed);
          const bool cloth = random.uniform() < 0.4;
          // Seams between its panels; one side has lost its air.
          const double seams[] = {0.5, random.uniform(0.24, 0.30), random.uniform(0.70, 0.76)};
          for (int i = 0; i <= 120; ++i) {
            const double part_of = i / 120.0, t = 0.02 + (std::numbers::pi - 0.04) * part_of;
            double in = 1;
            for (const double seam : seams) in -= 0.030 * std::exp(-std::pow((part_of - seam) / 0.008, 2));
            profile.push_back({-in * r * std::cos(t), in * r * std::sin(t)});
          }
          Solid thing = turned_body(profile, 72, {cloth ? 0.0006 : 0.0, 0.003, s},
                                    cloth ? Stuff::cloth : Stuff::plastic, s >> 7U);
          const double sunk = random.uniform(0.0, 0.5);
          for (SolidPart& part : thing.parts)
            for (SolidPoint& p : part.points) {
              const double over = std::max(0.0, p.at.x / r - 0.55);
              p.at.x -= sunk * r * over * over * 1.6;
              const auto uneven = static_cast<double>(
                  layered_noise(static_cast<float>(1.3 * p.own.x / r), static_cast<float>(1.3 * p.own.y / r),
                                static_cast<float>(1.3 * p.own.z / r), s + 3U, 2));
              p.at = (1 + 0.04 * uneven) * p.at;
            }
          move(thing, turned(random.uniform(0, tau), random.uniform(0, tau), random.uniform(0, tau)),
               {0, 0, 0});
          Heap(radius).let_down(thing);
          return thing;
        },
        0.1, 0.96);
  }

  Solid timber() const {
    return fit(
        [&](double k) {
          base::Random random(seed);
          const double wide = k * radius * random.uniform(0.8, 1.1);
          const Vec3 half{wide, wide * random.uniform(0.35, 0.8),
                          std::clamp(wide * random.uniform(3.5, 7), 0.08, 0.30)};
          Solid thing = block(half, 0.0030, {0.0009, 0.012, s}, {random.uniform(0.002, 0.006), 0.006, s + 5U},
                              Stuff::wood, s >> 5U);
          // Weathered: the fibres stand out along it.
          for (SolidPart& part : thing.parts)
            for (SolidPoint& p : part.points) {
              const auto ridge = static_cast<double>(
                  layered_noise(static_cast<float>(p.own.x / 0.004), static_cast<float>(p.own.y / 0.004),
                                static_cast<float>(p.own.z / 0.070), s + 8U, 2));
              if (std::abs(p.own.x) > 0.98 * half.x) p.at.x *= 1 + 0.0012 * ridge / half.x;
              if (std::abs(p.own.y) > 0.98 * half.y) p.at.y *= 1 + 0.0012 * ridge / half.y;
            }
          move(thing,
               turned(random.uniform(-0.5, 0.5), random.uniform(-0.08, 0.08),
                      (random.uniform() < 0.5 ? -1 : 1) * random.uniform(0.08, 0.38)),
               {random.uniform(-0.2, 0.2) * radius, 0, 0});
          Heap(radius).let_down(thing);
          return thing;
        },
        0.06, 0.8);
  }
};

}  // namespace

Solid lying_solid(const ObstacleMaker& maker) {
  const Lying lying{maker};
  switch (maker.obstacle.form) {
    case ObstacleForm::brick:
      return lying.bricks();
    case ObstacleForm::pipe_pieces:
      return lying.pipe_pieces();
    case ObstacleForm::bottle:
      return lying.bottle();
    case ObstacleForm::rag:
      return lying.rag();
    case ObstacleForm::ball:
      return lying.ball();
    default:
      return lying.timber();
  }
}

}  // namespace haunch::matter
