// SPDX-License-Identifier: Apache-2.0
// What a material's wall is like beyond its tile: joints, ends, wetting, and what no tile can hold.
// Room-internal header.
#pragma once

#include <cstdint>

#include "render/samples.hpp"
#include "render/wall.hpp"

namespace haunch::render {

struct WallLook {
  Rgb tint{1, 1, 1};
  float gloss = 1, bumps = 1, soak = 0.2F, sludge = 0.6F;
  float smear_m = 0;  ///< width of mortar, rust or dirt beside the joints; 0 there is none
  Rgb smear;
  float smear_gloss = 0.2F;
  Rgb face;
  Rgb groove;
  float print = 0;
  float grain = 0.6F;
  float varies = 0.1F;  ///< from unit to unit
};
/// `seed` picks among the colours a liner comes in.
WallLook look_of(const scene::Section& section, std::uint64_t seed);

/// Single bricks, a liner's ripples over old joints and its seam, a channel worn into iron.
void make_particular(Stretch& stretch, const scene::Scene& scene, const scene::Piece& piece);

}  // namespace haunch::render
