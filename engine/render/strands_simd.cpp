// SPDX-License-Identifier: Apache-2.0
// Compiled once for each instruction set; plain arithmetic only, so that every set gives the same
// bits.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "render/strands_meet.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/strands_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

constexpr float nearest_m = 0.004F;  // nearer hair is out of focus and of the lamp: left out
constexpr int chunk = 64;

void Keep(RayGroup& g, int ray, const Met& met) {
  RayMet& r = g.met[ray];
  if (met.cover > 0.985F) g.limit[ray] = std::min(g.limit[ray], met.depth);
  if (r.count < most_met) {
    r.met[r.count++] = met;
    return;
  }
  int farthest = 0;
  for (int k = 1; k < most_met; ++k)
    if (r.met[k].depth > r.met[farthest].depth) farthest = k;
  if (met.depth < r.met[farthest].depth) r.met[farthest] = met;
}

/// Which of the tile's links from `from` on, a chunk of them, the cone may meet.
int Cull(const TileLinks& t, const Cone& c, float far, int from, std::int32_t* kept) {
  const F f;
  const I i;
  const auto k = [&](float v) { return hn::Set(f, v); };
  int count = 0;
  const int to = std::min(from + chunk, (t.count + group_size - 1) / group_size * group_size);
  // How far from its axis the cone's rays may be, for each metre ahead; and the slant of the links'
  // nearest points against it.
  const V tangent = k(c.sine / std::max(c.cosine, 0.05F)), slant = k(1 / std::max(c.cosine, 0.05F));
  const V zero = hn::Zero(f);
  for (int n = from; n < to; n += lanes()) {
    const auto at = [&](const std::vector<float>& v) { return hn::LoadU(f, v.data() + n); };
    const V ex = at(t.ex), ey = at(t.ey), ez = at(t.ez), length = at(t.length);
    const V wx = at(t.ax) - k(c.ox), wy = at(t.ay) - k(c.oy), wz = at(t.az) - k(c.oz);
    const V de = k(c.ax) * ex + k(c.ay) * ey + k(c.az) * ez;
    const V dw = k(c.ax) * wx + k(c.ay) * wy + k(c.az) * wz;
    const V ew = ex * wx + ey * wy + ez * wz;
    const V along = (de * dw - ew) / hn::Max(k(1.0F) - de * de, k(1e-5F));
    const V tc = hn::Min(hn::Max(along, zero), length);
    const V s = dw + tc * de;
    const V x = wx + tc * ex - s * k(c.ax), y = wy + tc * ey - s * k(c.ay), z = wz + tc * ez - s * k(c.az);
    const V least = hn::Min(dw, dw + length * de), most = hn::Max(dw, dw + length * de);
    const V thick = at(t.radius) + k(c.spread);
    const V reach = (thick + hn::Max(most, zero) * tangent) * slant;
    M keep = hn::And(x * x + y * y + z * z <= reach * reach,
                     hn::And(least <= k(far) + thick, most >= hn::Neg(thick)));
    if (c.all_round) keep = hn::Eq(k(0.0F), zero);
    keep = hn::And(keep, hn::RebindMask(f, hn::Lt(hn::Iota(i, n), hn::Set(i, t.count))));
    const std::size_t stored = hn::CompressStore(hn::Iota(i, n), hn::RebindMask(i, keep), i, kept + count);
    count += static_cast<int>(stored);
  }
  return count;
}

void MeetLink(const Link& l, std::int32_t index, RayGroup& g) {
  const F f;
  const auto k = [&](float v) { return hn::Set(f, v); };
  const V zero = hn::Zero(f), one = k(1.0F);
  const V thickest = k(std::max(l.r0, l.r0 + l.slope * l.length));
  for (int from = 0; from < group_size; from += lanes()) {
    const V dx = hn::Load(f, g.dx + from), dy = hn::Load(f, g.dy + from), dz = hn::Load(f, g.dz + from);
    const V wx = k(l.ax) - hn::Load(f, g.ox + from), wy = k(l.ay) - hn::Load(f, g.oy + from),
            wz = k(l.az) - hn::Load(f, g.oz + from);
    const V de = dx * k(l.ex) + dy * k(l.ey) + dz * k(l.ez);
    const V dw = dx * wx + dy * wy + dz * wz;
    const V ew = k(l.ex) * wx + k(l.ey) * wy + k(l.ez) * wz;
    const V facing = hn::Max(one - de * de, k(1e-5F));
    const V t = (de * dw - ew) / facing;
    const V tc = hn::Min(hn::Max(t, zero), k(l.length));
    const V s = dw + tc * de;
    const V ox = wx + tc * k(l.ex) - s * dx, oy = wy + tc * k(l.ey) - s * dy, oz = wz + tc * k(l.ez) - s * dz;
    const V square = ox * ox + oy * oy + oz * oz;
    const V half = g.parallel ? k(g.half_pixel) : k(g.half_pixel) * s;
    const V reach = thickest + half;
    M hit = hn::And(square < reach * reach, s >= k(nearest_m));
    if (hn::AllFalse(f, hit)) continue;
    const V r = k(l.r0) + k(l.slope) * tc;
    const V d = hn::Sqrt(square);
    hit = hn::And(hit, d < r + half);
    // Thin links end square, so that a strand is not seen twice where two links meet.
    const M thin = r < half, beyond = hn::Or(t < zero, t >= k(l.length));
    hit = hn::AndNot(hn::And(thin, beyond), hit);
    const V cover = hn::Min((hn::Min(r, d + half) - hn::Max(hn::Neg(r), d - half)) / (half + half), one);
    const V across = hn::Min(d / hn::Max(r, half), one);
    const V depth = s - r * hn::Sqrt(hn::Max(one - across * across, zero) / hn::Max(facing, k(0.04F)));
    hit = hn::And(
        hit, hn::And(depth < hn::Load(f, g.limit + from), hn::And(depth >= k(nearest_m), cover > k(0.004F))));
    if (hn::AllFalse(f, hit)) continue;
    alignas(64) float depths[group_size], covers[group_size], alongs[group_size], acrosses[group_size],
        hits[group_size];
    hn::Store(depth, f, depths);
    hn::Store(cover, f, covers);
    hn::Store(tc, f, alongs);
    hn::Store(across, f, acrosses);
    hn::Store(hn::IfThenElseZero(hit, one), f, hits);
    for (int n = 0; n < lanes(); ++n)
      if (hits[n] > 0) Keep(g, from + n, {depths[n], covers[n], alongs[n], acrosses[n], index});
  }
}

void MeetGroup(const std::vector<Link>& links, const TileLinks& tile, const Cone& cone, RayGroup& g) {
  std::int32_t kept[chunk + group_size];
  for (int from = 0; from < tile.count; from += chunk) {
    const float far = *std::max_element(g.limit, g.limit + group_size);
    if (tile.nearest[static_cast<std::size_t>(from)] - cone.spread > far) return;
    const int count = Cull(tile, cone, far, from, kept);
    for (int n = 0; n < count; ++n) {
      const std::int32_t index = tile.link[static_cast<std::size_t>(kept[n])];
      MeetLink(links[static_cast<std::size_t>(index)], index, g);
    }
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {
HWY_EXPORT(MeetGroup);
void meet_group(const std::vector<Link>& links, const TileLinks& tile, const Cone& cone, RayGroup& group) {
  HWY_DYNAMIC_DISPATCH(MeetGroup)(links, tile, cone, group);
}
}  // namespace haunch::render
#endif
