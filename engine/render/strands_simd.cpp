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

Cone ConeOfGroup(const RayGroup& g) {
  const F f;
  const auto sum = [&](const float* v) {
    V all = hn::Zero(f);
    for (int n = 0; n < group_size; n += lanes()) all = all + hn::Load(f, v + n);
    return hn::GetLane(hn::SumOfLanes(f, all));
  };
  Cone c;
  constexpr float share = 1.0F / group_size;
  c.ox = sum(g.ox) * share, c.oy = sum(g.oy) * share, c.oz = sum(g.oz) * share;
  const float ax = sum(g.dx), ay = sum(g.dy), az = sum(g.dz);
  const float size = std::sqrt(ax * ax + ay * ay + az * az);
  if (size < 0.2F * group_size) c.all_round = true;
  c.ax = ax / size, c.ay = ay / size, c.az = az / size;
  const auto k = [&](float v) { return hn::Set(f, v); };
  V least = k(1.0F), square = hn::Zero(f), far = hn::Zero(f);
  for (int n = 0; n < group_size; n += lanes()) {
    const auto at = [&](const float* v) { return hn::Load(f, v + n); };
    least = hn::Min(least, k(c.ax) * at(g.dx) + k(c.ay) * at(g.dy) + k(c.az) * at(g.dz));
    const V x = at(g.ox) - k(c.ox), y = at(g.oy) - k(c.oy), z = at(g.oz) - k(c.oz);
    square = hn::Max(square, x * x + y * y + z * z);
    far = hn::Max(far, at(g.limit));
  }
  c.spread = std::sqrt(hn::GetLane(hn::MaxOfLanes(f, square))) + 1e-6F;
  c.far = std::min(hn::GetLane(hn::MaxOfLanes(f, far)), 1e6F);
  // Half a pixel more, and what rounding may take.
  const float pixel = 2 * g.half_pixel, wider = g.parallel ? 2e-4F : pixel + 2e-4F;
  if (g.parallel) c.spread += pixel;
  const float cosine = hn::GetLane(hn::MinOfLanes(f, least));
  const float sine = std::sqrt(std::max(0.0F, 1 - cosine * cosine));
  c.cosine = cosine - sine * wider;
  c.sine = sine + cosine * wider;
  if (c.cosine < 0.05F) c.all_round = true;
  return c;
}

void ShadeSeen(const Strands& strands, const RayGroup& g, const GroupLight& light, SeenLinks& seen) {
  const F f;
  const I i;
  const auto k = [&](float v) { return hn::Set(f, v); };
  const V zero = hn::Zero(f), one = k(1.0F);
  // Idle lanes repeat the last.
  for (int n = seen.count; n % group_size != 0; ++n) {
    const int last = seen.count - 1;
    seen.ray[n] = seen.ray[last], seen.link[n] = seen.link[last];
    seen.depth[n] = seen.depth[last], seen.along[n] = seen.along[last], seen.across[n] = seen.across[last];
    seen.share[n] = 0, seen.bark[n] = 1;
  }
  constexpr int link_floats = sizeof(Link) / sizeof(float), look_floats = sizeof(LinkLook) / sizeof(float);
  const auto* links = reinterpret_cast<const float*>(strands.links.data());
  const auto* looks = reinterpret_cast<const float*>(strands.looks.data());
  for (int n = 0; n < seen.count; n += lanes()) {
    const VI ray = hn::LoadU(i, seen.ray + n), index = hn::LoadU(i, seen.link + n);
    const VI link_at = index * hn::Set(i, link_floats), look_at = index * hn::Set(i, look_floats);
    const auto link = [&](std::size_t byte) {
      return hn::GatherIndex(f, links + byte / sizeof(float), link_at);
    };
    const auto look = [&](std::size_t byte) {
      return hn::GatherIndex(f, looks + byte / sizeof(float), look_at);
    };
    const auto of_ray = [&](const float* from) { return hn::GatherIndex(f, from, ray); };
    const V de = of_ray(g.dx) * link(offsetof(Link, ex)) + of_ray(g.dy) * link(offsetof(Link, ey)) +
                 of_ray(g.dz) * link(offsetof(Link, ez));
    const V facing = hn::Sqrt(hn::Max(zero, one - de * de));
    const V depth = hn::Load(f, seen.depth + n), along = hn::Load(f, seen.along + n),
            across = hn::Load(f, seen.across + n);
    const V thick = link(offsetof(Link, r0));
    // A strand narrower than the pixel shows all its round at once.
    const V half_pixel = g.parallel ? k(g.half_pixel) : k(g.half_pixel) * depth;
    const V wide = hn::Clamp((thick + link(offsetof(Link, slope)) * along) / half_pixel - one, zero, one);
    const V round = k(0.785F) + wide * (hn::Sqrt(hn::Max(zero, one - across * across)) - k(0.785F));
    const V cosine = hn::Clamp(round * (k(0.40F) + k(0.60F) * facing), zero, one);
    V gloss = hn::IfThenElseZero(hn::And(wide >= one, cosine > k(0.8F)), look(offsetof(LinkLook, gloss)));
    gloss = hn::IfThenElse(thick > k(bark_radius_m), k(0.3F) * gloss, gloss);
    // The lamp, as lit() has it.
    const V reach = hn::Max(of_ray(light.travelled) + depth, k(lamp_nearest_m));
    const V fall = of_ray(light.lamp) / (reach * reach) * hn::Load(f, seen.share + n);
    const V body =
        (k(rough_share) * hn::Sqrt(cosine) + k(1 - rough_share) * cosine) * hn::Load(f, seen.bark + n);
    const V cos2 = hn::Max(cosine * cosine, k(1e-4F));
    constexpr float narrow = 2.0F / 18;
    const V peak = k(narrow) * cos2 / (k(narrow) * cos2 + one - cos2);
    const V shine = gloss * k(highlight_strength) * peak * peak;
    const V share = along / link(offsetof(Link, length));
    static_assert(offsetof(LinkLook, start) == 0 && offsetof(LinkLook, end) == 3 * sizeof(float));
    float* const to[] = {seen.red, seen.green, seen.blue};
    for (std::size_t c = 0; c < 3; ++c) {
      const V start = look(c * sizeof(float)), end = look((c + 3) * sizeof(float));
      hn::Store(fall * (body * (start + share * (end - start)) + shine), f, to[c] + n);
    }
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
HWY_EXPORT(ConeOfGroup);
HWY_EXPORT(MeetGroup);
HWY_EXPORT(ShadeSeen);
Cone cone_of_group(const RayGroup& group) { return HWY_DYNAMIC_DISPATCH(ConeOfGroup)(group); }
void shade_seen(const Strands& strands, const RayGroup& group, const GroupLight& light, SeenLinks& seen) {
  HWY_DYNAMIC_DISPATCH(ShadeSeen)(strands, group, light, seen);
}
void meet_group(const std::vector<Link>& links, const TileLinks& tile, const Cone& cone, RayGroup& group) {
  HWY_DYNAMIC_DISPATCH(MeetGroup)(links, tile, cone, group);
}
}  // namespace haunch::render
#endif
