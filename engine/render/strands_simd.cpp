// SPDX-License-Identifier: Apache-2.0
// Compiled once for each instruction set; plain arithmetic only, so that every set gives the same
// bits.
#include <algorithm>
#include <bit>
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
  Met* const had = g.met[ray];
  if (met.cover > 0.985F) g.limit[ray] = std::min(g.limit[ray], met.depth);
  if (g.count[ray] < most_met) {
    had[g.count[ray]++] = met;
    return;
  }
  int farthest = 0;
  for (int k = 1; k < most_met; ++k)
    if (had[k].depth > had[farthest].depth) farthest = k;
  if (met.depth < had[farthest].depth) had[farthest] = met;
}

/// Which of the tile's links from `from` on, a chunk of them, lie not wholly outside one of the
/// beam's planes.
int Cull(const TileLinks& t, const Beam& c, float far, int from, std::int32_t* kept) {
  const F f;
  const I i;
  const auto k = [&](float v) { return hn::Set(f, v); };
  int count = 0;
  const int to = std::min(from + chunk, (t.count + group_size - 1) / group_size * group_size);
  const auto slant = [](float slope) { return std::sqrt(1 + slope * slope); };
  const float slant_u = std::max(slant(c.low_slope_u), slant(c.high_slope_u)),
              slant_v = std::max(slant(c.low_slope_v), slant(c.high_slope_v));
  for (int n = from; n < to; n += lanes()) {
    const auto at = [&](const std::vector<float>& v) { return hn::LoadU(f, v.data() + n); };
    const V ex = at(t.ex), ey = at(t.ey), ez = at(t.ez), length = at(t.length), thick = at(t.radius);
    const V wx = at(t.ax) - k(c.ox), wy = at(t.ay) - k(c.oy), wz = at(t.az) - k(c.oz);
    const V z0 = k(c.ax) * wx + k(c.ay) * wy + k(c.az) * wz;
    const V z1 = z0 + length * (k(c.ax) * ex + k(c.ay) * ey + k(c.az) * ez);
    const V u0 = k(c.ux) * wx + k(c.uy) * wy + k(c.uz) * wz;
    const V u1 = u0 + length * (k(c.ux) * ex + k(c.uy) * ey + k(c.uz) * ez);
    const V v0 = k(c.vx) * wx + k(c.vy) * wy + k(c.vz) * wz;
    const V v1 = v0 + length * (k(c.vx) * ex + k(c.vy) * ey + k(c.vz) * ez);
    // A link with both its ends beyond a plane, by its own thickness, lies beyond it wholly.
    const V out_u = thick * k(slant_u), out_v = thick * k(slant_v);
    const auto inside = [&](V a, V b, V out, float low, float low_slope, float high, float high_slope) {
      const V over = hn::Min(a - k(high_slope) * z0, b - k(high_slope) * z1) - k(high);
      const V under = k(low) - hn::Max(a - k(low_slope) * z0, b - k(low_slope) * z1);
      return hn::Max(over, under) <= out;
    };
    M keep = hn::And(inside(u0, u1, out_u, c.low_u, c.low_slope_u, c.high_u, c.high_slope_u),
                     inside(v0, v1, out_v, c.low_v, c.low_slope_v, c.high_v, c.high_slope_v));
    keep = hn::And(keep, hn::And(hn::Min(z0, z1) <= k(far) + thick, hn::Max(z0, z1) >= hn::Neg(thick)));
    if (c.all_round) keep = hn::Eq(thick, thick);
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
    const V dx = hn::LoadU(f, g.dx + from), dy = hn::LoadU(f, g.dy + from), dz = hn::LoadU(f, g.dz + from);
    const V wx = k(l.ax) - hn::LoadU(f, g.ox + from), wy = k(l.ay) - hn::LoadU(f, g.oy + from),
            wz = k(l.az) - hn::LoadU(f, g.oz + from);
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
    alignas(64) float depths[group_size], covers[group_size], alongs[group_size], acrosses[group_size];
    hn::Store(depth, f, depths);
    hn::Store(cover, f, covers);
    hn::Store(tc, f, alongs);
    hn::Store(across, f, acrosses);
    std::uint8_t bytes[8] = {};
    hn::StoreMaskBits(f, hit, bytes);
    for (unsigned bits = bytes[0] | static_cast<unsigned>(bytes[1]) << 8U; bits != 0; bits &= bits - 1) {
      const int n = std::countr_zero(bits);
      Keep(g, from + n, {depths[n], covers[n], alongs[n], acrosses[n], index});
    }
  }
}

