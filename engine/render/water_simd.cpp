// SPDX-License-Identifier: Apache-2.0
// Water by vectors: where rays meet the surface, how it ripples, where rays go from there.
#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "render/water.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/water_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

#ifndef HAUNCH_WATER_KINDS
#define HAUNCH_WATER_KINDS
namespace haunch::render {
/// How a ray and the water meet.
enum Meeting : int { dry = 0, into_water = 1, in_water = 2, out_of_water = 3 };
constexpr float glow_at_m = 0.09F;     // murk before the lens is lit as if it hung here
constexpr float hardly_shows = 0.03F;  // a mirrored or bent share smaller than this is left out

/// The rays that meet the surface.
struct AtSurface {
  int count = 0;
  bool from_above = true, from_below = true;  // all of them
};
}  // namespace haunch::render
#endif

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

HWY_INLINE V K(float c) { return hn::Set(F(), c); }

HWY_INLINE VI CellAt(const WaterTable& w, V z) {
  const V cell = (z - K(w.start_m)) * K(static_cast<float>(1 / water_cell_m));
  return hn::ConvertTo(I(), hn::Clamp(cell, hn::Zero(F()), K(static_cast<float>(w.level.size()) - 1)));
}
HWY_INLINE V CellMiddle(const WaterTable& w, VI cell) {
  return (hn::ConvertTo(F(), cell) + K(0.5F)) * K(static_cast<float>(water_cell_m)) + K(w.start_m);
}
HWY_INLINE V LevelAt(const WaterTable& w, V z) {
  const VI cell = CellAt(w, z);
  return hn::GatherIndex(F(), w.level.data(), cell) +
         hn::GatherIndex(F(), w.slope.data(), cell) * (z - CellMiddle(w, cell));
}

/// Unevenness from 0 to 1 along a line, without a beat.
HWY_INLINE V Rough(V at, VU key) {
  const V cell = hn::Floor(at), f = at - cell;
  const VU from = hn::BitCast(U(), hn::ConvertTo(I(), cell));
  const auto chance = [&](std::uint32_t next) {
    return Hash01((from + hn::Set(U(), next)) * hn::Set(U(), 0x9e3779b1U) + key);
  };
  const V a = chance(0), b = chance(1);
  return a + (b - a) * f * f * (K(3) - f - f);
}
/// Both sides of the pipe have their own.
HWY_INLINE VU SideKey(V x, std::uint32_t which) {
  const VI side = hn::IfThenElse(hn::RebindMask(I(), x < hn::Zero(F())), hn::Set(I(), 0x51d7), hn::Zero(I()));
  return hn::BitCast(U(), side) + hn::Set(U(), which * 0x85ebca6bU);
}
/// By how much flowing water stands higher or lower against what it wets, m: small standing waves (ours).
HWY_INLINE V Lap(const WaterTable& w, V x, V z) {
  const V live = hn::GatherIndex(F(), w.liveliness.data(), CellAt(w, z));
  const V waves = Rough(z * K(9), SideKey(x, 1)) + Rough(z * K(23) + x * K(20), SideKey(x, 2)) - K(1);
  return live * (K(0.0009F) * waves + K(0.0004F) * (Rough(z * K(61) + x * K(60), SideKey(x, 3)) - K(0.5F)));
}

