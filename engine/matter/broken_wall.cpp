// SPDX-License-Identifier: Apache-2.0
// A wall in pieces: each still near its place, or all of it in the bore.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "matter/solid_build.hpp"
#include "matter/wall.hpp"

namespace haunch::matter {
namespace {

using scene::Vec2;
using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

using Outline = std::vector<Vec2>;

/// What lies on the positive side of a line through `on`.
Outline cut(const Outline& outline, const Vec2& on, const Vec2& across) {
  const auto side = [&](const Vec2& p) { return (p.x - on.x) * across.x + (p.y - on.y) * across.y; };
  Outline kept;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
    const double sa = side(a), sb = side(b);
    if (sa >= 0) kept.push_back(a);
    if ((sa >= 0) != (sb >= 0)) kept.push_back(a + (sa / (sa - sb)) * (b - a));
  }
  return kept;
}

Vec2 middle_of(const Outline& outline) {
  Vec2 sum;
  for (const Vec2& p : outline) sum = sum + p;
  return (1.0 / static_cast<double>(outline.size())) * sum;
}

Outline evenly(const Outline& outline, int count) {
  std::vector<double> reached{0};
  for (std::size_t i = 0; i < outline.size(); ++i)
    reached.push_back(reached.back() + scene::length(outline[(i + 1) % outline.size()] - outline[i]));
  Outline points;
  std::size_t edge = 0;
  for (int k = 0; k < count; ++k) {
    const double want = reached.back() * k / count;
    while (reached[edge + 1] < want) ++edge;
    const double t = (want - reached[edge]) / std::max(1e-12, reached[edge + 1] - reached[edge]);
    points.push_back(outline[edge] + t * (outline[(edge + 1) % outline.size()] - outline[edge]));
  }
  return points;
}

/// The pieces the outline has broken into, largest ones cut again.
std::vector<Outline> pieces_of(const Outline& whole, base::Random& random) {
  std::vector<Outline> pieces{whole};
  const int wanted = 4 + static_cast<int>(random.below(3));
  while (static_cast<int>(pieces.size()) < wanted) {
    const auto size = [](const Outline& o) {
      double area = 0;
      for (std::size_t i = 0; i < o.size(); ++i) {
        const Vec2 &a = o[i], &b = o[(i + 1) % o.size()];
        area += a.x * b.y - a.y * b.x;
      }
      return std::abs(area);
    };
    const auto largest = std::max_element(
        pieces.begin(), pieces.end(), [&](const Outline& a, const Outline& b) { return size(a) < size(b); });
    const Outline big = *largest;
    const Vec2 on = middle_of(big) + Vec2{random.uniform(-0.004, 0.004), random.uniform(-0.004, 0.004)};
    const double a = random.uniform(0, tau);
    const Outline one = cut(big, on, {std::cos(a), std::sin(a)}),
                  other = cut(big, on, {-std::cos(a), -std::sin(a)});
    if (one.size() < 3 || other.size() < 3) continue;
    *largest = one;
    pieces.push_back(other);
  }
  return pieces;
}

struct Standing {
  double radius, wall_m;
  Vec3 on(double z, double angle, double out) const {
    return {(radius + out) * std::sin(angle), (radius + out) * std::cos(angle), z};
  }
};

}  // namespace

scene::Hole hole_of(const scene::BrokenWall& broken) {
  return {broken.at_m, broken.clock_h, broken.length_mm, broken.width_mm, scene::Behind::soil};
}

