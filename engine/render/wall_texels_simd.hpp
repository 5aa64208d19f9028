// SPDX-License-Identifier: Apache-2.0
// Where on the wall each of many rays meets it, and what its textures hold there, in short steps over
// a few dozen rays each: while one vector waits for its texels the next ones are under way. Included
// once for each instruction set, by the wall's shading only.
#if defined(HAUNCH_RENDER_WALL_TEXELS) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_WALL_TEXELS
#undef HAUNCH_RENDER_WALL_TEXELS
#else
#define HAUNCH_RENDER_WALL_TEXELS
#endif

#include <cstddef>
#include <cstdint>

#include "render/simd_maths.hpp"
#include "render/wall.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

struct Rays {
  V ox, oy, oz, dx, dy, dz;
};

/// The columns of each lane's stretch.
struct Rows {
  const float* table;
  VI base;
  int same;  ///< the stretch all lanes share, or -1
  HWY_INLINE V get(std::size_t offset_bytes) const {
    const int column = static_cast<int>(offset_bytes / sizeof(float));
    if (same >= 0) return hn::Set(F(), table[same * stretch_floats + column]);
    return hn::GatherIndex(F(), table + column, base);
  }
};
#define COLUMN(name) rows.get(offsetof(Stretch, name))

struct Texel {
  V r, g, b, a;  // 0..1
};

/// Where to read for four bytes at (u, v) in texels of a w x h level that starts at `start`.
struct Place {
  VI a, b, c, d, wu, wv;
};
HWY_INLINE Place Find(VI start, V u, V v, VI mask_u, VI mask_v, VI shift_u) {
  const V half = hn::Set(F(), 0.5F);
  const V pu = u - half, pv = v - half;
  const V fu = hn::Floor(pu), fv = hn::Floor(pv);
  const V w256 = hn::Set(F(), 256.0F);
  const VI wu = hn::ConvertTo(I(), (pu - fu) * w256), wv = hn::ConvertTo(I(), (pv - fv) * w256);
  const VI iu = hn::ConvertTo(I(), fu), iv = hn::ConvertTo(I(), fv), one = hn::Set(I(), 1);
  const VI v0 = iv & mask_v, v1 = (iv + one) & mask_v;
  const VI skew0 = iu + hn::ShiftLeft<3>(v0), skew1 = iu + hn::ShiftLeft<3>(v1);
  const VI row0 = hn::Shl(v0, shift_u) + start, row1 = hn::Shl(v1, shift_u) + start;
  return {row0 + (skew0 & mask_u),
          row0 + ((skew0 + one) & mask_u),
          row1 + (skew1 & mask_u),
          row1 + ((skew1 + one) & mask_u),
          wu,
          wv};
}
HWY_INLINE Texel Read(const std::int32_t* words, const Place& at) {
  const VI a = hn::GatherIndex(I(), words, at.a), b = hn::GatherIndex(I(), words, at.b),
           c = hn::GatherIndex(I(), words, at.c), d = hn::GatherIndex(I(), words, at.d);
  const VI wu = at.wu, wv = at.wv;
  // Two bytes of a word at a time, each with sixteen bits to itself; the last mix keeps them all.
#if HWY_TARGET == HWY_SCALAR
  const VI pair = hn::Set(I(), 0x00ff00ff), full = hn::Set(I(), 256);
  const VI xu = full - wu, xv = full - wv;
  const auto mix = [&](VI p, VI q, VI r, VI s) {
    const VI top = hn::ShiftRight<8>(p * xu + q * wu) & pair, low = hn::ShiftRight<8>(r * xu + s * wu) & pair;
    return top * xv + low * wv;
  };
  const auto high = [&](VI x) { return hn::ShiftRight<8>(x) & pair; };
  const VI rb = mix(a & pair, b & pair, c & pair, d & pair), ga = mix(high(a), high(b), high(c), high(d));
#else
  using H = hn::Repartition<std::uint16_t, F>;
  using VH = hn::Vec<H>;
  const auto both = [](VI w) { return hn::BitCast(H(), w | hn::ShiftLeft<16>(w)); };
  const VH even = hn::Set(H(), 0xff), full = hn::Set(H(), 256);
  const VH qu = both(wu), qv = both(wv), xu = full - qu, xv = full - qv;
  const auto mix = [&](VH p, VH q, VH r, VH s) {
    const VH top = hn::ShiftRight<8>(p * xu + q * qu), low = hn::ShiftRight<8>(r * xu + s * qu);
    return hn::BitCast(I(), top * xv + low * qv);
  };
  const VH ha = hn::BitCast(H(), a), hb = hn::BitCast(H(), b), hc = hn::BitCast(H(), c),
           hd = hn::BitCast(H(), d);
  const VI rb = mix(ha & even, hb & even, hc & even, hd & even);
  const VI ga =
      mix(hn::ShiftRight<8>(ha), hn::ShiftRight<8>(hb), hn::ShiftRight<8>(hc), hn::ShiftRight<8>(hd));
#endif
  const VI low16 = hn::Set(I(), 0xffff);
  const V scale = hn::Set(F(), 1.0F / (255.0F * 256.0F));
  const auto unit = [&](VI x) { return hn::ConvertTo(F(), x) * scale; };
  return {unit(rb & low16), unit(ga & low16), unit(hn::ShiftRight<16>(rb) & low16),
          unit(hn::ShiftRight<16>(ga) & low16)};
}

