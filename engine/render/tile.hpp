// SPDX-License-Identifier: Apache-2.0
// A tile of wall in the making: heights, colours and gloss over (round, along), out of noise that repeats.
// Room-internal header.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/random.hpp"
#include "render/samples.hpp"
#include "render/textures.hpp"

namespace haunch::render {

inline constexpr std::size_t tile_texels = std::size_t{tile_u} * tile_v;

/// One value for each texel of a tile.
using Field = std::vector<float>;

float hash_unit(std::uint64_t seed, int x, int y);  ///< 0 .. 1
inline float smooth_step(float low, float high, float x) {
  const float t = std::clamp((x - low) / (high - low), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}
/// Noise in octaves that repeats over a w x h field, its lumps cells_u x cells_v and then ever finer.
Field noise(int cells_u, int cells_v, int octaves, std::uint64_t seed, int w = tile_u, int h = tile_v);

/// Round things strewn over a tile: calls paint(texel, distance as a share of the radius, number).
template <class Paint>
void strew(int many, float least_mm, float most_mm, std::uint64_t seed, Paint paint, float stretch_v = 1) {
  base::Random random(seed);
  const float du = tile_round_m * 1000 / tile_u, dv = tile_along_m * 1000 / tile_v;
  for (int n = 0; n < many; ++n) {
    const float u = static_cast<float>(random.uniform(0, tile_u)),
                v = static_cast<float>(random.uniform(0, tile_v));
    const float pick = static_cast<float>(random.uniform());
    const float r = least_mm + (most_mm - least_mm) * pick * pick * pick;
    const int ru = static_cast<int>(std::ceil(r / du)), rv = static_cast<int>(std::ceil(r * stretch_v / dv));
    for (int y = -rv; y <= rv; ++y)
      for (int x = -ru; x <= ru; ++x) {
        const int tu = static_cast<int>(u) + x, tv = static_cast<int>(v) + y;
        const float ex = (static_cast<float>(tu) + 0.5F - u) * du,
                    ey = (static_cast<float>(tv) + 0.5F - v) * dv / stretch_v;
        const float away = std::sqrt(ex * ex + ey * ey) / r;
        if (away < 1)
          paint(static_cast<std::size_t>((tv + tile_v) % tile_v) * tile_u +
                    static_cast<std::size_t>((tu + tile_u) % tile_u),
                away, n, r);
      }
  }
}

struct Tile {
  std::vector<Rgb> albedo = std::vector<Rgb>(tile_texels);
  Field height_mm = Field(tile_texels, 0.0F);
  Field gloss = Field(tile_texels, 0.3F);
  Field open = Field(tile_texels, 1.0F);
};

/// Beads of water that hang on a smooth wall: steep little lenses, each of which will glint.
void bead(Tile& tile, int many, float least_mm, float most_mm, std::uint64_t seed);

Tile clay_tile(scene::Look look, std::uint64_t seed);
Tile pvc_tile(std::uint64_t seed);
Tile iron_tile(scene::Look look, std::uint64_t seed);
Tile concrete_tile(scene::Look look, std::uint64_t seed);
Tile brick_tile(std::uint64_t seed);
Tile polyethylene_tile(std::uint64_t seed);
Tile pitch_fibre_tile(std::uint64_t seed);
Tile fibre_cement_tile(std::uint64_t seed);
Tile liner_tile(std::uint64_t seed);

}  // namespace haunch::render