namespace {

Solid displaced(const scene::BrokenWall& broken, double radius, double wall_m, std::uint64_t seed64) {
  const WallOutline outline = hole_outline(hole_of(broken), radius, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  base::Random random(seed64 ^ 0xb4U);
  const std::vector<Outline> pieces = pieces_of(outline.corners, random);
  const Standing standing{radius, wall_m};
  const auto most = random.below(static_cast<std::uint32_t>(pieces.size()));
  Solid solid;
  std::uint32_t number = 0;
  for (const Outline& piece : pieces) {
    constexpr int around = 120, rings = 14, deep = 6;
    const Outline rim = evenly(piece, around);
    const Vec2 middle = middle_of(rim);
    double across = 0;
    for (const Vec2& p : rim) across = std::max(across, scene::length(p - middle));
    // How far it has come in, and how it hangs: one edge further in than the other.
    const double in = broken.moved_mm / 1000 * (number == most ? 1.0 : random.uniform(0.15, 0.85));
    const double tilt = std::min(
                     0.6, (number == most ? 0.6 : random.uniform(0.5, 0.95)) * in / std::max(0.01, across)),
                 toward = random.uniform(0, tau);
    // Its rim reaches farther one way than the other: what leans in farthest stands in by what is stated.
    double leans = 0;
    for (const Vec2& p : rim)
      leans =
          std::max(leans, tilt * ((p.x - middle.x) * std::cos(toward) + (p.y - middle.y) * std::sin(toward)));
    const double mean_in = number == most ? in - leans : 0.5 * in;
    const Vec2 slid{random.uniform(-0.3, 0.3) * in, random.uniform(-0.3, 0.3) * in};
    SolidPart face{Stuff::ware, seed, rings + 1, around, true, {}},
        edge{Stuff::broken, seed, deep + 1, around, true, {}};
    const auto point = [&](int c, double share, double out) {
      // Crumbs are lost along every break, so that it gapes.
      const Vec2 from_middle =
          (share * (1 - 0.0022 / std::max(0.004, across))) * (rim[static_cast<std::size_t>(c)] - middle);
      const Vec2 p = middle + from_middle + slid;
      const double lean = tilt * (from_middle.x * std::cos(toward) + from_middle.y * std::sin(toward));
      const double crumbled =
          out > 0 ? 0.0018 * static_cast<double>(layered_noise(
                                 static_cast<float>(p.x / 0.008), static_cast<float>(p.y / 0.008),
                                 static_cast<float>(out / 0.008), seed + number, 3))
                  : 0;
      const double k = 1 + crumbled / std::max(0.004, scene::length(from_middle));
      const Vec2 q = middle + k * from_middle + slid;
      const Vec3 at = standing.on(q.x, outline.angle + q.y / radius, out - mean_in - lean);
      return SolidPoint{at, {q.y, out, q.x}};
    };
    for (int r = 0; r <= rings; ++r)
      for (int c = 0; c < around; ++c)
        face.points.push_back(point(c, std::max(0.01, static_cast<double>(r) / rings), 0));
    for (int r = 0; r <= deep; ++r)
      for (int c = 0; c < around; ++c) edge.points.push_back(point(c, 1, wall_m * r / deep));
    solid.parts.push_back(std::move(face));
    solid.parts.push_back(std::move(edge));
    ++number;
  }
  return solid;
}

/// Ground and the pipe's own shards, on the invert below where they came from.
Solid fallen(const scene::BrokenWall& broken, double radius, double wall_m, std::uint64_t seed64) {
  const auto seed = static_cast<std::uint32_t>(seed64);
  return of_share(
      [&](double high) {
        base::Random random(seed64 ^ 0xfaU);
        const double long_m = broken.length_mm / 2000 + std::max(0.8 * radius, 0.8 * high);
        Solid all = mound(radius, high, long_m, broken.clock_h, 0.012, Stuff::earth, seed);
        Heap heap(radius);
        heap.take(all);
        // Shards of the wall stick out of it, the largest half buried; stones and clods roll down. Where
        // little has fallen in, and in a narrow bore, they are small too.
        const double size = std::min(1.0, 2 * high / radius), loose = size * std::min(1.0, radius / 0.075);
        for (int i = 0; i < 12; ++i) {
          const double big = size * (i < 4 ? random.uniform(0.2, 0.4) : random.uniform(0.10, 0.2));
          Solid piece = shard(radius, wall_m, big, radius * random.uniform(0.5, 1.1) * (0.25 + big),
                              seed + 13U * static_cast<std::uint32_t>(i));
          move(piece,
               turned((random.uniform() < 0.5 ? tau / 2 : 0) + random.uniform(-0.8, 0.8),
                      random.uniform(-0.7, 0.7), random.uniform(-1.5, 1.5)),
               {});
          std::vector<Vec3> places;
          for (int k = 0; k < 3; ++k)
            places.push_back({random.uniform(-0.6, 0.6) * radius, 0, random.uniform(-0.8, 0.8) * long_m});
          heap.let_roll(piece, places, 0.55 * radius * big);
          add(all, std::move(piece));
        }
        constexpr int lumps = 120;
        for (int i = 0; i < lumps; ++i) {
          // Many crumbs to a large lump; clods of ground first, then stones.
          const double big = random.uniform(), r = loose * (0.0018 + 0.0090 * big * big * big);
          const bool stony = i > lumps / 2;
          Solid stone = pebble({r * random.uniform(0.7, 1.3), r * random.uniform(0.5, 0.85), r},
                               seed + 77U * static_cast<std::uint32_t>(i), random.uniform() < 0.8,
                               stony ? Stuff::stone : Stuff::earth,
                               seed + (stony ? static_cast<std::uint32_t>(i * 10 / lumps) : 0U));
          move(stone, turned(0, random.uniform(-1, 1), 0), {});
          std::vector<Vec3> places;
          for (int k = 0; k < 4; ++k)
            places.push_back({random.uniform(-0.85, 0.85) * radius, 0, random.uniform(-1, 1) * long_m});
          heap.let_roll(stone, places, 0.6 * r);
          add(all, std::move(stone));
        }
        return all;
      },
      0.0, 2.4 * radius, broken.takes_percent / 100, radius);
}

}  // namespace

Solid broken_solid(const scene::Scene& scene, const scene::BrokenWall& broken, std::uint64_t seed) {
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, broken.at_m))];
  const double wall_m = scene.scenario.sections[static_cast<std::size_t>(piece.section)].wall_mm / 1000;
  Solid solid = broken.fallen_in ? fallen(broken, piece.radius_m, wall_m, seed)
                                 : displaced(broken, piece.radius_m, wall_m, seed);
  const double half = broken.width_mm / 1000 / piece.radius_m / tau * 6;
  solid.arc = {base::wrap_hours(broken.clock_h - half), base::wrap_hours(broken.clock_h + half), false};
  return into_scene(scene, broken.at_m, std::move(solid));
}

}  // namespace haunch::matter