HWY_INLINE Texel Mottle(const Textures& t, V u, V v) {
  const VI mask = hn::Set(I(), mottle_size - 1);
  return Read(reinterpret_cast<const std::int32_t*>(t.mottle.data()),
              Find(hn::Zero(I()), u, v, mask, mask, hn::Set(I(), 8)));
}

HWY_INLINE V K(float x) { return hn::Set(F(), x); }

/// The rays of one batch of steps and what each step leaves for the next.
constexpr int chunk = 128;
struct Steps {
  int count = 0;    // vectors
  int from[chunk];  // each vector's first sample
  alignas(64) float angle[chunk], ux[chunk], uy[chunk], z[chunk], patch_v[chunk];
  alignas(64) std::int32_t texel[6][chunk];  // a Place
  alignas(64) float paint[4][chunk], shape[3][chunk], broad[4][chunk], fine[4][chunk], grain[3][chunk];
  bool no_smear[chunk];
  bool hidden[chunk];  ///< each vector: nothing of it will be seen, so it needs no colour
};
template <std::size_t n>
HWY_INLINE void Keep(const Texel& texel, float (&to)[n][chunk], int at) {
  hn::Store(texel.r, F(), to[0] + at);
  hn::Store(texel.g, F(), to[1] + at);
  hn::Store(texel.b, F(), to[2] + at);
  if constexpr (n == 4) hn::Store(texel.a, F(), to[3] + at);
}
template <std::size_t n>
HWY_INLINE Texel Kept(const float (&from)[n][chunk], int at) {
  const V a = hn::Load(F(), from[n == 4 ? 3 : 0] + at);
  return {hn::Load(F(), from[0] + at), hn::Load(F(), from[1] + at), hn::Load(F(), from[2] + at), a};
}

