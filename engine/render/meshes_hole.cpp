// SPDX-License-Identifier: Apache-2.0
// What lies behind a hole: loose soil with stones and roots in it, a bed of stones, or a void that the ground
// has washed out of; and what has trickled from it onto the broken wall.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "render/marks.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr int around = 200;

struct Opening {
  const scene::Hole& hole;
  WallFrame frame;
  matter::WallOutline outline;
  std::vector<scene::Vec2> rim;
  double wall = 0, least = 0;  // m
  std::uint32_t seed = 0;

  /// A share of the way from its middle to its rim, so far outside the bore.
  scene::Vec3 at(const scene::Vec2& p, double share, double out) const {
    return frame.at(outline.z_m + share * p.x, outline.angle + share * p.y / frame.radius, out);
  }
};

Rgb stone_tint(std::uint32_t id) {
  static const Rgb tints[] = {linear_from_srgb(150, 142, 130), linear_from_srgb(120, 110, 98),
                              linear_from_srgb(168, 146, 112), linear_from_srgb(98, 90, 84),
                              linear_from_srgb(134, 102, 78),  linear_from_srgb(84, 84, 82)};
  return tints[id % 6U];
}

/// Loose ground close behind the wall.
Mesh soil_behind(const Opening& o, double deep) {
  Mesh soil;
  soil.grain = Grain::soil;
  const int rows = std::clamp(static_cast<int>((deep + o.least) / 0.0016), 24, 70);
  add_patch(soil, rows + 1, around, true, [&](int row, int column) {
    // Even steps of arc, so that floor and sides get their share of points.
    const double u = std::sin(tau / 4 * row / rows);
    const double share = 1.16 * std::sqrt(std::max(0.0, 1 - u * u));
    const scene::Vec2& rim = o.rim[static_cast<std::size_t>(column)];
    double out = o.wall - 0.0015 + deep * u;
    const scene::Vec3 p = o.at(rim, share, out);
    const double lump = uneven_at(p, 0.026, o.seed + 31U, 5);
    const Pebble pebble = pebble_at(p, 0.0075, o.seed + 50U);
    const double held = std::min(1.0, u * 4);
    out = std::max(o.wall * 0.25,
                   out + held * (0.60 * deep * lump - 0.0022 * std::sqrt(std::max(0.0, pebble.inside))));
    Rgb colour = soil_colour(p, o.seed + 60U);
    if (pebble.inside > 0.12) colour = blend(colour, stone_tint(pebble.id), 0.8F);
    // Hollows lie deep in the ground's own shade.
    const auto shade = static_cast<float>(std::clamp(0.66 - 0.95 * lump, 0.12, 1.05));
    return PatchPoint{o.at(rim, share, out), shade * colour};
  });
  return soil;
}

/// Where the ground has been washed away: far wider than the hole, its far side at the edge of the light,
/// soil hanging over the wall's edge.
Mesh void_behind(const Opening& o) {
  Mesh cave;
  cave.grain = Grain::soil;
  const double deep = std::clamp(1.15 * o.least, 0.05, 0.22);
  constexpr int rows = 64;
  add_patch(cave, rows + 1, around, true, [&](int row, int column) {
    const double u = static_cast<double>(row) / rows, turn = tau / 2 * u;
    const scene::Vec2& rim = o.rim[static_cast<std::size_t>(column)];
    double share = u < 0.5 ? 1.04 + 1.0 * std::sin(turn) : 2.04 * std::cos(turn - tau / 4);
    double out = o.wall + 0.0005 + deep * (1 - std::cos(turn)) / 2;
    const scene::Vec3 p = o.at(rim, share, out);
    const double lump = uneven_at(p, 0.045, o.seed + 31U, 5), crumb = uneven_at(p, 0.010, o.seed + 32U, 3);
    // Clods hang over the edge here and there.
    const double hangs = std::max(0.0, 1 - u / 0.12);
    share = std::max(
        0.0, share * (1 + 0.24 * lump) -
                 hangs * 0.34 * std::clamp(0.2 + 1.6 * uneven_at(p, 0.020, o.seed + 33U, 3), 0.0, 1.0));
    // No light comes in between the ground and the wall.
    if (row == 0) share = std::min(share, 0.995);
    out = std::max(o.wall + 0.0004, out + (1 - hangs) * 0.20 * deep * lump + 0.003 * crumb);
    const Pebble pebble = pebble_at(p, 0.011, o.seed + 50U);
    Rgb colour = soil_colour(p, o.seed + 60U);
    if (pebble.inside > 0.15) colour = blend(colour, stone_tint(pebble.id), 0.7F);
    const double light = (0.72 - 0.57 * std::min(1.0, 3.0 * u)) * std::clamp(0.8 - 0.9 * lump, 0.25, 1.2);
    return PatchPoint{o.at(rim, share, out), static_cast<float>(light) * colour};
  });
  return cave;
}