void FindSurface(const WaterTable& w, const RayCamera& camera, Samples& s, float* surface,
                 std::int32_t* kind) {
  for (int i = 0; i < s.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) {
      return hn::LoadU(F(), &from[static_cast<std::size_t>(i)]);
    };
    const V oy = load(s.org_y), oz = load(s.org_z), dx = load(s.dir_x), dy = load(s.dir_y),
            dz = load(s.dir_z);
    const V ahead = dx * K(static_cast<float>(camera.forward.x)) +
                    dy * K(static_cast<float>(camera.forward.y)) +
                    dz * K(static_cast<float>(camera.forward.z));
    const V window = K(static_cast<float>(window_ahead_m)) / hn::Max(ahead, K(0.05F));
    const V window_z = oz + window * dz;
    // High above any water there is.
    if (hn::AllTrue(F(), hn::Min(oy + window * dy, oy + hn::Min(load(s.depth), K(20.0F)) * dy) > K(w.top))) {
      hn::StoreU(hn::Zero(I()), I(), kind + i);
      continue;
    }
    const M starts_wet = oy + window * dy < LevelAt(w, window_z);
    const V end = hn::Min(load(s.depth), K(20.0F));
    const V end_z = oz + end * dz, end_y = oy + end * dy;
    const V end_level = LevelAt(w, end_z);
    const V end_x = load(s.org_x) + end * load(s.dir_x);
    M ends_wet = end_y < end_level;
    if (!hn::AllFalse(F(), hn::Abs(end_y - end_level) < K(0.002F)))
      ends_wet = end_y < end_level + Lap(w, end_x, end_z);
    const M crosses = hn::Xor(starts_wet, ends_wet);
    // The surface is straight within a reach, so a step or two finds where it is crossed.
    V at = hn::IfThenElse(ends_wet, end_z, window_z);
    V t = end;
    for (int step = 0; step < 4; ++step) {
      const VI cell = CellAt(w, at);
      const V level = hn::GatherIndex(F(), w.level.data(), cell),
              slope = hn::GatherIndex(F(), w.slope.data(), cell);
      V fall = dy - slope * dz;
      fall = hn::IfThenElse(hn::Abs(fall) < K(1e-7F), K(1e-7F), fall);
      t = hn::Clamp((level + slope * (oz - CellMiddle(w, cell)) - oy) / fall, hn::Min(window, end), end);
      const V next = oz + t * dz;
      const bool found = hn::AllTrue(F(), next == at);
      at = next;
      if (found) break;
    }
    VI what = hn::Zero(I());
    what = hn::IfThenElse(hn::RebindMask(I(), hn::And(crosses, ends_wet)), hn::Set(I(), into_water), what);
    what =
        hn::IfThenElse(hn::RebindMask(I(), hn::And(crosses, starts_wet)), hn::Set(I(), out_of_water), what);
    what = hn::IfThenElse(hn::RebindMask(I(), hn::And(starts_wet, ends_wet)), hn::Set(I(), in_water), what);
    // Where it laps higher than it lies, it is met just before what it wets.
    const M laps = hn::RebindMask(F(), what == hn::Set(I(), into_water));
    t = hn::IfThenElse(laps, hn::Min(t, end - K(0.0002F)), t);
    hn::StoreU(what, I(), kind + i);
    hn::StoreU(t, F(), surface + i);
    const M covers = hn::RebindMask(F(), what == hn::Set(I(), into_water));
    hn::StoreU(hn::IfThenElse(covers, hn::Min(t, load(s.unseen)), load(s.unseen)), F(), &s.unseen[i]);
  }
}

/// What is left after a way through the water; 1 / (1 + x/8)^8 stands for exp(-x).
HWY_INLINE V Left(float dim, V way) {
  const V a = K(1) + K(dim / 8) * way, b = a * a, c = b * b;
  return K(1) / (c * c);
}
struct Colour {
  V r, g, b;
};
/// What murk adds and takes on a way through it; `fall` is the light that reaches it. `share` comes
/// back: what is left of the colour that goes farthest.
HWY_INLINE Colour Murky(const WaterTable& w, V way, V fall, const Colour& c, V& share) {
  const V r = Left(w.dim[0], way), g = Left(w.dim[1], way), b = Left(w.dim[2], way);
  share = hn::Max(hn::Max(r, g), b);
  return {c.r * r + fall * K(w.murk.r) * (K(1) - r), c.g * g + fall * K(w.murk.g) * (K(1) - g),
          c.b * b + fall * K(w.murk.b) * (K(1) - b)};
}
/// Light that comes back from murk at a distance.
HWY_INLINE V Glow(V lamp, V cosine, V distance) {
  const V d = hn::Max(distance, K(lamp_nearest_m));
  return lamp * (K(rough_share) * hn::Sqrt(cosine) + K(1 - rough_share) * cosine) / (d * d);
}

/// Stirred matter hangs in clouds that drift past the window.
HWY_INLINE V Drift(V x, V y, float time_s) {
  const auto wave = [&](float across, float up, float speed, V bend) {
    return Sine(K(across) * x + K(up) * y + K(speed * time_s) + bend);
  };
  const V wide = wave(2.3F, 3.1F, 0.23F, K(1.3F) * wave(3.7F, -1.9F, -0.31F, K(0.4F)));
  const V middle = wave(-7.3F, 5.9F, -0.27F, K(1.5F) * wave(4.1F, 8.7F, 0.40F, wide));
  const V fine = wave(17.0F, 11.0F, 0.50F, K(1.8F) * wave(-9.0F, 15.0F, 0.20F, middle));
  return K(1) + K(0.13F) * wide + K(0.08F) * middle + K(0.05F) * fine;
}