/// Mean start and mean direction of rays; false when they go all ways.
bool Middle(const Samples& m, int first, int end, float* start, float* axis) {
  const F f;
  V sums[6];
  for (V& sum : sums) sum = hn::Zero(f);
  const std::vector<float>* const planes[] = {&m.org_x, &m.org_y, &m.org_z, &m.dir_x, &m.dir_y, &m.dir_z};
  // Idle lanes repeat the last ray: it weighs more in the mean, which need not be exact.
  for (int n = first; n < end; n += lanes())
    for (int which = 0; which < 6; ++which)
      sums[which] = sums[which] + hn::LoadU(f, planes[which]->data() + n);
  const auto mean = [&](int which) {
    return hn::GetLane(hn::SumOfLanes(f, sums[which])) / static_cast<float>(end - first);
  };
  for (int k = 0; k < 3; ++k) start[k] = mean(k), axis[k] = mean(k + 3);
  const float size = std::sqrt(axis[0] * axis[0] + axis[1] * axis[1] + axis[2] * axis[2]);
  if (!(size > 0.2F)) {
    axis[0] = 0, axis[1] = 0, axis[2] = 1;
    return false;
  }
  for (int k = 0; k < 3; ++k) axis[k] /= size;
  return true;
}

Cone ConeOf(const Samples& m) {
  const F f;
  const auto k = [&](float v) { return hn::Set(f, v); };
  const auto at = [&](const std::vector<float>& v, int n) { return hn::LoadU(f, v.data() + n); };
  const int end = (m.count + lanes() - 1) / lanes() * lanes();
  Cone c;
  float start[3], axis[3];
  c.all_round = !Middle(m, 0, end, start, axis);
  c.ox = start[0], c.oy = start[1], c.oz = start[2], c.ax = axis[0], c.ay = axis[1], c.az = axis[2];
  V least = k(1.0F), square = hn::Zero(f), far = hn::Zero(f);
  for (int n = 0; n < end; n += lanes()) {
    least = hn::Min(least, k(c.ax) * at(m.dir_x, n) + k(c.ay) * at(m.dir_y, n) + k(c.az) * at(m.dir_z, n));
    const V x = at(m.org_x, n) - k(c.ox), y = at(m.org_y, n) - k(c.oy), z = at(m.org_z, n) - k(c.oz);
    square = hn::Max(square, x * x + y * y + z * z);
    far = hn::Max(far, at(m.depth, n));
  }
  c.spread = std::sqrt(hn::GetLane(hn::MaxOfLanes(f, square))) + 1e-6F;
  c.far = std::min(hn::GetLane(hn::MaxOfLanes(f, far)), 1e6F);
  // The pixels beside, the pixels' own width, and what rounding may take.
  const float pixels = 2 * m.pixel_size;
  if (m.parallel) c.spread += pixels;
  const float wider = (m.parallel ? 0 : pixels) + 2e-4F;
  const float cosine = hn::GetLane(hn::MinOfLanes(f, least));
  const float sine = std::sqrt(std::max(0.0F, 1 - cosine * cosine));
  c.cosine = cosine - sine * wider;
  c.sine = sine + cosine * wider;
  if (c.cosine < 0.05F) c.all_round = true;
  return c;
}