/// Stones of many sizes that stick out of loose soil.
Mesh stones_in_soil(const Opening& o, double deep, base::Random& random) {
  Mesh stones;
  stones.grain = Grain::stone;
  stones.gloss = 0.06F;
  const int many = std::clamp(static_cast<int>(o.least / 0.0055), 6, 22);
  for (int k = 0; k < many; ++k) {
    const double share = 1.02 * std::sqrt(random.uniform()), part = random.uniform();
    const scene::Vec2 p = o.rim[random.below(around)];
    const double r = std::clamp(0.13 * o.least, 0.003, 0.014) * (0.25 + 0.75 * part * part);
    const double u = std::sqrt(std::max(0.0, 1 - share * share / (1.16 * 1.16)));
    const double out = std::max(o.wall + 0.4 * r, o.wall + deep * u * random.uniform(0.75, 1.05));
    const auto own = static_cast<std::uint32_t>(random.next());
    add_stone(stones, o.at(p, share, out), {r, r * random.uniform(0.6, 0.95), r * random.uniform(0.75, 1.0)},
              random.uniform(0, tau), own, random.uniform() < 0.5,
              static_cast<float>(random.uniform(0.35, 0.75)) * stone_tint(own), 12);
  }
  return stones;
}

/// Fine roots that the ground has let go of: they hang in the hole, short of the bore.
Mesh roots_in_soil(const Opening& o, double deep, int many, base::Random& random) {
  Mesh roots;
  roots.grain = Grain::plain;
  const scene::Vec3 down{0, -1, 0};
  for (int k = 0; k < many; ++k) {
    const scene::Vec2 p = o.rim[random.below(around)];
    const double share = random.uniform(0.45, 1.05), long_m = o.least * random.uniform(0.2, 0.6),
                 thick = random.uniform(0.0003, 0.0007);
    const scene::Vec3 from = o.at(p, share, o.wall + 0.5 * deep);
    const scene::Vec3 inwards = scene::normalised(o.at(p, share, 0) - from);
    const scene::Vec3 aside = scene::normalised(
        scene::Vec3{random.uniform(-1, 1), random.uniform(-1, 1), random.uniform(-1, 1)} + 1e-3 * down);
    const auto own = static_cast<std::uint32_t>(random.next());
    const Rgb colour = static_cast<float>(random.uniform(0.6, 1.0)) * linear_from_srgb(84, 64, 46);
    constexpr int rows = 18, sides = 6;
    const double reach = 0.5 * deep + 0.75 * o.wall;
    const auto middle = [&](double t) {
      // Out of the soil, then over and down with its own weight; nothing of it comes into the bore.
      const double in = reach * std::sin(std::min(1.0, 1.4 * t) * tau / 4) * 0.9;
      const scene::Vec3 drift = (long_m * t * 0.25) * aside + (0.75 * long_m * t * t) * down;
      const scene::Vec3 flat = drift - scene::dot(drift, inwards) * inwards;
      const scene::Vec3 at = from + in * inwards + flat;
      const double wave = 0.0016 * uneven_at(at, 0.010, own, 2);
      return at + wave * aside;
    };
    add_patch(roots, rows + 1, sides, true, [&](int row, int side) {
      const double t = static_cast<double>(row) / rows, turn = tau * side / sides;
      const scene::Vec3 along = scene::normalised(middle(t + 0.03) - middle(t - 0.03));
      const scene::Vec3 a = scene::normalised(scene::cross(along, {0.31, 0.17, 0.94})),
                        b = scene::cross(along, a);
      const double r = thick * (1 - 0.75 * t);
      return PatchPoint{middle(t) + (r * std::cos(turn)) * a + (r * std::sin(turn)) * b, colour};
    });
  }
  return roots;
}

/// Crumbs and small stones that have trickled onto the lowest part of the wall's own thickness.
Mesh trickled(const Opening& o, base::Random& random) {
  Mesh crumbs;
  crumbs.grain = Grain::soil;
  double low = 1e9, high = -1e9;
  for (const scene::Vec2& p : o.rim) {
    const double y = o.at(p, 1, o.wall / 2).y;
    low = std::min(low, y), high = std::max(high, y);
  }
  const int tries = std::clamp(static_cast<int>(o.least * 6000), 120, 800);
  for (int k = 0; k < tries; ++k) {
    const scene::Vec2 p = o.rim[random.below(around)];
    const double part = random.uniform(), r = 0.0006 + 0.0030 * part * part * part * part;
    const double out = o.wall * (0.12 + 0.9 * std::sqrt(random.uniform()));
    const double share = 1 - (0.5 * r + 0.010 * std::max(0.0, out / o.wall - 0.45) * random.uniform()) /
                                 std::max(0.004, scene::length(p));
    const scene::Vec3 at = o.at(p, share, out);
    // Thickest where it lies lowest.
    if (at.y > low + (high - low) * 0.30 * random.uniform()) continue;
    const auto own = static_cast<std::uint32_t>(random.next());
    const Rgb colour =
        random.uniform() < 0.25 ? 0.7F * stone_tint(own) : 0.9F * soil_colour(at, o.seed + 60U);
    add_stone(crumbs, at, {r, r * 0.75, r}, random.uniform(0, tau), own, true, colour, 6);
  }
  return crumbs;
}