/// Bits that float along just under the surface: of each how much of this place it is, and how pale.
HWY_INLINE V Bits(const WaterTable& w, V x, V z, V patch, V live, float time_s, V& pale) {
  constexpr float cell_m = 0.016F;
  // Quick water carries them along, standing water hardly.
  const V u = x * K(1 / cell_m), v = (z - (K(0.004F) + K(0.35F) * live) * K(time_s)) * K(1 / cell_m);
  const V cu = hn::Floor(u), cv = hn::Floor(v);
  const VU cell = hn::BitCast(U(), hn::ConvertTo(I(), cu)) * hn::Set(U(), 0x8da6b343U) ^
                  hn::BitCast(U(), hn::ConvertTo(I(), cv)) * hn::Set(U(), 0xd8163841U) ^
                  hn::Set(U(), static_cast<std::uint32_t>(w.seed));
  const auto chance = [&](std::uint32_t which) { return Hash01(cell + hn::Set(U(), which * 0x9e3779b1U)); };
  const M there = chance(1) < K(w.bits);
  pale = chance(2);
  if (hn::AllFalse(F(), there)) return hn::Zero(F());
  const V size = K(0.05F) + K(0.17F) * Square(chance(3));  // of a cell: one millimetre to three and a half
  const V du = u - cu - (K(0.25F) + K(0.5F) * chance(4)), dv = v - cv - (K(0.25F) + K(0.5F) * chance(5));
  const V c = chance(6) * K(2) - K(1), s = K(1) - Square(c) * K(0.5F);
  const V along = c * du + s * dv, across = (c * dv - s * du) * (K(1) + K(1.4F) * chance(7));
  const V away = hn::Sqrt(along * along + across * across) / size;
  // Smaller than a pixel it is as much fainter.
  const V footprint = patch * K(1 / cell_m) / size;
  return hn::IfThenElseZero(there, (K(1) - Smooth(0.75F, 1.15F, away)) / (K(1) + Square(footprint)));
}

/// The water's edge on the wall: standing water leaves a pale line of scum above its surface, broader here,
/// gone there; where it flows, the rim that climbs the wall shines in the lamps in places.
HWY_INLINE void MarkEdge(const WaterTable& w, Samples& s, int i, M dry_ray) {
  const auto load = [&](const std::vector<float>& from) {
    return hn::LoadU(F(), &from[static_cast<std::size_t>(i)]);
  };
  const VI piece = hn::LoadU(I(), &s.piece[static_cast<std::size_t>(i)]);
  const M wall = hn::And(dry_ray, hn::RebindMask(F(), piece > hn::Set(I(), -1)));
  if (hn::AllFalse(F(), wall)) return;
  const V depth = hn::IfThenElseZero(wall, load(s.depth));
  const V x = load(s.org_x) + depth * load(s.dir_x), y = load(s.org_y) + depth * load(s.dir_y),
          z = load(s.org_z) + depth * load(s.dir_z);
  const V above = y - LevelAt(w, z);
  const M line = hn::And(wall, hn::And(above > K(-0.002F), above < K(0.009F)));
  if (hn::AllFalse(F(), line)) return;
  const M still = hn::GatherIndex(F(), w.liveliness.data(), CellAt(w, z)) < K(0.3F);
  const V wide = Rough(z * K(5.3F), SideKey(x, 4)), middle = Rough(z * K(24), SideKey(x, 5)),
          fine = Rough(z * K(97) + y * K(60), SideKey(x, 6)),
          grain = Rough(z * K(410) + y * K(900), SideKey(x, 7));
  // Measured along the wall, which lies flat at the invert.
  const V steep = hn::Sqrt(hn::Max(K(1) - Square(load(s.normal_y)), K(0.01F)));
  const V high = above / steep;
  const V top = K(0.0007F) + K(0.0072F) * wide * middle * (K(0.5F) + fine);
  const V there = Smooth(0.38F, 0.85F, K(0.6F) * wide + K(0.4F) * middle);
  const V up = high / top;
  const V scum = K(0.30F) * there * (K(0.65F) + K(0.35F) * grain) * Smooth(-0.1F, 0.25F, up) *
                 (K(1) - Smooth(0.2F, 1.2F, up + K(0.6F) * (fine - K(0.5F))));
  // It clings where a ripple stands up against the wall.
  const V climbs = K(0.0003F) + K(0.0014F) * middle * fine;
  const V rim = K(0.15F) * Smooth(0.40F, 0.90F, K(0.4F) * wide + K(0.6F) * middle) *
                (K(0.25F) + K(0.75F) * grain) * (K(1) - Smooth(0.1F, 1.0F, (high - Lap(w, x, z)) / climbs));
  const V share = hn::IfThenElseZero(line, hn::IfThenElse(still, scum, rim));
  // The lamp on pale dull matter, as lit() has it; the rim turns some of itself to it everywhere.
  const V facing =
      hn::Clamp(hn::Zero(F()) - (load(s.normal_x) * load(s.dir_x) + load(s.normal_y) * load(s.dir_y) +
                                 load(s.normal_z) * load(s.dir_z)),
                K(0.03F), K(1));
  const V light = Glow(load(s.lamp), hn::IfThenElse(still, facing, K(1)), load(s.travelled) + depth);
  const auto paint = [&](std::vector<float>& channel, float dull, float bright) {
    const V had = load(channel);
    const V albedo = hn::IfThenElse(still, K(dull), K(bright));
    hn::StoreU(had + share * (albedo * light - had), F(), &channel[static_cast<std::size_t>(i)]);
  };
  paint(s.red, 0.40F, 0.42F), paint(s.green, 0.37F, 0.44F), paint(s.blue, 0.28F, 0.45F);
}