/// A vector of samples on the wall.
struct Spot {
  Rays r;
  M nothing, is_face;
  bool curved;  ///< any of them on wall that is curved or out of round
  VI stretch;
  Rows rows;
  V t, x, y, z, along, slope_x, slope_y, radius, qx, qy;
};
HWY_INLINE Spot SpotAt(const Wall& wall, const Samples& s, int i) {
  const auto load = [&](const std::vector<float>& from) { return hn::LoadU(F(), &from[i]); };
  Spot p;
  p.r = {load(s.org_x), load(s.org_y), load(s.org_z), load(s.dir_x), load(s.dir_y), load(s.dir_z)};
  const V depth = load(s.depth);
  const VI place = hn::LoadU(I(), &s.place[i]);
  // Also what cannot be seen, so that a sample does not depend on its neighbours in the vector.
  p.nothing = hn::Or(hn::RebindMask(F(), place < hn::Zero(I())), depth > load(s.unseen));
  const VI held = hn::Max(place, hn::Zero(I()));
  p.is_face = hn::RebindMask(F(), (held & hn::Set(I(), 1)) > hn::Zero(I()));
  p.stretch = hn::ShiftRight<1>(held);
  const int first = hn::GetLane(p.stretch);
  p.rows = {reinterpret_cast<const float*>(wall.stretches.data()), p.stretch * hn::Set(I(), stretch_floats),
            -1};
  if (hn::AllTrue(I(), p.stretch == hn::Set(I(), first))) p.rows.same = first;
  const Rows& rows = p.rows;
  p.curved = wall.any_curved && !hn::AllTrue(F(), COLUMN(curved) <= hn::Zero(F()));
  p.t = hn::IfThenElse(p.nothing, K(1.0F), depth);
  p.x = p.r.ox + p.t * p.r.dx, p.y = p.r.oy + p.t * p.r.dy, p.z = p.r.oz + p.t * p.r.dz;
  p.along = p.z - COLUMN(z0);
  p.slope_x = COLUMN(slope_x), p.slope_y = COLUMN(slope_y), p.radius = COLUMN(radius);
  p.qx = p.x - COLUMN(centre_x) - p.slope_x * p.along, p.qy = p.y - COLUMN(centre_y) - p.slope_y * p.along;
  return p;
}
/// The bare wall's normal into the bore.
struct Normal {
  V x, y, z;
};
HWY_INLINE Normal CurvedNormalAt(const Spot& p, V ux, V uy) {
  const Rows& rows = p.rows;
  const V zero = hn::Zero(F()), one = K(1.0F), half = K(0.5F);
  const V shape = COLUMN(shape);
  const M oval = shape == K(oval_bore), hinged = shape == K(hinged_bore), egg = shape == K(egg_bore),
          box = shape == K(box_bore);
  const V wide = COLUMN(wide) + COLUMN(wide_slope) * p.along,
          high = COLUMN(high) + COLUMN(high_slope) * p.along;
  const V wide_lean = COLUMN(wide_lean) + COLUMN(wide_lean_change) * p.along,
          high_lean = COLUMN(high_lean) + COLUMN(high_lean_change) * p.along;
  // Outwards across the pipe, and how fast the wall comes in along it.
  const V side_x = hn::CopySign(one, p.qx), side_y = hn::CopySign(one, p.qy);
  V gx = ux, gy = uy, comes_in = zero;
  gx = hn::IfThenElse(oval, p.qx * wide, hn::IfThenElse(hinged, p.qx - side_x * wide, gx));
  gy = hn::IfThenElse(oval, p.qy * high, hn::IfThenElse(hinged, p.qy + side_y * wide, gy));
  if (!hn::AllFalse(F(), hn::Or(egg, box))) {
    // As they are met in wall_simd.
    const V over = p.qy - half * wide, far = hn::Abs(p.qx) + wide + wide;
    const M crown = over >= zero, invert = over < K(-0.75F) * far;
    const V egg_x = hn::IfThenElse(hn::Or(crown, invert), p.qx, side_x * far);
    const V egg_y = hn::IfThenElse(invert, over + K(1.5F) * wide, over);
    const M beside = hn::Abs(p.qx) - wide > hn::Abs(p.qy) - high;
    gx = hn::IfThenElse(egg, egg_x, hn::IfThenElse(box, hn::IfThenElse(beside, side_x, zero), gx));
    gy = hn::IfThenElse(egg, egg_y, hn::IfThenElse(box, hn::IfThenElse(beside, zero, side_y), gy));
  }
  const V per_size = InverseRoot(hn::Max(gx * gx + gy * gy, K(1e-12F)));
  comes_in = hn::IfThenElse(oval, half * (p.qx * p.qx * wide_lean + p.qy * p.qy * high_lean),
                            hn::IfThenElse(hinged, wide_lean * (side_y * gy - side_x * gx), zero));
  const V nx = gx * per_size, ny = gy * per_size;
  const V lean = nx * (COLUMN(lean_x) + COLUMN(lean_x_change) * p.along) +
                 ny * (COLUMN(lean_y) + COLUMN(lean_y_change) * p.along) - comes_in * per_size;
  const V norm = InverseRoot(one + lean * lean);
  const V back = hn::IfThenElse(p.r.dz > zero, K(-1.0F), one);
  return {hn::IfThenElse(p.is_face, zero, zero - nx * norm),
          hn::IfThenElse(p.is_face, zero, zero - ny * norm), hn::IfThenElse(p.is_face, back, lean * norm)};
}
HWY_INLINE Normal NormalAt(const Spot& p, V ux, V uy) {
  const V zero = hn::Zero(F()), one = K(1.0F);
  const V lean = ux * p.slope_x + uy * p.slope_y;
  const V norm = one - K(0.5F) * (lean * lean);  // pipes lean by hundredths
  const V back = hn::IfThenElse(p.r.dz > zero, K(-1.0F), one);
  const Normal straight{hn::IfThenElse(p.is_face, zero, zero - ux * norm),
                        hn::IfThenElse(p.is_face, zero, zero - uy * norm),
                        hn::IfThenElse(p.is_face, back, lean * norm)};
  if (!p.curved) return straight;
  // A sample must not depend on its neighbours in the vector.
  const Normal curved = CurvedNormalAt(p, ux, uy);
  const Rows& rows = p.rows;
  const M here = COLUMN(curved) > zero;
  return {hn::IfThenElse(here, curved.x, straight.x), hn::IfThenElse(here, curved.y, straight.y),
          hn::IfThenElse(here, curved.z, straight.z)};
}
HWY_INLINE V CosineAt(const Spot& p, const Normal& n) {
  return hn::Clamp(hn::Zero(F()) - (n.x * p.r.dx + n.y * p.r.dy + n.z * p.r.dz), K(0.03F), K(1.0F));
}