Mesh rubble_behind(const Opening& o, double deep, base::Random& random) {
  Mesh rubble;
  rubble.grain = Grain::stone;
  rubble.gloss = 0.10F;
  const double big = std::clamp(0.15 * o.least, 0.005, 0.020), wall = o.wall;
  struct Lying {
    scene::Vec3 at;
    double r;
  };
  std::vector<Lying> lying;
  const int tries = std::clamp(static_cast<int>(14 * matter::area_m2(o.outline) / (big * big)), 60, 400);
  for (int k = 0; k < tries; ++k) {
    // Sunk in the ground by a third or more, each clear of the others.
    const double share = 1.08 * std::sqrt(random.uniform());
    const scene::Vec2 p = share * o.rim[random.below(around)];
    const double r = big * (k < tries / 4 ? random.uniform(0.95, 1.3) : random.uniform(0.35, 0.9));
    const double turn = random.uniform(0, tau), sunk = random.uniform(-0.1, 0.35);
    const scene::Vec3 shape{random.uniform(0.85, 1.0), random.uniform(0.65, 0.9), random.uniform(0.85, 1.0)};
    const auto stone_seed = static_cast<std::uint32_t>(random.next());
    const double u = std::sqrt(std::max(0.0, 1 - share * share / (1.16 * 1.16)));
    const double out = std::max(wall + 0.5 * r, wall - 0.0015 + deep * u + sunk * r - 0.3 * r);
    const scene::Vec3 at = o.at(p, 1, out);
    if (std::any_of(lying.begin(), lying.end(),
                    [&](const Lying& other) { return scene::length(other.at - at) < 0.97 * (other.r + r); }))
      continue;
    lying.push_back({at, r});
    static const Rgb tints[] = {linear_from_srgb(112, 106, 96), linear_from_srgb(88, 84, 78),
                                linear_from_srgb(126, 114, 94), linear_from_srgb(72, 67, 60),
                                linear_from_srgb(114, 94, 72)};
    const Rgb tint = static_cast<float>(0.75 + 0.3 * (stone_seed % 100) / 100.0) * tints[stone_seed % 5];
    add_stone(rubble, at, r * shape, turn, stone_seed, false, tint, 14);
  }
  return rubble;
}

}  // namespace

std::vector<Mesh> hole_meshes(const scene::Scene& scene, const scene::Hole& hole, std::uint64_t seed64) {
  const WallFrame frame = wall_frame(scene, hole.at_m, hole.clock_h);
  matter::WallOutline outline = matter::hole_outline(hole, frame.radius, seed64);
  std::vector<scene::Vec2> rim = along_outline(outline, around);
  const double least = std::min(hole.length_mm, hole.width_mm) / 1000;
  const Opening o{hole,
                  frame,
                  std::move(outline),
                  std::move(rim),
                  frame.section.wall_mm / 1000,
                  least,
                  static_cast<std::uint32_t>(seed64)};
  base::Random random(seed64 ^ 0x57u);
  std::vector<Mesh> meshes(1);
  meshes[0].grain = Grain::stone;
  meshes[0].gloss = 0.04F;
  add_broken_edge(meshes[0], frame, o.outline, o.wall, o.seed);
  const double deep = std::clamp(0.45 * least + 0.006, 0.010, 0.060);
  switch (hole.behind) {
    case scene::Behind::nothing:
      meshes.push_back(void_behind(o));
      meshes.push_back(roots_in_soil(o, 0.02, 1 + static_cast<int>(random.below(3)), random));
      break;
    case scene::Behind::stone:
      meshes.push_back(soil_behind(o, deep));
      for (Rgb& c : meshes.back().albedo) c = 0.45F * c;
      meshes.push_back(rubble_behind(o, deep, random));
      break;
    case scene::Behind::soil:
      meshes.push_back(soil_behind(o, deep));
      meshes.push_back(stones_in_soil(o, deep, random));
      meshes.push_back(roots_in_soil(o, deep, 2 + static_cast<int>(random.below(5)), random));
      meshes.push_back(trickled(o, random));
      break;
  }
  return meshes;
}

}  // namespace haunch::render