/// Settles what each ray meets now that the solids are known, dims what is seen through water alone,
/// and lists the rays that meet the surface.
AtSurface Dim(const WaterTable& w, float time_s, Samples& s, std::int32_t* kind, const float* surface,
              std::int32_t* index) {
  AtSurface at;
  const auto is = [](VI what, int which) { return hn::RebindMask(F(), what == hn::Set(I(), which)); };
  const auto become = [](M where, int which, VI what) {
    return hn::IfThenElse(hn::RebindMask(I(), where), hn::Set(I(), which), what);
  };
  for (int i = 0; i < s.count; i += lanes()) {
    VI what = hn::LoadU(I(), kind + i);
    what = hn::IfThenElse(hn::Iota(I(), i) < hn::Set(I(), s.count), what, hn::Zero(I()));
    const V depth = hn::LoadU(F(), &s.depth[i]), t = hn::LoadU(F(), surface + i);
    const M before = depth <= t;
    // Something stands before the surface; from below, or the murk hides the surface.
    what = become(hn::And(is(what, into_water), before), dry, what);
    what = become(hn::And(is(what, out_of_water), hn::Or(before, t > K(w.black_beyond))), in_water, what);
    hn::StoreU(what, I(), kind + i);
    MarkEdge(w, s, i, is(what, dry));
    if (hn::AllTrue(I(), what == hn::Set(I(), dry))) continue;
    const M above = is(what, into_water), below = is(what, out_of_water), inside = is(what, in_water);
    if (!hn::AllFalse(F(), above)) at.from_below = false;
    if (!hn::AllFalse(F(), below)) at.from_above = false;
    at.count += static_cast<int>(hn::CompressStore(
        hn::Iota(I(), i), hn::RebindMask(I(), hn::Or(above, below)), I(), index + at.count));
    if (hn::AllFalse(F(), inside)) continue;
    V share;
    const Colour had{hn::LoadU(F(), &s.red[i]), hn::LoadU(F(), &s.green[i]), hn::LoadU(F(), &s.blue[i])};
    const V fall = Drift(hn::LoadU(F(), &s.dir_x[i]), hn::LoadU(F(), &s.dir_y[i]), time_s) *
                   Glow(hn::LoadU(F(), &s.lamp[i]), K(1), K(glow_at_m));
    const Colour seen = Murky(w, hn::Min(depth, K(20)), fall, had, share);
    hn::StoreU(hn::IfThenElse(inside, seen.r, had.r), F(), &s.red[i]);
    hn::StoreU(hn::IfThenElse(inside, seen.g, had.g), F(), &s.green[i]);
    hn::StoreU(hn::IfThenElse(inside, seen.b, had.b), F(), &s.blue[i]);
    const M hidden = hn::And(inside, share < K(seen_through));
    if (hn::AllFalse(F(), hidden)) continue;
    hn::StoreU(hn::IfThenElse(hidden, hn::Min(depth, K(glow_at_m)), depth), F(), &s.depth[i]);
    hn::StoreU(become(hidden, -1, hn::LoadU(I(), &s.piece[i])), I(), &s.piece[i]);
    const hn::Rebind<std::uint16_t, F> half;
    const VI fault = become(hidden, 0, hn::PromoteTo(I(), hn::LoadU(half, &s.fault[i])));
    hn::StoreU(hn::DemoteTo(half, fault), half, &s.fault[i]);
  }
  return at;
}

