// SPDX-License-Identifier: Apache-2.0
// matter::noise for many places at once, to the bit the same; included once for each instruction set.
#if defined(HAUNCH_RENDER_NOISE_SIMD) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_NOISE_SIMD
#undef HAUNCH_RENDER_NOISE_SIMD
#else
#define HAUNCH_RENDER_NOISE_SIMD
#endif

#include <cstdint>

#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

/// What a lattice point's three coordinates and the seed come to together.
HWY_INLINE V LatticeNoise(VU h) {
  h = h ^ hn::ShiftRight<15>(h);
  h = h * hn::Set(U(), 0x2c1b3c6dU);
  h = h ^ hn::ShiftRight<12>(h);
  h = h * hn::Set(U(), 0x297a2d39U);
  h = h ^ hn::ShiftRight<15>(h);
  return hn::ConvertTo(F(), hn::BitCast(I(), hn::ShiftRight<8>(h))) * hn::Set(F(), 2.0F / 16777216.0F) -
         hn::Set(F(), 1.0F);
}
/// One coordinate: its lattice point's share of the hash, the next one's, and how far on towards that.
struct NoiseAxis {
  VU here, next;
  V on;
};
HWY_INLINE NoiseAxis AxisOf(V x, std::uint32_t prime) {
  const V cell = hn::Floor(x);
  const V t = x - cell;
  const VU here = hn::BitCast(U(), hn::ConvertTo(I(), cell)) * hn::Set(U(), prime);
  return {here, here + hn::Set(U(), prime), t * t * (hn::Set(F(), 3.0F) - (t + t))};
}
HWY_INLINE V RowOf(const NoiseAxis& x, VU rest) {
  const V a = LatticeNoise(x.here ^ rest);
  return a + (LatticeNoise(x.next ^ rest) - a) * x.on;
}
HWY_INLINE V Noise(V x, V y, V z, std::uint32_t seed) {
  const NoiseAxis ax = AxisOf(x, 0x8da6b343U), ay = AxisOf(y, 0xd8163841U), az = AxisOf(z, 0xcb1ab31fU);
  const VU key = hn::Set(U(), seed * 0x9e3779b1U), near = az.here ^ key, far = az.next ^ key;
  const V a = RowOf(ax, ay.here ^ near), b = RowOf(ax, ay.next ^ near);
  const V c = RowOf(ax, ay.here ^ far), d = RowOf(ax, ay.next ^ far);
  const V low = a + (b - a) * ay.on, high = c + (d - c) * ay.on;
  return low + (high - low) * az.on;
}
/// As matter::layered_noise, with two octaves.
HWY_INLINE V LayeredNoise(V x, V y, float z, std::uint32_t seed) {
  const V on = hn::Set(F(), 2.03F);
  const V broad = Noise(x, y, hn::Set(F(), z), seed),
          fine = Noise(x * on, y * on, hn::Set(F(), z * 2.03F), seed + 101U);
  return (broad + hn::Set(F(), 0.5F) * fine) * hn::Set(F(), 1 / 1.5F);
}
/// Noise where y is a whole number: half of the lattice has no weight.
HWY_INLINE V NoiseOnRow(V x, V y, float z, std::uint32_t seed) {
  const NoiseAxis ax = AxisOf(x, 0x8da6b343U), az = AxisOf(hn::Set(F(), z), 0xcb1ab31fU);
  const VU row =
      hn::BitCast(U(), hn::ConvertTo(I(), y)) * hn::Set(U(), 0xd8163841U) ^ hn::Set(U(), seed * 0x9e3779b1U);
  const V low = RowOf(ax, row ^ az.here), high = RowOf(ax, row ^ az.next);
  return low + (high - low) * az.on;
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
