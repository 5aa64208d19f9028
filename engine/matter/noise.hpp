// SPDX-License-Identifier: Apache-2.0
// Seeded noise for the shapes and colours of matter: hashed value noise, only + - * and floor, so
// the same everywhere.
#pragma once

#include <cmath>
#include <cstdint>

namespace haunch::matter {

/// A whole number in -1 .. 1 for a lattice point.
inline float lattice_noise(std::int32_t x, std::int32_t y, std::int32_t z, std::uint32_t seed) {
  std::uint32_t h = static_cast<std::uint32_t>(x) * 0x8da6b343U ^
                    static_cast<std::uint32_t>(y) * 0xd8163841U ^
                    static_cast<std::uint32_t>(z) * 0xcb1ab31fU ^ seed * 0x9e3779b1U;
  h ^= h >> 15U;
  h *= 0x2c1b3c6dU;
  h ^= h >> 12U;
  h *= 0x297a2d39U;
  h ^= h >> 15U;
  return static_cast<float>(h >> 8U) * (2.0F / 16777216.0F) - 1.0F;
}

/// Smooth noise, -1 .. 1, features of about size 1.
inline float noise(float x, float y, float z, std::uint32_t seed) {
  // Towards minus infinity without a call: this is asked millions of times a picture.
  const auto below = [](float v) {
    const auto cut = static_cast<std::int32_t>(v);
    return cut - (v < static_cast<float>(cut) ? 1 : 0);
  };
  const std::int32_t ix = below(x), iy = below(y), iz = below(z);
  const auto fx = static_cast<float>(ix), fy = static_cast<float>(iy), fz = static_cast<float>(iz);
  const auto smooth = [](float t) { return t * t * (3 - 2 * t); };
  const float u = smooth(x - fx), v = smooth(y - fy), w = smooth(z - fz);
  const auto mixed = [](float a, float b, float t) { return a + (b - a) * t; };
  const auto row = [&](std::int32_t dy, std::int32_t dz) {
    return mixed(lattice_noise(ix, iy + dy, iz + dz, seed), lattice_noise(ix + 1, iy + dy, iz + dz, seed), u);
  };
  return mixed(mixed(row(0, 0), row(1, 0), v), mixed(row(0, 1), row(1, 1), v), w);
}

/// Octaves of noise, each half as large and half as strong (`gain`).
inline float layered_noise(float x, float y, float z, std::uint32_t seed, int octaves, float gain = 0.5F) {
  float sum = 0, strength = 1, total = 0;
  for (int i = 0; i < octaves; ++i) {
    sum += strength * noise(x, y, z, seed + static_cast<std::uint32_t>(i) * 101U);
    total += strength;
    strength *= gain;
    x *= 2.03F, y *= 2.03F, z *= 2.03F;
  }
  return sum / total;
}

}  // namespace haunch::matter
