// SPDX-License-Identifier: Apache-2.0
// The drawing out by vectors; whole numbers where colours meet, so the same everywhere.
#include "render/motion.hpp"

#include <algorithm>

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/motion_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// Mean of four words of three times ten bits.
HWY_INLINE VU MeanOfFour(VU a, VU b, VU c, VU d) {
  const VU outer = hn::Set(U(), 0x3ff003ffU), inner = hn::Set(U(), 0x000ffc00U);
  const auto sum = [&](VU mask) {
    return hn::And(a, mask) + hn::And(b, mask) + (hn::And(c, mask) + hn::And(d, mask));
  };
  const VU red_blue = sum(outer) + hn::Set(U(), (2U << 20) | 2U), green = sum(inner) + hn::Set(U(), 2U << 10);
  return hn::Or(hn::And(hn::ShiftRight<2>(red_blue), outer), hn::And(hn::ShiftRight<2>(green), inner));
}
/// Of two, rounded down.
HWY_INLINE VU MeanOfTwo(VU a, VU b) {
  return hn::And(a, b) + hn::ShiftRight<1>(hn::And(hn::Xor(a, b), hn::Set(U(), 0x3feffbfeU)));
}

void DrawOut(const Motion& m, const std::uint32_t* toned, const float* depth, int width, int height, int row,
             std::uint32_t* out) {
  const auto k = [](float c) { return hn::Set(F(), c); };
  constexpr float longest_px = 60;
  const auto wide = static_cast<float>(width), high = static_cast<float>(height);
  const auto* words = reinterpret_cast<const std::int32_t*>(toned);
  const V y = k((1 - (2 * static_cast<float>(row) + 1) / high) * m.half_height);
  const V across = k(wide / 2 / m.half_width), down = k(-high / 2 / m.half_height);
  const std::int32_t row_start = row * width;
  for (int x0 = 0; x0 < width; x0 += lanes()) {
    const V px = hn::ConvertTo(F(), hn::Iota(I(), x0));
    const V x = ((px + k(0.5F)) * k(2 / wide) - k(1)) * k(m.half_width);
    // A row's last vector must neither read nor write past it.
    const int left = std::min(width - x0, lanes());
    alignas(64) float own_depth[16];
    const float* at_depth = depth + row_start + x0;
    if (left < lanes()) {
      std::fill(std::copy_n(at_depth, left, own_depth), own_depth + 16, 1.0F);
      at_depth = own_depth;
    }
    alignas(64) std::uint32_t own_out[16];
    std::uint32_t* to = left < lanes() ? own_out : out + x0;
    const V far = hn::Clamp(hn::LoadU(F(), at_depth), k(0.02F), k(1e4F));
    const V nearness = hn::Sqrt(x * x + y * y + k(1)) / far;
    // The scene's way over the picture, in pixels.
    V way_x = ((x * k(m.ahead) - k(m.right)) * nearness - y * k(m.turn)) * across;
    V way_y = ((y * k(m.ahead) - k(m.up)) * nearness + x * k(m.turn)) * down;
    const V size2 = way_x * way_x + way_y * way_y;
    const V scale = hn::Min(k(1), k(longest_px) / hn::Sqrt(hn::Max(size2, k(1e-6F))));
    way_x = way_x * scale, way_y = way_y * scale;
    if (hn::AllTrue(F(), size2 < k(0.4F)) && m.shift == 0) {
      std::copy_n(toned + row_start + x0, left, out + x0);
      continue;
    }
    // What stands here a little later (the half pictures) was a little less far along its way before.
    const V from_x = px - k(m.shift) * way_x, from_y = k(static_cast<float>(row)) - k(m.shift) * way_y;
    // Eight places along the way, where exactly differs from pixel to pixel: bands would show.
    const VU place = hn::BitCast(U(), hn::Iota(I(), row_start + x0));
    const V jitter = Hash01(place * hn::Set(U(), 0x9e3779b1U)) - k(4);
    const auto tap = [&](float n) {
      const V along = (k(n) + jitter) * k(0.125F);
      const V sx = hn::Clamp(from_x + along * way_x + k(0.5F), k(0), k(wide - 1)),
              sy = hn::Clamp(from_y + along * way_y + k(0.5F), k(0), k(high - 1));
      const VI at =
          hn::ConvertTo(I(), hn::Floor(sy)) * hn::Set(I(), width) + hn::ConvertTo(I(), hn::Floor(sx));
      return hn::BitCast(U(), hn::GatherIndex(I(), words, at));
    };
    const VU first = MeanOfFour(tap(0), tap(1), tap(2), tap(3)),
             second = MeanOfFour(tap(4), tap(5), tap(6), tap(7));
    hn::StoreU(MeanOfTwo(first, second), U(), to);
    if (left < lanes()) std::copy_n(own_out, left, out + x0);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(DrawOut);

Motion motion_of(const RayCamera& camera, const scene::CameraPose& pose, double speed_m_s, double roll_deg_s,
                 double seconds) {
  Motion motion;
  const double way_m = speed_m_s * seconds;
  motion.right = static_cast<float>(way_m * scene::dot(pose.forward, camera.right));
  motion.up = static_cast<float>(way_m * scene::dot(pose.forward, camera.up));
  motion.ahead = static_cast<float>(way_m * scene::dot(pose.forward, camera.forward));
  motion.turn = static_cast<float>(roll_deg_s * seconds * 3.14159265358979323846 / 180);
  motion.half_width = static_cast<float>(camera.half_width);
  motion.half_height = static_cast<float>(camera.half_height);
  return motion;
}

void draw_out(const Motion& motion, const std::uint32_t* toned, const float* depth, int width, int height,
              int row, std::uint32_t* out) {
  HWY_DYNAMIC_DISPATCH(DrawOut)(motion, toned, depth, width, height, row, out);
}

}  // namespace haunch::render
#endif