Beam BeamOf(const Samples& m, int first) {
  const F f;
  const auto k = [&](float v) { return hn::Set(f, v); };
  const auto at = [&](const std::vector<float>& v, int n) { return hn::LoadU(f, v.data() + n); };
  Beam c;
  float start[3], axis[3];
  c.all_round = !Middle(m, first, first + group_size, start, axis);
  c.ox = start[0], c.oy = start[1], c.oz = start[2], c.ax = axis[0], c.ay = axis[1], c.az = axis[2];
  const float along = m.right_x * c.ax + m.right_y * c.ay + m.right_z * c.az;
  c.ux = m.right_x - along * c.ax, c.uy = m.right_y - along * c.ay, c.uz = m.right_z - along * c.az;
  float size = std::sqrt(c.ux * c.ux + c.uy * c.uy + c.uz * c.uz);
  if (size < 0.05F) {
    // The rays go to the right themselves: any other way across serves.
    const bool steep = std::abs(c.ay) > 0.7F;
    c.ux = steep ? 0 : -c.az, c.uy = steep ? c.az : 0, c.uz = steep ? -c.ay : c.ax;
    size = std::sqrt(c.ux * c.ux + c.uy * c.uy + c.uz * c.uz);
  }
  c.ux /= size, c.uy /= size, c.uz /= size;
  c.vx = c.ay * c.uz - c.az * c.uy, c.vy = c.az * c.ux - c.ax * c.uz, c.vz = c.ax * c.uy - c.ay * c.ux;
  const V high = k(1e9F), low = k(-1e9F);
  V least[4] = {high, high, high, high}, most[4] = {low, low, low, low}, far = hn::Zero(f), ahead = high;
  for (int n = first; n < first + group_size; n += lanes()) {
    const V dx = at(m.dir_x, n), dy = at(m.dir_y, n), dz = at(m.dir_z, n);
    const V ox = at(m.org_x, n) - k(c.ox), oy = at(m.org_y, n) - k(c.oy), oz = at(m.org_z, n) - k(c.oz);
    const V go = k(c.ax) * dx + k(c.ay) * dy + k(c.az) * dz;
    ahead = hn::Min(ahead, go);
    const V per = k(1.0F) / hn::Max(go, k(0.05F));
    const V z = k(c.ax) * ox + k(c.ay) * oy + k(c.az) * oz;
    const V slope_u = (k(c.ux) * dx + k(c.uy) * dy + k(c.uz) * dz) * per,
            slope_v = (k(c.vx) * dx + k(c.vy) * dy + k(c.vz) * dz) * per;
    // Where each ray, carried back if need be, passes beside the mean start.
    const V values[4] = {k(c.ux) * ox + k(c.uy) * oy + k(c.uz) * oz - z * slope_u,
                         k(c.vx) * ox + k(c.vy) * oy + k(c.vz) * oz - z * slope_v, slope_u, slope_v};
    for (int which = 0; which < 4; ++which) {
      least[which] = hn::Min(least[which], values[which]);
      most[which] = hn::Max(most[which], values[which]);
    }
    far = hn::Max(far, at(m.depth, n) + hn::Abs(z));
  }
  c.far = std::min(hn::GetLane(hn::MaxOfLanes(f, far)), 1e6F);
  if (hn::GetLane(hn::MinOfLanes(f, ahead)) < 0.1F) c.all_round = true;
  // Half a pixel to every side and what rounding may take.
  const float start_margin = 1e-6F + (m.parallel ? m.pixel_size : 0),
              slope_margin = 2e-4F + (m.parallel ? 0 : m.pixel_size);
  const auto low_of = [&](int which) { return hn::GetLane(hn::MinOfLanes(f, least[which])); };
  const auto high_of = [&](int which) { return hn::GetLane(hn::MaxOfLanes(f, most[which])); };
  c.low_u = low_of(0) - start_margin, c.high_u = high_of(0) + start_margin;
  c.low_v = low_of(1) - start_margin, c.high_v = high_of(1) + start_margin;
  c.low_slope_u = low_of(2) - slope_margin, c.high_slope_u = high_of(2) + slope_margin;
  c.low_slope_v = low_of(3) - slope_margin, c.high_slope_v = high_of(3) + slope_margin;
  return c;
}

void ShadeSeen(const Strands& strands, const RayGroup& g, SeenLinks& seen) {
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
    const V reach = hn::Max(of_ray(g.travelled) + depth, k(lamp_nearest_m));
    const V fall = of_ray(g.lamp) / (reach * reach) * hn::Load(f, seen.share + n);
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

void MeetGroup(const std::vector<Link>& links, const TileLinks& tile, const Samples& m, int first,
               RayGroup& g) {
  // So few that leaving some out costs more than it saves.
  constexpr int few = 5;
  if (tile.count <= few) {
    for (const std::int32_t index : tile.link) MeetLink(links[static_cast<std::size_t>(index)], index, g);
    return;
  }
  const Beam beam = BeamOf(m, first);
  std::int32_t kept[chunk + group_size];
  for (int from = 0; from < tile.count; from += chunk) {
    const float far = *std::max_element(g.limit, g.limit + group_size);
    if (tile.nearest[static_cast<std::size_t>(from)] - tile.spread > far) return;
    const int count = Cull(tile, beam, std::min(far, beam.far), from, kept);
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
HWY_EXPORT(ConeOf);
HWY_EXPORT(MeetGroup);
HWY_EXPORT(ShadeSeen);
Cone cone_of(const Samples& samples) { return HWY_DYNAMIC_DISPATCH(ConeOf)(samples); }
void shade_seen(const Strands& strands, const RayGroup& group, SeenLinks& seen) {
  HWY_DYNAMIC_DISPATCH(ShadeSeen)(strands, group, seen);
}
void meet_group(const std::vector<Link>& links, const TileLinks& tile, const Samples& samples, int first,
                RayGroup& group) {
  HWY_DYNAMIC_DISPATCH(MeetGroup)(links, tile, samples, first, group);
}
}  // namespace haunch::render
#endif
