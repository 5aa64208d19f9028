// SPDX-License-Identifier: Apache-2.0
// Seeded noise becomes brickwork, black plastic, pitch fibre, fibre cement and cured resin. Colours and sizes
// are ours, by eye and from memory, after the looks that people in the trade name.
#include "render/tile.hpp"
#include "scene/brickwork.hpp"

namespace haunch::render {
namespace {

constexpr float mm_u = tile_round_m * 1000 / tile_u, mm_v = tile_along_m * 1000 / tile_v;
constexpr int courses_a_tile = 4;

/// Of the nearest edge: signed distance of x from the next multiple of `every`.
float off_multiple(float x, float every) {
  const float n = x / every;
  return (n - std::floor(n + 0.5F)) * every;
}

}  // namespace

Tile brick_tile(std::uint64_t seed) {
  Tile tile;
  const Field ragged = noise(40, 44, 2, seed + 1), body = noise(24, 40, 4, seed + 2),
              grit = noise(120, 200, 2, seed + 3), bloom = noise(4, 5, 4, seed + 4),
              wash = noise(20, 3, 3, seed + 5);
  const Rgb reds[] = {linear_from_srgb(150, 80, 58), linear_from_srgb(132, 68, 50),
                      linear_from_srgb(160, 98, 70), linear_from_srgb(118, 70, 58)};
  const Rgb burnt = linear_from_srgb(84, 56, 54), cement = linear_from_srgb(138, 130, 114),
            sooty = linear_from_srgb(70, 62, 52), lime = linear_from_srgb(206, 200, 184);
  constexpr float wide = static_cast<float>(tile_u) / courses_a_tile,
                  pitch = static_cast<float>(scene::brick_pitch_m) * tile_v / tile_along_m;
  constexpr int rows = static_cast<int>(tile_v / pitch + 0.5F);
  for (int y = 0; y < tile_v; ++y)
    for (int x = 0; x < tile_u; ++x) {
      const std::size_t t = static_cast<std::size_t>(y) * tile_u + static_cast<std::size_t>(x);
      const int course = static_cast<int>((static_cast<float>(x) + 0.5F) / wide);
      const float lag = course % 2 == 0 ? 0 : 0.5F * pitch;
      const float u = static_cast<float>(x) + 0.5F, v = static_cast<float>(y) + 0.5F - lag;
      const int row = (static_cast<int>(std::floor(v / pitch)) + rows) % rows;
      // Its beds are 75 mm apart where a tile is drawn as wide as it means to be.
      const float bed = std::abs(off_multiple(u, wide)) * 75.0F / wide,
                  head = std::abs(off_multiple(v, pitch)) * mm_v;
      const float edge = std::min(bed, head) + 0.8F * ragged[t];
      const float face = smooth_step(4.2F, 5.8F, edge), arris = smooth_step(4.2F, 9.5F, edge);
      const float hue = hash_unit(seed, course * 31 + row, 11);
      Rgb c = blend(reds[static_cast<int>(hue * 3.999F)], burnt,
                    0.55F * smooth_step(0.25F, 1.1F, body[t] + 0.3F * grit[t]));
      c = (1 + 0.16F * grit[t]) * c;
      Rgb joint = blend(cement, sooty, smooth_step(-0.5F, 0.9F, body[t] + 0.5F * wash[t]));
      joint = (1 + 0.20F * grit[t]) * joint;
      c = blend(joint, c, face);
      // Salts that water has carried out of the wall, and what it has washed down.
      c = blend(c, lime, 0.34F * smooth_step(0.35F, 1.1F, bloom[t] + 0.35F * body[t]));
      c = blend(c, sooty, 0.30F * smooth_step(0.2F, 1.0F, wash[t] + 0.3F * bloom[t]));
      tile.albedo[t] = c;
      tile.height_mm[t] =
          2.6F * face + 1.5F * arris + 0.35F * body[t] + (0.18F + 0.15F * (1 - face)) * grit[t];
      tile.gloss[t] = 0.03F + 0.20F * face;
      tile.open[t] = 1 - 0.45F * (1 - face);
    }
  // Pits of the firing, and corners knocked off.
  strew(260, 0.6F, 3.2F, seed + 6, [&](std::size_t t, float away, int, float r) {
    const float k = 1 - smooth_step(0.5F, 1.0F, away + 0.2F * grit[t]);
    tile.height_mm[t] -= 0.5F * r * k;
    tile.open[t] = std::min(tile.open[t], 1 - 0.5F * k);
    tile.albedo[t] = (1 - 0.35F * k) * tile.albedo[t];
  });
  return tile;
}

Tile polyethylene_tile(std::uint64_t seed) {
  Tile tile;
  // The die leaves lines along the pipe, as straight as it is long; a thin film dulls it in clouds.
  const Field die = noise(150, 1, 1, seed + 1), broad = noise(23, 1, 2, seed + 2),
              film = noise(4, 6, 5, seed + 3), dust = noise(90, 120, 2, seed + 4),
              fall = noise(22, 3, 4, seed + 5);
  const Rgb black = linear_from_srgb(30, 30, 32), dull = linear_from_srgb(62, 60, 56);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    const float grime = smooth_step(0.0F, 1.3F, film[t] + 0.35F * fall[t] + 0.1F * dust[t]);
    tile.albedo[t] = (1 + 0.10F * die[t]) * blend(black, dull, 0.32F * grime);
    tile.height_mm[t] = 0.045F * die[t] + 0.07F * broad[t] + 0.012F * dust[t] + 0.3F * film[t];
    tile.gloss[t] = 0.85F - 0.35F * grime;
  }
  // Scratches of rods and of the pipe's own handling.
  strew(
      24, 0.25F, 0.55F, seed + 6,
      [&](std::size_t t, float away, int, float) {
        tile.albedo[t] = blend(tile.albedo[t], linear_from_srgb(84, 84, 84), 0.35F * (1 - away));
        tile.height_mm[t] -= 0.06F * (1 - away);
      },
      110);
  bead(tile, 20 + static_cast<int>(120 * hash_unit(seed, 6, 1)), 0.3F, 1.3F, seed + 7);
  return tile;
}

