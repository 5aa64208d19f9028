// SPDX-License-Identifier: Apache-2.0
// The look of sixteen places on meshes at a time: fine bumps and specks from a small block of smooth
// noise that repeats, then the lamp.
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

/// Of one kind of grain.
struct GrainLook {
  float cell_m;   // of the noise; a bump is about four wide
  float slope;    // how steep its bumps are
  float fine;     // the same for grain a third as large
  float speckle;  // how far brightness varies
  float smear;    // 1: broad smears as well
};
GrainLook grain_look(Grain grain);

inline constexpr int shade_lanes = 16;
struct ShadeGroup {
  // Rays, and how far they have come before; the places they have hit lie `depth` along them.
  alignas(64) float x[shade_lanes], y[shade_lanes], z[shade_lanes];
  alignas(64) float dx[shade_lanes], dy[shade_lanes], dz[shade_lanes];
  alignas(64) float travelled[shade_lanes], lamp[shade_lanes], depth[shade_lanes];
  // Triangles (x, y, z of their corners), and how much of the second and third corner there is in the place.
  alignas(64) float a[3][shade_lanes], b[3][shade_lanes], c[3][shade_lanes];
  alignas(64) float share_b[shade_lanes], share_c[shade_lanes];
  // Normals there, of any length; they come back as unit vectors towards the lens, bent.
  alignas(64) float nx[shade_lanes], ny[shade_lanes], nz[shade_lanes];
  alignas(64) float red[shade_lanes], green[shade_lanes], blue[shade_lanes];  // albedo; comes back as light
  alignas(64) float gloss[shade_lanes];
  alignas(64) float cell[shade_lanes], slope[shade_lanes], fine[shade_lanes], speckle[shade_lanes],
      smear[shade_lanes];
};
/// Embree names the triangle; where on it the ray meets it is worked out again, in one order of steps: its
/// own kernels differ in the last bits from one instruction set to the next, and the grain of rough matter
/// makes much of that. Depth and shares come back better; as they were where a triangle is seen edge on.
void settle_group(ShadeGroup& group);
/// What is finer than the pixel fades: that is `pixel` a metre of depth and `pixel_m` besides. The highlight
/// has the narrowness `mesh_shine`.
void shade_group(const GrainNoise& noise, float pixel, float pixel_m, ShadeGroup& group);
inline constexpr float mesh_shine = 16;  // as Matter::shine_power

/// The box (low and high corner) around the rays up to what they have met so far.
void box_of_rays(const Samples& samples, float* low, float* high);
/// The rays that pass through a box (low and high corner) before they meet what they have met so
/// far. `found` has room for all of them and sixteen more; gives their number.
int rays_through(const Samples& samples, const float* low, const float* high, std::int32_t* found);

}  // namespace haunch::render
