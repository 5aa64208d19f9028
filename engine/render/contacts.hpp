// SPDX-License-Identifier: Apache-2.0
// Where things in the bore touch the wall: less light gets in there, it stays wet, and what is loose lies
// strewn about. Painted on the wall, and no fault's own pixel.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "render/meshes.hpp"
#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// About one thing: a grid over chainage and the whole way round the wall.
struct Contact {
  float z0 = 0, z1 = 0;  ///< chainage, m
  float step = 0.003F;   ///< of the grid along the pipe, m
  float columns_a_radian = 0;
  int rows = 0, columns = 0;
  std::vector<float> dark;    ///< share of the wall's light that is gone
  std::vector<float> strewn;  ///< how thickly matter lies there, 0 .. 1; or empty
  float wall = 0;             ///< radius of the wall, m
  Rgb matter;                 ///< albedo of what is strewn
  float grain_m = 0.0015F;    ///< its size
  float gloss = 0;
  std::uint32_t seed = 0;
};

std::vector<Contact> make_contacts(const scene::Scene& scene, const Meshes& meshes);
void paint_contacts(const std::vector<Contact>& contacts, Samples& samples);

}  // namespace haunch::render