Tile pitch_fibre_tile(std::uint64_t seed) {
  Tile tile;
  // Paper felt soaked with pitch: matt, wound round, faint fibres; it lifts in slight blisters.
  const Field broad = noise(4, 6, 4, seed + 1), felt = noise(26, 190, 2, seed + 2),
              fluff = noise(110, 130, 2, seed + 3), wear = noise(5, 9, 4, seed + 4),
              fall = noise(22, 3, 3, seed + 5);
  const Rgb black = linear_from_srgb(38, 33, 30), brown = linear_from_srgb(49, 40, 33),
            grey = linear_from_srgb(62, 55, 48);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(black, brown, smooth_step(-0.7F, 1.0F, broad[t] + 0.4F * felt[t]));
    c = blend(c, grey, 0.28F * smooth_step(0.35F, 1.1F, wear[t] + 0.3F * fall[t] + 0.15F * fluff[t]));
    tile.albedo[t] = (1 + 0.12F * felt[t] + 0.10F * fluff[t]) * c;
    tile.height_mm[t] = 0.5F * broad[t] + 0.10F * felt[t] + 0.12F * fluff[t];
    tile.gloss[t] = 0.05F;
  }
  strew(
      90, 3.0F, 14.0F, seed + 6,
      [&](std::size_t t, float away, int n, float r) {
        const float off = away * (1 + 0.15F * broad[t]);
        if (off >= 1) return;
        const float dome = (1 - off * off) * (1 - off * off);
        tile.height_mm[t] += (0.09F + 0.12F * hash_unit(seed, n, 3)) * r * dome;
        tile.albedo[t] = (1 + 0.14F * dome) * tile.albedo[t];
        tile.gloss[t] += 0.05F * dome;
      },
      1.4F);
  return tile;
}

Tile fibre_cement_tile(std::uint64_t seed) {
  Tile tile;
  // Wound on a polished core: smooth, the felt's weave and the turns of the winding only just to be seen.
  const Field broad = noise(3, 4, 4, seed + 1), weave_u = noise(200, 8, 1, seed + 2),
              weave_v = noise(8, 300, 1, seed + 3), turns = noise(1, 9, 2, seed + 4),
              fine = noise(80, 120, 2, seed + 5), fall = noise(24, 3, 4, seed + 6);
  const Rgb grey = linear_from_srgb(178, 178, 172), pale = linear_from_srgb(200, 199, 192),
            stained = linear_from_srgb(140, 128, 106);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(grey, pale, smooth_step(-0.8F, 1.0F, broad[t] + 0.5F * turns[t]));
    c = blend(c, stained, 0.40F * smooth_step(0.3F, 1.2F, fall[t] + 0.35F * broad[t]));
    tile.albedo[t] = (1 + 0.03F * fine[t] + 0.025F * (weave_u[t] + weave_v[t])) * c;
    tile.height_mm[t] = 0.20F * broad[t] + 0.018F * (weave_u[t] + weave_v[t]) + 0.10F * turns[t];
    tile.gloss[t] = 0.16F;
  }
  // Fibres that show as short pale lines, any way.
  strew(
      300, 0.25F, 0.5F, seed + 7,
      [&](std::size_t t, float away, int, float) {
        tile.albedo[t] = (1 + 0.10F * (1 - away)) * tile.albedo[t];
      },
      9);
  return tile;
}

Tile liner_tile(std::uint64_t seed) {
  Tile tile;
  // Felt under a skin of resin: its colour comes through in clouds and short hairs, its skin is like varnish.
  // Albedo is relative: the run's own colour multiplies it.
  const Field cloud = noise(3, 4, 4, seed + 1), hair = noise(56, 70, 2, seed + 2),
              swell = noise(3, 5, 2, seed + 3), runs = noise(14, 2, 3, seed + 4),
              film = noise(6, 8, 4, seed + 5);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    const float resin = smooth_step(-0.6F, 1.0F, cloud[t] + 0.25F * runs[t]);
    Rgb c = blend(Rgb{0.92F, 0.92F, 0.92F}, Rgb{0.72F, 0.66F, 0.54F}, 0.55F * resin);
    const float grime = smooth_step(0.3F, 1.2F, film[t] + 0.3F * runs[t]);
    c = blend(c, Rgb{0.42F, 0.34F, 0.24F}, 0.38F * grime);
    tile.albedo[t] = (1 + 0.05F * hair[t]) * c;
    tile.height_mm[t] = 0.9F * swell[t] + 0.075F * hair[t] + 0.12F * runs[t];
    tile.gloss[t] = 0.95F - 0.40F * grime;
  }
  strew(
      500, 0.25F, 0.45F, seed + 6,
      [&](std::size_t t, float away, int n, float) {
        const float k = (1 - away) * (hash_unit(seed, n, 5) < 0.5F ? 0.16F : -0.14F);
        tile.albedo[t] = (1 + k) * tile.albedo[t];
      },
      14);
  // Small bubbles in the skin.
  strew(160, 0.5F, 2.0F, seed + 7,
        [&](std::size_t t, float away, int, float r) { tile.height_mm[t] += 0.22F * r * (1 - away * away); });
  bead(tile, 110, 0.4F, 1.7F, seed + 8);
  return tile;
}

}  // namespace haunch::render
