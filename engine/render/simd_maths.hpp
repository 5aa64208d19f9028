// SPDX-License-Identifier: Apache-2.0
// Small vector functions shared by the vector passes; included once for each instruction set.
// Polynomials instead of library calls, so that every instruction set gives the same bits.
#if defined(HAUNCH_RENDER_SIMD_MATHS) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_SIMD_MATHS
#undef HAUNCH_RENDER_SIMD_MATHS
#else
#define HAUNCH_RENDER_SIMD_MATHS
#endif

#include <cstdint>

#include "hwy/highway.h"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {
namespace hn = hwy::HWY_NAMESPACE;

using F = hn::CappedTag<float, 16>;
using I = hn::RebindToSigned<F>;
using U = hn::RebindToUnsigned<F>;
using V = hn::Vec<F>;
using VI = hn::Vec<I>;
using VU = hn::Vec<U>;
using M = hn::Mask<F>;

HWY_INLINE int lanes() { return static_cast<int>(hn::Lanes(F())); }
HWY_INLINE V Square(V x) { return x * x; }

/// 1 / sqrt(x) within 5e-6 of itself for positive numbers, finite for 0. By hand, because the
/// machines' own quick ones differ and their exact ones are slow.
HWY_INLINE V InverseRoot(V x) {
  const V half = x * hn::Set(F(), 0.5F), most = hn::Set(F(), 1.5F);
  V y = hn::BitCast(F(), hn::Set(I(), 0x5f375a86) - hn::ShiftRight<1>(hn::BitCast(I(), x)));
  y = y * (most - half * y * y);
  return y * (most - half * y * y);
}
/// 1 / x within 3e-7 of itself for positive numbers of no extreme size.
HWY_INLINE V Inverse(V x) {
  const V two = hn::Set(F(), 2.0F);
  V y = hn::BitCast(F(), hn::Set(I(), 0x7ef311c7) - hn::BitCast(I(), x));
  y = y * (two - x * y);
  y = y * (two - x * y);
  return y * (two - x * y);
}

/// 0 below low, 1 above high, smooth between.
HWY_INLINE V Smooth(float low, float high, V x) {
  const V t =
      hn::Clamp((x - hn::Set(F(), low)) * hn::Set(F(), 1 / (high - low)), hn::Zero(F()), hn::Set(F(), 1.0F));
  return t * t * (hn::Set(F(), 3.0F) - hn::Set(F(), 2.0F) * t);
}

/// Sine within 0.001, by two parabolas; the same bits everywhere.
HWY_INLINE V Sine(V x) {
  const auto k = [](float c) { return hn::Set(F(), c); };
  const V turns = x * k(0.159154943F);
  const V r = (turns - hn::Floor(turns + k(0.5F))) * k(6.28318531F);
  const V y = k(1.27323954F) * r - k(0.405284735F) * r * hn::Abs(r);
  return k(0.225F) * (y * hn::Abs(y) - y) + y;
}

/// Clockwise from the crown for a direction (x to the right, y up), [0, 2 pi). Within 2e-5 radians.
HWY_INLINE V Angle(V x, V y) {
  const auto k = [](float c) { return hn::Set(F(), c); };
  const V ax = hn::Abs(x), ay = hn::Abs(y);
  const V q = hn::Min(ax, ay) / hn::Max(hn::Max(ax, ay), k(1e-20F)), s = q * q;
  V a = k(-0.0117212F) * s + k(0.05265332F);
  a = a * s + k(-0.11643287F);
  a = a * s + k(0.19354346F);
  a = a * s + k(-0.33262347F);
  a = (a * s + k(0.99997726F)) * q;
  a = hn::IfThenElse(ax > ay, k(1.57079633F) - a, a);
  a = hn::IfThenElse(y < hn::Zero(F()), k(3.14159265F) - a, a);
  return hn::IfThenElse(x < hn::Zero(F()), k(6.28318531F) - a, a);
}

/// Logarithm to base 2 of a positive number, straight between powers.
HWY_INLINE V Log2(V x) {
  const VI bits = hn::BitCast(I(), x);
  return hn::ConvertTo(F(), bits) * hn::Set(F(), 1.0F / 8388608.0F) - hn::Set(F(), 127.0F);
}
/// 2 to the power of minus a whole number.
HWY_INLINE V Pow2Minus(VI n) { return hn::BitCast(F(), hn::ShiftLeft<23>(hn::Set(I(), 127) - n)); }

/// Scrambles bits.
HWY_INLINE VU Scramble(VU x) {
  x = x * hn::Set(U(), 0x85ebca6bU);
  x = x ^ hn::ShiftRight<15>(x);
  x = x * hn::Set(U(), 0xc2b2ae35U);
  x = x ^ hn::ShiftRight<13>(x);
  return x * hn::Set(U(), 0x27d4eb2fU);
}
/// The same to a number in [0, 1).
HWY_INLINE V Hash01(VU x) {
  return hn::ConvertTo(F(), hn::BitCast(I(), hn::ShiftRight<8>(Scramble(x)))) *
         hn::Set(F(), 1.0F / 16777216.0F);
}

/// Linear light in one word: nine bits a colour and five for a power of two they share (within 0.2 %
/// of the strongest colour, from 2^-26 to 2^14).
HWY_INLINE VU PackLight(V r, V g, V b) {
  const V strongest = hn::Clamp(hn::Max(hn::Max(r, g), b), hn::Set(F(), 0x1p-18F), hn::Set(F(), 0x1p13F));
  const VI power = hn::ShiftRight<23>(hn::BitCast(I(), strongest));  // as a float has it
  const V scale = hn::BitCast(F(), hn::ShiftLeft<23>(hn::Set(I(), 127 + 126 + 9) - power));
  const auto nine = [&](V x) {
    const V whole = hn::Min(x * scale + hn::Set(F(), 0.5F), hn::Set(F(), 511.0F));
    return hn::BitCast(U(), hn::ConvertTo(I(), whole));
  };
  const VU shared = hn::BitCast(U(), power - hn::Set(I(), 109));
  return hn::Or(hn::Or(nine(r), hn::ShiftLeft<9>(nine(g))),
                hn::Or(hn::ShiftLeft<18>(nine(b)), hn::ShiftLeft<27>(shared)));
}
HWY_INLINE void UnpackLight(VU word, V& r, V& g, V& b) {
  const VI power = hn::BitCast(I(), hn::ShiftRight<27>(word));
  const V unit = hn::BitCast(F(), hn::ShiftLeft<23>(power + hn::Set(I(), 109 + 1 - 9)));
  const VU nine = hn::Set(U(), 511);
  const auto channel = [&](VU x) { return hn::ConvertTo(F(), hn::BitCast(I(), hn::And(x, nine))) * unit; };
  r = channel(word), g = channel(hn::ShiftRight<9>(word)), b = channel(hn::ShiftRight<18>(word));
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
