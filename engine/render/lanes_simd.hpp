// SPDX-License-Identifier: Apache-2.0
// Repainting the wall many samples at a time: those in question are picked out of a batch, and lit as lit()
// has it. Included once for each instruction set.
#if defined(HAUNCH_RENDER_LANES) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_LANES
#undef HAUNCH_RENDER_LANES
#else
#define HAUNCH_RENDER_LANES
#endif

#include <algorithm>
#include <cstdint>
#include <vector>

#include "render/samples.hpp"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

struct Colour {
  V r, g, b;
};
HWY_INLINE V Set(float x) { return hn::Set(F(), x); }
HWY_INLINE V Mix(V a, V b, V share_of_b) { return a + (b - a) * share_of_b; }
HWY_INLINE Colour Mix(const Colour& a, const Colour& b, V share) {
  return {Mix(a.r, b.r, share), Mix(a.g, b.g, share), Mix(a.b, b.b, share)};
}
HWY_INLINE Colour Times(V k, const Colour& c) { return {k * c.r, k * c.g, k * c.b}; }
HWY_INLINE Colour All(const Rgb& c) { return {Set(c.r), Set(c.g), Set(c.b)}; }
/// As Smooth, between bounds of each lane's own.
HWY_INLINE V SmoothBetween(V low, V high, V x) {
  const V t = hn::Clamp((x - low) / (high - low), hn::Zero(F()), Set(1.0F));
  return t * t * (Set(3.0F) - (t + t));
}
/// A vector of the rays that are in question; idle lanes repeat the last.
struct Lanes {
  const std::int32_t* index;
  int count;
  bool in_step;  ///< neighbours, so that no gathering is needed
  HWY_INLINE V get(const std::vector<float>& from) const {
    if (in_step) return hn::LoadU(F(), &from[static_cast<std::size_t>(index[0])]);
    return hn::GatherIndex(F(), from.data(), hn::LoadU(I(), index));
  }
  HWY_INLINE VI get(const std::vector<std::int32_t>& from) const {
    if (in_step) return hn::LoadU(I(), &from[static_cast<std::size_t>(index[0])]);
    return hn::GatherIndex(I(), from.data(), hn::LoadU(I(), index));
  }
  HWY_INLINE void put(V value, std::vector<float>& to) const {
    if (in_step) return hn::StoreU(value, F(), &to[static_cast<std::size_t>(index[0])]);
    alignas(64) float each[16];
    hn::Store(value, F(), each);
    for (int n = 0; n < count; ++n) to[static_cast<std::size_t>(index[n])] = each[n];
  }
};

/// paint(Lanes) for all that show wall (or, `also_others`, anything) between two chainages.
template <class Paint>
HWY_INLINE void ForLanesBetween(const Samples& m, float z0, float z1, bool also_others, Paint paint) {
  static thread_local std::vector<std::int32_t> found;
  found.resize(static_cast<std::size_t>(m.count) + 32);
  int count = 0;
  for (int n = 0; n < m.count; n += lanes()) {
    const V z = hn::LoadU(F(), m.wall_z.data() + n);
    M met = hn::And(z > Set(z0), z < Set(z1));
    if (!also_others)
      met = hn::And(met, hn::RebindMask(F(), hn::LoadU(I(), m.piece.data() + n) > hn::Set(I(), -1)));
    const VI index = hn::Iota(I(), n);
    const auto mask = hn::And(hn::RebindMask(I(), met), hn::Lt(index, hn::Set(I(), m.count)));
    count += static_cast<int>(hn::CompressStore(index, mask, I(), found.data() + count));
  }
  if (count == 0) return;
  for (int n = count; n < count + lanes(); ++n)
    found[static_cast<std::size_t>(n)] = found[static_cast<std::size_t>(count - 1)];
  for (int n = 0; n < count; n += lanes()) {
    const std::int32_t* index = found.data() + n;
    const int many = std::min(lanes(), count - n);
    // They are in order, so a full vector that spans no more than its own length has no gaps.
    paint(Lanes{index, many, many == lanes() && index[many - 1] - index[0] == many - 1});
  }
}

/// The lamp on matter, as lit() has it, in two parts.
struct Lamp {
  V fall;
  HWY_INLINE V Body(V cosine) const {
    const V c = hn::Clamp(cosine, hn::Zero(F()), Set(1.0F));
    return fall * (Set(rough_share) * hn::Sqrt(c) + Set(1 - rough_share) * c);
  }
  HWY_INLINE V Shine(V gloss, V cosine, V power) const {
    const V c = hn::Clamp(cosine, hn::Zero(F()), Set(1.0F));
    const V square = hn::Max(c * c, Set(1e-4F)), narrow = Set(2.0F) / power;
    const V peak = narrow * square / (narrow * square + Set(1.0F) - square);
    return fall * gloss * Set(highlight_strength) * peak * peak;
  }
};
HWY_INLINE Lamp LampOf(const Samples& m, const Lanes& lanes, V depth) {
  const V reach = hn::Max(lanes.get(m.travelled) + depth, Set(lamp_nearest_m));
  return {lanes.get(m.lamp) / (reach * reach)};
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