/// What the rays at the surface show in the end: mirrored and bent light, and the murk before both.
void Join(const WaterTable& w, float time_s, Samples& s, WaterScratch& own, int many) {
  const auto kept = [](VI at, const std::vector<float>& from, V otherwise) {
    const M there = hn::RebindMask(F(), at > hn::Set(I(), -1));
    return hn::IfThenElse(there, hn::GatherIndex(F(), from.data(), hn::Max(at, hn::Zero(I()))), otherwise);
  };
  const V zero = hn::Zero(F());
  for (int k = 0; k < many; k += lanes()) {
    const VI i = hn::LoadU(I(), &own.index[static_cast<std::size_t>(k)]);
    const VI at_m = hn::LoadU(I(), &own.mirrored_at[static_cast<std::size_t>(k)]),
             at_b = hn::LoadU(I(), &own.bent_at[static_cast<std::size_t>(k)]);
    const auto of = [&](const float* from) { return hn::GatherIndex(F(), from, i); };
    const Samples &m = own.mirrored, &b = own.bent;
    Colour mirror{zero, zero, zero}, deep{zero, zero, zero};
    V mirror_way = K(20), way = K(20);
    if (m.count > 0) {
      mirror = {kept(at_m, m.red, zero), kept(at_m, m.green, zero), kept(at_m, m.blue, zero)};
      mirror_way = hn::Min(kept(at_m, m.depth, K(20)), K(20));
    }
    if (b.count > 0) {
      deep = {kept(at_b, b.red, zero), kept(at_b, b.green, zero), kept(at_b, b.blue, zero)};
      way = kept(at_b, b.depth, K(20));
    }
    const V share = hn::LoadU(F(), &own.mirror_share[static_cast<std::size_t>(k)]), rest = K(1) - share;
    const V t = of(own.surface.data()), lamp = of(s.lamp.data());
    const VI kind = hn::GatherIndex(I(), own.kind.data(), i);
    const M above = hn::RebindMask(F(), kind == hn::Set(I(), into_water));
    const auto mixed = [&](const Colour& x, const Colour& y) {
      return Colour{share * x.r + rest * y.r, share * x.g + rest * y.g, share * x.b + rest * y.b};
    };
    V left_above, left_mirror, left_below;
    // Where it stands, the upper water has cleared and the surface is dark and still.
    const V stirred =
        hn::Min(K(0.28F) + K(0.15F) * hn::LoadU(F(), &own.lively[static_cast<std::size_t>(k)]), K(1));
    const V lit = stirred * Glow(lamp, hn::Abs(of(s.dir_y.data())), t + K(0.05F));
    Colour below = Murky(w, hn::Min(way, K(20)), lit, deep, left_above);
    if (w.bits > 0) {
      const V dy = hn::Abs(of(s.dir_y.data()));
      V pale;
      const V bit = K(0.8F) * Bits(w, of(s.org_x.data()) + t * of(s.dir_x.data()),
                                   of(s.org_z.data()) + t * of(s.dir_z.data()),
                                   K(s.pixel_size) * (t + of(s.travelled.data())) / hn::Max(dy, K(0.02F)),
                                   hn::LoadU(F(), &own.lively[static_cast<std::size_t>(k)]), time_s, pale);
      const V shine = Glow(lamp, dy, t + K(0.03F));
      const auto over = [&](V had, float dull, float bright) {
        return had + bit * (shine * (K(dull) + K(bright - dull) * pale) - had);
      };
      below = {over(below.r, 0.05F, 0.34F), over(below.g, 0.038F, 0.32F), over(below.b, 0.020F, 0.27F)};
    }
    const Colour from_above = mixed(mirror, below);
    // From below: both what is mirrored and the way to the surface lie in the water.
    const V fall = Drift(of(s.dir_x.data()), of(s.dir_y.data()), time_s) * Glow(lamp, K(1), K(glow_at_m));
    const Colour from_below =
        Murky(w, t, fall, mixed(Murky(w, mirror_way, fall, mirror, left_mirror), deep), left_below);
    const M plain = hn::IfThenElse(above, left_above, left_below) * rest >= K(seen_through);
    alignas(64) float red[16], green[16], blue[16], depth[16], shows[16];
    hn::Store(hn::IfThenElse(above, from_above.r, from_below.r), F(), red);
    hn::Store(hn::IfThenElse(above, from_above.g, from_below.g), F(), green);
    hn::Store(hn::IfThenElse(above, from_above.b, from_below.b), F(), blue);
    hn::Store(hn::IfThenElse(plain, t + way, t), F(), depth);
    hn::Store(hn::IfThenElseZero(plain, K(1)), F(), shows);
    for (int n = 0; n < lanes() && k + n < many; ++n) {
      const auto from = static_cast<std::size_t>(k + n);
      const auto to = static_cast<std::size_t>(own.index[from]);
      s.red[to] = red[n], s.green[to] = green[n], s.blue[to] = blue[n];
      s.depth[to] = depth[n];
      s.piece[to] = -1;
      s.fault[to] = shows[n] > 0 && own.bent_at[from] >= 0
                        ? b.fault[static_cast<std::size_t>(own.bent_at[from])]
                        : std::uint16_t{0};
    }
  }
}