/// Where on the wall each sample lies, and which texels show there.
void FindTexels(const Wall& wall, const Samples& s, Steps& b, int j) {
  const V zero = hn::Zero(F()), one = K(1.0F);
  const auto k = [](float x) { return K(x); };
  const int i = b.from[j], at_j = j * lanes();
  const Spot p = SpotAt(wall, s, i);
  const Rays& r = p.r;
  const Rows& rows = p.rows;
  const V per_away = InverseRoot(hn::Max(p.qx * p.qx + p.qy * p.qy, k(1e-12F)));
  const V ux = p.qx * per_away, uy = p.qy * per_away;
  const V angle = Angle(ux, uy);
  // How much of the wall a pixel covers, round it and along it.
  const V cos_geo = CosineAt(p, NormalAt(p, ux, uy));
  const V reach = p.t + hn::LoadU(F(), &s.travelled[i]);
  const V patch = s.parallel ? k(s.pixel_size) : k(s.pixel_size) * reach;
  const V du = r.dx * uy - r.dy * ux, dv = r.dz;
  const V flat = hn::Max(du * du + dv * dv, k(1e-6F));
  const V stretched = patch * (one - cos_geo) * Inverse(cos_geo * flat);
  const V patch_u = patch + stretched * (du * du), patch_v = patch + stretched * (dv * dv);
  const V per_radian = COLUMN(texels_per_radian);
  const V per_m = k(tile_v / tile_along_m);
  // Between two levels some pixels take the one and some the other: no rings where levels change.
  const V dither = Hash01(hn::BitCast(U(), r.dx) + hn::BitCast(U(), r.dy) * hn::Set(U(), 0x9e3779b1U));
  const VI level_u =
      hn::ConvertTo(I(), hn::Clamp(Log2(patch_u * COLUMN(texels_per_m)) + k(0.5F), zero, k(levels_u - 1)));
  const VI level_v = hn::ConvertTo(I(), hn::Clamp(Log2(patch_v * per_m) + dither, zero, k(levels_v - 1)));
  // The sum of the sizes of the levels before: as Textures::level_start has it.
  const VI start =
      (hn::Set(I(), 1024) - hn::Shr(hn::Set(I(), 1024), level_u)) * hn::Set(I(), 2046) +
      hn::Shl(hn::Set(I(), 2048) - hn::Shr(hn::Set(I(), 2048), level_v), hn::Set(I(), 9) - level_u) +
      hn::ConvertTo(I(), COLUMN(tile));
  static_assert(levels_v == 10);
  const V half_u = Pow2Minus(level_u), half_v = Pow2Minus(level_v);
  const VI shift_u = hn::Set(I(), 9) - level_u;
  static_assert(tile_u == 512 && tile_v == 1024);
  const VI one_i = hn::Set(I(), 1);
  const VI mask_u = hn::Shl(one_i, shift_u) - one_i,
           mask_v = hn::Shl(one_i, hn::Set(I(), 10) - level_v) - one_i;
  const V u = (angle * per_radian + COLUMN(shift_u)) * half_u, v = (p.z * per_m + COLUMN(shift_v)) * half_v;
  const Place at = Find(start, u, v, mask_u, mask_v, shift_u);
  const VI* places[] = {&at.a, &at.b, &at.c, &at.d};
  for (int n = 0; n < 4; ++n) hn::Store(*places[n] + *places[n], I(), b.texel[n] + at_j);
  hn::Store(at.wu, I(), b.texel[4] + at_j);
  hn::Store(at.wv, I(), b.texel[5] + at_j);
  hn::Store(angle, F(), b.angle + at_j);
  hn::Store(ux, F(), b.ux + at_j);
  hn::Store(uy, F(), b.uy + at_j);
  hn::Store(p.z, F(), b.z + at_j);
  hn::Store(patch_v, F(), b.patch_v + at_j);
}

