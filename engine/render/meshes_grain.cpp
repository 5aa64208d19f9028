// SPDX-License-Identifier: Apache-2.0
#include "render/meshes_grain.hpp"

#include <algorithm>
#include <cmath>

#include "scene/matter_noise.hpp"

namespace haunch::render {
namespace {

struct Bump {
  float value = 0, gx = 0, gy = 0, gz = 0;  // and its slope
};

Bump bump_at(const GrainNoise& noise, float x, float y, float z) {
  const float fx = std::floor(x), fy = std::floor(y), fz = std::floor(z);
  const float u = x - fx, v = y - fy, w = z - fz;
  const auto wrap = [](float f) {
    return static_cast<std::uint32_t>(static_cast<std::int32_t>(f)) & (grain_side - 1U);
  };
  const std::uint32_t ix = wrap(fx), iy = wrap(fy), iz = wrap(fz);
  const std::uint32_t jx = (ix + 1) & (grain_side - 1U), jy = (iy + 1) & (grain_side - 1U),
                      jz = (iz + 1) & (grain_side - 1U);
  const auto at = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    return noise.cells[(c * grain_side + b) * grain_side + a];
  };
  const float c000 = at(ix, iy, iz), c100 = at(jx, iy, iz), c010 = at(ix, jy, iz), c110 = at(jx, jy, iz);
  const float c001 = at(ix, iy, jz), c101 = at(jx, iy, jz), c011 = at(ix, jy, jz), c111 = at(jx, jy, jz);
  const float x00 = c000 + u * (c100 - c000), x10 = c010 + u * (c110 - c010), x01 = c001 + u * (c101 - c001),
              x11 = c011 + u * (c111 - c011);
  const float y0 = x00 + v * (x10 - x00), y1 = x01 + v * (x11 - x01);
  Bump b;
  b.value = y0 + w * (y1 - y0);
  b.gz = y1 - y0;
  b.gy = (x10 - x00) + w * ((x11 - x01) - (x10 - x00));
  const float dx0 = (c100 - c000) + v * ((c110 - c010) - (c100 - c000)),
              dx1 = (c101 - c001) + v * ((c111 - c011) - (c101 - c001));
  b.gx = dx0 + w * (dx1 - dx0);
  return b;
}

struct Look {
  float cell_m;   // size of the coarser grain
  float slope;    // how steep its bumps are
  float fine;     // the same for grain a third as large
  float speckle;  // how far brightness varies
};
Look look_of(Grain grain) {
  switch (grain) {
    case Grain::soil:
      return {0.0011F, 0.75F, 0.55F, 0.50F};
    case Grain::fat:
      return {0.0019F, 0.40F, 0.32F, 0.14F};
    case Grain::crust:
      return {0.0013F, 0.55F, 0.40F, 0.30F};
    case Grain::silt:
      return {0.0016F, 0.40F, 0.45F, 0.22F};
    case Grain::slime:
      return {0.0022F, 0.45F, 0.2F, 0.25F};
    case Grain::stone:
      return {0.0018F, 0.30F, 0.35F, 0.22F};
    case Grain::plain:
      break;
  }
  return {0.0040F, 0.05F, 0.03F, 0.06F};
}

}  // namespace

GrainNoise make_grain_noise() {
  // Features four cells wide, so that straight blending between cells still looks smooth.
  GrainNoise noise;
  noise.cells.resize(static_cast<std::size_t>(grain_side) * grain_side * grain_side);
  constexpr int wave = 4, period = grain_side / wave;
  const auto lattice = [](int x, int y, int z) {
    return scene::lattice_noise(x % period, y % period, z % period, 77U);
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

void add_grain(const GrainNoise& noise, Grain grain, float x, float y, float z, float pixel_m, float& nx,
               float& ny, float& nz, Rgb& albedo, float& gloss) {
  const Look look = look_of(grain);
  const float feature = 4 * look.cell_m;
  float bend_x = 0, bend_y = 0, bend_z = 0, speck = 0;
  const auto add = [&](float cell, float slope, float share) {
    const float seen = std::clamp(1.5F - pixel_m / (2 * cell), 0.0F, 1.0F);
    if (seen <= 0) return;
    const Bump b = bump_at(noise, x / cell, y / cell, z / cell);
    const float k = 2.0F * slope * seen;
    bend_x += k * b.gx, bend_y += k * b.gy, bend_z += k * b.gz;
    speck += share * seen * b.value;
  };
  add(look.cell_m, look.slope, 0.6F);
  add(look.cell_m * 0.37F, look.fine, 0.4F);
  if (grain == Grain::fat || grain == Grain::plain || grain == Grain::slime) {
    // Broad smears as well.
    const Bump b = bump_at(noise, x / (feature * 2.3F), y / (feature * 2.3F), z / (feature * 2.3F));
    speck += 0.5F * b.value;
    gloss *= std::clamp(1 + 0.7F * b.value, 0.2F, 1.7F);
  }
  // Only the part of the slope that lies in the surface bends it.
  const float up = bend_x * nx + bend_y * ny + bend_z * nz;
  nx -= bend_x - up * nx, ny -= bend_y - up * ny, nz -= bend_z - up * nz;
  const float inverse = 1 / std::sqrt(nx * nx + ny * ny + nz * nz);
  nx *= inverse, ny *= inverse, nz *= inverse;
  albedo = std::max(0.15F, 1 + 2 * look.speckle * speck) * albedo;
}

}  // namespace haunch::render