/// In: points on the surface as rays' starts, the way the rays came as directions. Out: the mirrored
/// and the bent directions, and the share that is mirrored.
void Scatter(float time_s, Samples& mirrored, Samples& bent, const float* lively, float* share) {
  struct Wave {
    float across, along, speed, height;  // waves per metre, turns per second, slope
  };
  static constexpr Wave waves[] = {{7, 23, 0.9F, 0.022F},   {-13, 41, -1.3F, 0.018F},
                                   {31, 29, 1.7F, 0.015F},  {-43, 67, 2.3F, 0.013F},
                                   {71, 97, -2.9F, 0.010F}, {-120, 150, 3.1F, 0.008F}};
  for (int i = 0; i < mirrored.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) {
      return hn::LoadU(F(), &from[static_cast<std::size_t>(i)]);
    };
    const V x = load(mirrored.org_x), z = load(mirrored.org_z);
    const V dx = load(mirrored.dir_x), dy = load(mirrored.dir_y), dz = load(mirrored.dir_z);
    const V patch = K(mirrored.pixel_size) * (mirrored.parallel ? K(1) : load(mirrored.travelled)) /
                    hn::Max(hn::Abs(dy), K(0.02F));
    const V live = K(0.02F) + K(0.98F) * hn::LoadU(F(), lively + i);
    V gx = hn::Zero(F()), gz = hn::Zero(F());
    int n = 0;
    for (const Wave& wave : waves) {
      ++n;
      // Waves finer than a pixel are not drawn.
      const V seen = K(1) / (K(1) + Square(patch * K(2.2F * wave.along)));
      const V phase = K(6.2831853F) * (x * K(wave.across) + z * K(wave.along) +
                                       K(time_s * wave.speed + 0.37F * static_cast<float>(n * n)));
      const V high =
          Sine(phase + K(1.3F) * Sine(phase * K(0.31F) + x * K(40.0F))) * K(wave.height) * live * seen;
      const float unit = 1 / std::sqrt(wave.across * wave.across + wave.along * wave.along);
      gx = gx + high * K(wave.across * unit);
      gz = gz + high * K(wave.along * unit);
    }
    const V size = K(1) / hn::Sqrt(gx * gx + gz * gz + K(1));
    const V up = hn::IfThenElse(dy < hn::Zero(F()), K(1), K(-1));  // seen from below the surface faces down
    const V nx = hn::Zero(F()) - gx * size * up, ny = size * up, nz = hn::Zero(F()) - gz * size * up;
    const V cosine = hn::Clamp(hn::Zero(F()) - (dx * nx + dy * ny + dz * nz), K(0.004F), K(1));
    const V c1 = K(1) - cosine, c2 = c1 * c1;
    const V eta = hn::IfThenElse(dy < hn::Zero(F()), K(1 / 1.333F), K(1.333F));
    const V below = K(1) - eta * eta * (K(1) - cosine * cosine);
    const M whole = below <= hn::Zero(F());  // nothing gets out: a mirror from below
    const V cos_bent = hn::Sqrt(hn::Max(below, hn::Zero(F())));
    const V c3 = K(1) - cos_bent, c4 = c3 * c3;
    const V low = hn::IfThenElse(eta > K(1), c4 * c4 * c3, c2 * c2 * c1);
    const V mirror = hn::IfThenElse(whole, K(1), K(0.02F) + K(0.98F) * low);
    const V twice = cosine + cosine;
    V rx = dx + twice * nx, ry = dy + twice * ny, rz = dz + twice * nz;
    ry = hn::IfThenElse(up > hn::Zero(F()), hn::Max(ry, K(0.002F)), hn::Min(ry, K(-0.002F)));
    const V rs = K(1) / hn::Sqrt(rx * rx + ry * ry + rz * rz);
    const V k = eta * cosine - cos_bent;
    V bx = eta * dx + k * nx, by = eta * dy + k * ny, bz = eta * dz + k * nz;
    bx = hn::IfThenElse(whole, dx, bx), by = hn::IfThenElse(whole, dy, by),
    bz = hn::IfThenElse(whole, dz, bz);
    const V bs = K(1) / hn::Sqrt(bx * bx + by * by + bz * bz);
    const auto store = [&](V value, std::vector<float>& to) {
      hn::StoreU(value, F(), &to[static_cast<std::size_t>(i)]);
    };
    store(rx * rs, mirrored.dir_x), store(ry * rs, mirrored.dir_y), store(rz * rs, mirrored.dir_z);
    store(bx * bs, bent.dir_x), store(by * bs, bent.dir_y), store(bz * bs, bent.dir_z);
    hn::StoreU(mirror, F(), share + i);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(FindSurface);
HWY_EXPORT(Scatter);
HWY_EXPORT(Dim);
HWY_EXPORT(Join);

namespace {

struct WaterColours {
  float dim[3];  ///< what a metre of way takes, there and back
  Rgb murk;
};
/// Ours, chosen by eye. Coloured water that is not cloudy takes the other colours within a hand's breadth.
WaterColours colours_of(scene::WaterLook look, scene::WaterColour colour) {
  using scene::WaterColour;
  if (look == scene::WaterLook::clear) return {{5.0F, 2.6F, 2.2F}, {0.020F, 0.030F, 0.028F}};
  if (look == scene::WaterLook::coloured) switch (colour) {
      case WaterColour::red:
        return {{4, 60, 52}, {0.075F, 0.006F, 0.008F}};
      case WaterColour::yellow:
        return {{4, 7, 75}, {0.075F, 0.062F, 0.005F}};
      case WaterColour::green:
        return {{55, 4, 42}, {0.006F, 0.060F, 0.013F}};
      default:
        return {{62, 26, 4}, {0.005F, 0.018F, 0.075F}};
    }
  switch (colour) {
    case WaterColour::none:
      return {{80, 86, 104}, {0.135F, 0.112F, 0.066F}};
    case WaterColour::red:
      return {{90, 120, 120}, {0.150F, 0.026F, 0.024F}};
    case WaterColour::yellow:
      return {{85, 90, 125}, {0.165F, 0.132F, 0.022F}};
    case WaterColour::green:
      return {{120, 90, 115}, {0.026F, 0.120F, 0.036F}};
    case WaterColour::blue:
      return {{120, 105, 90}, {0.022F, 0.048F, 0.150F}};
    case WaterColour::milky:
      return {{100, 100, 102}, {0.270F, 0.270F, 0.255F}};
    case WaterColour::grey:
      return {{95, 95, 98}, {0.082F, 0.086F, 0.088F}};
    case WaterColour::black:
      return {{130, 130, 132}, {0.010F, 0.011F, 0.011F}};
  }
  return {{80, 86, 104}, {0.135F, 0.112F, 0.066F}};
}

}  // namespace

WaterTable water_table(const scene::Scene& scene) {
  WaterTable table;
  const int cells = static_cast<int>(std::ceil(scene.length_m() / water_cell_m)) + 1;
  const auto dry_level = static_cast<float>(-1e6);
  table.level.assign(static_cast<std::size_t>(cells), dry_level);
  table.slope.assign(table.level.size(), 0);
  table.liveliness.assign(table.level.size(), 0);
  for (const scene::WaterReach& reach : scene.water.reaches) {
    const double length = reach.to_m - reach.from_m;
    if (length <= 0) continue;
    const double slope = (reach.to_level_m - reach.from_level_m) / length;
    for (int c = std::max(0, static_cast<int>(reach.from_m / water_cell_m) - 1); c < cells; ++c) {
      const double z = (c + 0.5) * water_cell_m;
      if (z < reach.from_m) continue;
      if (z > reach.to_m) break;
      const auto at = static_cast<std::size_t>(c);
      const double depth = reach.from_level_m + slope * (z - reach.from_m) - scene::invert_at(scene, z);
      if (depth <= 2e-5) continue;  // where none goes on
      table.any = true;
      table.level[at] = static_cast<float>(reach.from_level_m + slope * (z - reach.from_m));
      table.slope[at] = static_cast<float>(slope);
      table.top = std::max(table.top, table.level[at] + 0.002F);
      table.liveliness[at] = reach.standing ? 0.05F : 0.8F;
    }
  }
  const WaterColours look = colours_of(scene.scenario.water, scene.scenario.water_colour);
  std::copy_n(look.dim, 3, table.dim);
  table.murk = look.murk;
  // Foul water carries bits of paper and the like along; how many hangs on the day (ours).
  if (scene::hides(scene.scenario.water) && scene.scenario.system != "surface water") {
    base::Random random(base::mix(scene.scenario.seed ^ 0x62697473ULL));
    table.bits = static_cast<float>(random.uniform(0.08, 0.3));
    table.seed = static_cast<float>(random.below(1U << 20U));
  }
  // A 200th of the light is left: (1 + x/8)^8 = 200.
  table.black_beyond = 8 * (1.939F - 1) / *std::min_element(table.dim, table.dim + 3);
  return table;
}

bool lens_under(const WaterTable& water, const RayCamera& camera) {
  if (!water.any) return false;
  const auto under = [&](double px, double py) {
    const Ray ray = ray_through(camera, px, py);
    const double t = window_ahead_m / std::max(0.05, scene::dot(ray.direction, camera.forward));
    const scene::Vec3 at = ray.from + t * ray.direction;
    const auto cell = static_cast<std::size_t>(
        std::clamp(at.z / water_cell_m, 0.0, static_cast<double>(water.level.size()) - 1));
    return at.y < static_cast<double>(water.level[cell]);
  };
  const double w = camera.width, h = camera.height;
  return under(0, 0) && under(w, 0) && under(0, h) && under(w, h);
}

void find_water(const WaterTable& water, const RayCamera& camera, Samples& s, WaterScratch& own) {
  own.surface.resize(s.depth.size());
  own.kind.resize(s.depth.size());
  HWY_DYNAMIC_DISPATCH(FindSurface)(water, camera, s, own.surface.data(), own.kind.data());
}

namespace {

/// Keeps only the rays that are wanted, in order; at[k] is where ray k went, or -1.
template <class Wanted>
void keep_rays(Samples& rays, std::vector<std::int32_t>& at, Wanted wanted) {
  int to = 0;
  at.assign(static_cast<std::size_t>(rays.count + 15) / 16 * 16, -1);
  for (int k = 0; k < rays.count; ++k) {
    const auto from = static_cast<std::size_t>(k);
    if (!wanted(from)) continue;
    for (auto* floats : {&rays.org_x, &rays.org_y, &rays.org_z, &rays.dir_x, &rays.dir_y, &rays.dir_z,
                         &rays.lamp, &rays.travelled})
      (*floats)[static_cast<std::size_t>(to)] = (*floats)[from];
    at[from] = to++;
  }
  rays.resize(to);
  rays.pad();
}

}  // namespace

void meet_water(const WaterTable& water, double time_s, Samples& s, WaterScratch& own,
                const MeetSolids& meet_solids) {
  own.index.resize(s.depth.size() + 16);
  const AtSurface at = HWY_DYNAMIC_DISPATCH(Dim)(water, static_cast<float>(time_s), s, own.kind.data(),
                                                 own.surface.data(), own.index.data());
  const int many = at.count;
  if (many == 0) return;
  const bool from_above = at.from_above, from_below = at.from_below;
  // Idle lanes repeat the last.
  std::fill_n(own.index.begin() + many, 16, own.index[static_cast<std::size_t>(many - 1)]);

  for (Samples* ray : {&own.mirrored, &own.bent}) {
    ray->resize(many);
    ray->pixel_size = s.pixel_size;
    ray->parallel = s.parallel;
  }
  own.lively.resize(own.mirrored.depth.size());
  own.mirror_share.resize(own.mirrored.depth.size());
  for (int k = 0; k < many; ++k) {
    const auto i = static_cast<std::size_t>(own.index[static_cast<std::size_t>(k)]);
    const auto to = static_cast<std::size_t>(k);
    const float t = own.surface[i];
    const float z = s.org_z[i] + t * s.dir_z[i];
    const int cell = std::clamp(static_cast<int>((z - water.start_m) / static_cast<float>(water_cell_m)), 0,
                                static_cast<int>(water.level.size()) - 1);
    own.lively[to] = water.liveliness[static_cast<std::size_t>(cell)];
    for (Samples* ray : {&own.mirrored, &own.bent}) {
      ray->org_x[to] = s.org_x[i] + t * s.dir_x[i];
      ray->org_y[to] = s.org_y[i] + t * s.dir_y[i];
      ray->org_z[to] = z;
      ray->dir_x[to] = s.dir_x[i], ray->dir_y[to] = s.dir_y[i], ray->dir_z[to] = s.dir_z[i];
      ray->travelled[to] = s.travelled[i] + t;
      ray->lamp[to] = s.lamp[i];
    }
  }
  own.mirrored.pad();
  own.bent.pad();
  std::fill(own.lively.begin() + many, own.lively.end(), 0.0F);
  HWY_DYNAMIC_DISPATCH(Scatter)
  (static_cast<float>(time_s), own.mirrored, own.bent, own.lively.data(), own.mirror_share.data());
  keep_rays(own.mirrored, own.mirrored_at, [&](std::size_t k) { return own.mirror_share[k] > hardly_shows; });
  keep_rays(own.bent, own.bent_at, [&](std::size_t k) { return own.mirror_share[k] < 1 - hardly_shows; });
  own.mirrored.black_beyond = from_below ? water.black_beyond : nothing_hit;
  own.bent.black_beyond = from_above ? water.black_beyond : nothing_hit;
  own.mirrored.drowned = from_below;
  own.bent.drowned = from_above;
  if (own.mirrored.count > 0) meet_solids(own.mirrored);
  if (own.bent.count > 0) meet_solids(own.bent);

  HWY_DYNAMIC_DISPATCH(Join)(water, static_cast<float>(time_s), s, own, many);
}

}  // namespace haunch::render
#endif
