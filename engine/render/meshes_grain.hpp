// SPDX-License-Identifier: Apache-2.0
// Fine grain on meshes: bumps and specks from a small block of smooth noise that repeats.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "render/meshes.hpp"

namespace haunch::render {

inline constexpr int grain_side = 64;
struct GrainNoise {
  std::vector<float> cells;  // grain_side cubed, -1 .. 1, repeating
};
GrainNoise make_grain_noise();

/// Bends the normal and speckles colour and gloss of a place; what is finer than the pixel fades.
void add_grain(const GrainNoise& noise, Grain grain, float x, float y, float z, float pixel_m, float& nx,
               float& ny, float& nz, Rgb& albedo, float& gloss);

}  // namespace haunch::render
