// SPDX-License-Identifier: Apache-2.0
// What walls are made of, as tiles of our own seeded noise over (angle, chainage). Every tile is kept
// at all pairs of scales, one for each direction, because a pipe seen along its axis is squeezed
// along its length far more than round it: a common mip chain would blur it to mush.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "scene/scenario.hpp"

namespace haunch::render {

inline constexpr int tile_u = 512, tile_v = 1024;  ///< texels round and along
inline constexpr float tile_round_m = 0.25F;       ///< about; a whole number of tiles goes round
inline constexpr float tile_along_m = 0.60F;
inline constexpr int levels_u = 9, levels_v = 10;  ///< halvings kept: down to 2 x 2
inline constexpr int mottle_size = 256;

/// A wall's tile hangs on its material and its look; only those of the scene are made.
inline constexpr int tile_kinds = scene::material_count * scene::look_count;
int tile_kind(const scene::Section& section);

struct Textures {
  /// Two words a texel, side by side because they are read together. First: square roots of linear
  /// albedo in bytes 0..2, gloss in byte 3. Second: slope round, slope along (128 is level, 85 a step
  /// is 1:1), openness (255 is open), nothing.
  std::vector<std::uint32_t> texels;
  /// Four independent smooth noises in one word.
  std::vector<std::uint32_t> mottle;
  /// Where level (u, v) starts inside a tile: level_start[u * levels_v + v].
  std::vector<std::int32_t> level_start;
  /// Where each kind's tile starts, in texels; of no meaning where the scene has none of that kind.
  std::int32_t tile_start[tile_kinds] = {};
  /// Mean linear albedo of each kind's tile.
  float mean[tile_kinds][3] = {};
};

Textures make_textures(const scene::Scenario& scenario);

}  // namespace haunch::render
