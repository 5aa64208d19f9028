// SPDX-License-Identifier: Apache-2.0
// What grain looks like, and the block of noise it is made of.
#include "render/meshes_grain.hpp"

#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"

namespace haunch::render {

GrainLook grain_look(Grain grain) {
  switch (grain) {
    case Grain::soil:
      return {0.0011F, 0.75F, 0.55F, 0.50F, 0};
    case Grain::sand:
      return {0.0006F, 0.26F, 0.22F, 0.30F, 0};
    case Grain::fat:
      return {0.0034F, 0.08F, 0.04F, 0.05F, 1};
    case Grain::crust:
      return {0.0013F, 0.32F, 0.22F, 0.22F, 0};
    case Grain::silt:
      return {0.0010F, 0.12F, 0.10F, 0.10F, 1};
    case Grain::slime:
      return {0.0034F, 0.10F, 0.05F, 0.05F, 1};
    case Grain::stone:
      return {0.0018F, 0.30F, 0.35F, 0.22F, 0};
    case Grain::plain:
      break;
  }
  return {0.0040F, 0.05F, 0.03F, 0.06F, 1};
}

GrainNoise make_grain_noise() {
  // Features four cells wide, so that straight blending between cells still looks smooth.
  GrainNoise noise;
  noise.cells.resize(static_cast<std::size_t>(grain_side) * grain_side * grain_side);
  constexpr int wave = 4, period = grain_side / wave;
  const auto lattice = [](int x, int y, int z) {
    return matter::lattice_noise(x % period, y % period, z % period, 77U);
  };
  const auto smooth = [](float t) { return t * t * (3 - 2 * t); };
  std::size_t k = 0;
  for (int z = 0; z < grain_side; ++z)
    for (int y = 0; y < grain_side; ++y)
      for (int x = 0; x < grain_side; ++x) {
        const int lx = x / wave, ly = y / wave, lz = z / wave;
        const float u = smooth(static_cast<float>(x % wave) / wave),
                    v = smooth(static_cast<float>(y % wave) / wave),
                    w = smooth(static_cast<float>(z % wave) / wave);
        const auto mixed = [](float a, float b, float t) { return a + t * (b - a); };
        const auto row = [&](int dy, int dz) {
          return mixed(lattice(lx, ly + dy, lz + dz), lattice(lx + 1, ly + dy, lz + dz), u);
        };
        noise.cells[k++] = mixed(mixed(row(0, 0), row(1, 0), v), mixed(row(0, 1), row(1, 1), v), w);
      }
  return noise;
}

}  // namespace haunch::render