HWY_INLINE Place KeptPlace(const Steps& b, int at) {
  const auto load = [&](int n) { return hn::Load(I(), b.texel[n] + at); };
  return {load(0), load(1), load(2), load(3), load(4), load(5)};
}

/// How strongly fine grit shows: it fades where it is finer than a pixel.
HWY_INLINE V Close(const Rows& rows, V patch_v) {
  return COLUMN(grain) * hn::Clamp(K(1.15F) - patch_v * K(500.0F), hn::Zero(F()), K(1.0F));
}
/// Distance from the joints, in widths of their smear; it runs down at the invert.
HWY_INLINE V Beside(const Rows& rows, V z, V uy, V fine_r) {
  const V low_side = Smooth(-0.2F, 1.0F, hn::Zero(F()) - uy);
  const V narrow_by = (K(2.3F) - K(1.9F) * fine_r) * (K(1.0F) - K(0.5F) * low_side);
  return hn::Min((z - COLUMN(z0)) * COLUMN(per_smear_lo), (COLUMN(z1) - z) * COLUMN(per_smear_hi)) *
         narrow_by;
}

/// Reads all textures, one after the other.
void ReadTexels(const Wall& wall, const Textures& tex, const Samples& s, Steps& b) {
  const auto* words = reinterpret_cast<const std::int32_t*>(tex.texels.data());
  const auto k = [](float x) { return K(x); };
  const int n = lanes();
  constexpr float once = mottle_size / 6.2831853F;
  const auto rows_of = [&](int j) {
    const VI stretch = hn::ShiftRight<1>(hn::Max(hn::LoadU(I(), &s.place[b.from[j]]), hn::Zero(I())));
    const int first = hn::GetLane(stretch);
    Rows rows{reinterpret_cast<const float*>(wall.stretches.data()), stretch * hn::Set(I(), stretch_floats),
              -1};
    if (hn::AllTrue(I(), stretch == hn::Set(I(), first))) rows.same = first;
    return rows;
  };
  const auto each = [&](auto step) {
    for (int j = 0; j < b.count; ++j)
      if (!b.hidden[j]) step(j);
  };
  each([&](int j) { Keep(Read(words, KeptPlace(b, j * n)), b.paint, j * n); });
  each([&](int j) { Keep(Read(words + 1, KeptPlace(b, j * n)), b.shape, j * n); });
  each([&](int j) {
    const Rows rows = rows_of(j);
    const V angle = hn::Load(F(), b.angle + j * n), z = hn::Load(F(), b.z + j * n);
    // Askew: what comes again along the pipe comes farther round, and what comes again round it farther
    // along.
    Keep(Mottle(tex, angle * k(once) + z * k(0.38F * mottle_size / 1.9F),
                z * k(mottle_size / 1.9F) + angle * k(once) + COLUMN(shift_v)),
         b.broad, j * n);
  });
  each([&](int j) {
    const Rows rows = rows_of(j);
    const V angle = hn::Load(F(), b.angle + j * n), z = hn::Load(F(), b.z + j * n);
    Keep(Mottle(tex, angle * k(3 * once) + z * k(0.29F * mottle_size / 0.31F),
                z * k(mottle_size / 0.31F) + angle * k(2 * once) + COLUMN(shift_u)),
         b.fine, j * n);
  });
  each([&](int j) {
    const Rows rows = rows_of(j);
    const V angle = hn::Load(F(), b.angle + j * n), z = hn::Load(F(), b.z + j * n);
    const V beside = Beside(rows, z, hn::Load(F(), b.uy + j * n), hn::Load(F(), b.fine[0] + j * n));
    // Farther than this no wobble of its edge brings the smear here. What no lane needs is left out,
    // here and below: it would add nothing, to the last bit.
    b.no_smear[j] = hn::AllTrue(F(), beside >= k(2.2F));
    Texel grain{k(0.5F), k(0.5F), k(0.5F), k(0.5F)};
    if (!b.no_smear[j] || !hn::AllTrue(F(), Close(rows, hn::Load(F(), b.patch_v + j * n)) <= hn::Zero(F())))
      grain = Mottle(tex, angle * k(13 * once) + COLUMN(shift_v), z * k(mottle_size / 0.052F));
    hn::Store(grain.r, F(), b.grain[0] + j * n);
    hn::Store(grain.b, F(), b.grain[1] + j * n);
    hn::Store(grain.a, F(), b.grain[2] + j * n);
  });
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
