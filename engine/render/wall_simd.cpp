// SPDX-License-Identifier: Apache-2.0
// Meets the wall with eight or sixteen rays at a time and lights it. Compiled once for each
// instruction set; the machine's best is picked at run time. Plain multiply, add, divide and square
// root only (no fused or approximate ones), so every set gives the same bits.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "render/wall.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/wall_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

void MakeRays(const RayCamera& camera, const float* px, const float* py, int count, Samples& s) {
  s.resize(count);
  s.parallel = camera.parallel;
  s.pixel_size = static_cast<float>(2 * camera.half_width / camera.width);
  const auto f = [](double x) { return hn::Set(F(), static_cast<float>(x)); };
  const V one = hn::Set(F(), 1.0F);
  const V kx = f(2 * camera.half_width / camera.width), ky = f(-2 * camera.half_height / camera.height);
  const V bx = f(-camera.half_width), by = f(camera.half_height);
  for (int i = 0; i < count; i += lanes()) {
    // The caller's arrays are padded as Samples are.
    const V x = hn::LoadU(F(), px + i) * kx + bx, y = hn::LoadU(F(), py + i) * ky + by;
    const V ax = x * f(camera.right.x) + y * f(camera.up.x), ay = x * f(camera.right.y) + y * f(camera.up.y),
            az = x * f(camera.right.z) + y * f(camera.up.z);
    V dx = f(camera.forward.x), dy = f(camera.forward.y), dz = f(camera.forward.z);
    V ox = f(camera.lens.x), oy = f(camera.lens.y), oz = f(camera.lens.z);
    V beam = one;
    if (camera.parallel) {
      ox = ox + ax, oy = oy + ay, oz = oz + az;
    } else {
      dx = dx + ax, dy = dy + ay, dz = dz + az;
      const V k = one / hn::Sqrt(dx * dx + dy * dy + dz * dz);
      dx = dx * k, dy = dy * k, dz = dz * k;
      // The lamps shine ahead: strongest on the axis, a twentieth in the corners.
      const V c2 = k * k;
      beam = hn::Set(F(), 0.05F) + hn::Set(F(), 0.95F) * (c2 * c2 * c2 * c2);
    }
    hn::StoreU(ox, F(), &s.org_x[i]);
    hn::StoreU(oy, F(), &s.org_y[i]);
    hn::StoreU(oz, F(), &s.org_z[i]);
    hn::StoreU(dx, F(), &s.dir_x[i]);
    hn::StoreU(dy, F(), &s.dir_y[i]);
    hn::StoreU(dz, F(), &s.dir_z[i]);
    hn::StoreU(beam, F(), &s.lamp[i]);
    hn::StoreU(hn::Zero(F()), F(), &s.travelled[i]);
  }
  s.pad();
}

struct Rays {
  V ox, oy, oz, dx, dy, dz;
};

/// Walks along the stretches from the rays' start. `sign` +1: rays going downstream.
/// place = 2 * stretch + (1 for its end face).
HWY_INLINE void Walk(const Wall& wall, const Rays& r, float sign, int first, V& depth, VI& place) {
  const V zero = hn::Zero(F());
  M open = sign > 0 ? r.dz >= zero : r.dz < zero;
  const int count = static_cast<int>(wall.stretches.size()), step = sign > 0 ? 1 : -1;
  const V slack = hn::Set(F(), 1e-5F);
  for (int k = first; k >= 0 && k < count && !hn::AllFalse(F(), open); k += step) {
    const Stretch& st = wall.stretches[static_cast<std::size_t>(k)];
    const V z0 = hn::Set(F(), st.z0), near_z = hn::Set(F(), sign > 0 ? st.z0 : st.z1),
            end_z = hn::Set(F(), sign > 0 ? st.z1 : st.z0);
    const M here = hn::And(open, sign > 0 ? r.oz < end_z : r.oz > end_z);
    if (hn::AllFalse(F(), here)) continue;
    const V sx = hn::Set(F(), st.slope_x), sy = hn::Set(F(), st.slope_y), radius = hn::Set(F(), st.radius);
    const V along = r.oz - z0;
    const V qx = r.ox - hn::Set(F(), st.centre_x) - sx * along,
            qy = r.oy - hn::Set(F(), st.centre_y) - sy * along;
    const V ex = r.dx - sx * r.dz, ey = r.dy - sy * r.dz;
    // A ray exactly along the bore meets its wall far beyond all sight, not at once.
    const V a = hn::Max(ex * ex + ey * ey, hn::Set(F(), 1e-12F)), b = qx * ex + qy * ey,
            c = qx * qx + qy * qy - radius * radius;
    // Where the ray comes in through the plane between two stretches: inside the next bore?
    const M enters = hn::And(here, sign > 0 ? r.oz < near_z : r.oz > near_z);
    const V t_in = hn::IfThenElse(enters, (near_z - r.oz) / r.dz, zero);
    const V inx = qx + t_in * ex, iny = qy + t_in * ey, most = radius + slack;
    const M face = hn::And(enters, inx * inx + iny * iny > most * most);
    const V root = hn::Sqrt(hn::Max(b * b - a * c, zero));
    const V t_out = hn::Max(hn::IfThenElse(b > zero, zero - c / (b + root), (root - b) / a), t_in);
    const V z_out = r.oz + t_out * r.dz;
    const M wall_hit = hn::AndNot(face, hn::And(here, sign > 0 ? z_out <= end_z : z_out >= end_z));
    depth = hn::IfThenElse(face, t_in, hn::IfThenElse(wall_hit, t_out, depth));
    const M hit = hn::Or(face, wall_hit);
    const VI note = hn::IfThenElse(hn::RebindMask(I(), face), hn::Set(I(), 2 * k + 1), hn::Set(I(), 2 * k));
    place = hn::IfThenElse(hn::RebindMask(I(), hit), note, place);
    open = hn::AndNot(hit, open);
    const M too_far = hn::And(enters, t_in > hn::Set(F(), static_cast<float>(sight_m)));
    open = hn::AndNot(too_far, open);
  }
}

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

HWY_INLINE V Body(V c) { return hn::Set(F(), rough_share) * hn::Sqrt(c) + hn::Set(F(), 1 - rough_share) * c; }

/// Colours one vector of samples.
void Shade(const Wall& wall, const Textures& tex, const Rays& r, V depth, VI place, Samples& s, int i) {
  const V zero = hn::Zero(F()), one = hn::Set(F(), 1.0F);
  const auto k = [](float x) { return hn::Set(F(), x); };
  const auto mixed = [&](V a, V b, V share) { return a + (b - a) * share; };
  // Also what cannot be seen, so that a sample does not depend on its neighbours in the vector.
  const M nothing = hn::Or(hn::RebindMask(F(), place < hn::Zero(I())), depth > hn::LoadU(F(), &s.unseen[i]));
  const VI held = hn::Max(place, hn::Zero(I()));
  const M is_face = hn::RebindMask(F(), (held & hn::Set(I(), 1)) > hn::Zero(I()));
  const VI stretch = hn::ShiftRight<1>(held);
  const int first = hn::GetLane(stretch);
  Rows rows{reinterpret_cast<const float*>(wall.stretches.data()), stretch * hn::Set(I(), stretch_floats),
            -1};
  if (hn::AllTrue(I(), stretch == hn::Set(I(), first))) rows.same = first;

  const V t = hn::IfThenElse(nothing, k(1.0F), depth);
  const V x = r.ox + t * r.dx, y = r.oy + t * r.dy, z = r.oz + t * r.dz;
  const V along = z - COLUMN(z0);
  const V slope_x = COLUMN(slope_x), slope_y = COLUMN(slope_y), radius = COLUMN(radius);
  const V qx = x - COLUMN(centre_x) - slope_x * along, qy = y - COLUMN(centre_y) - slope_y * along;
  const V away = hn::Max(hn::Sqrt(qx * qx + qy * qy), k(1e-6F));
  const V per_away = one / away;
  const V ux = qx * per_away, uy = qy * per_away;
  const V lean = ux * slope_x + uy * slope_y;
  const V norm = one - k(0.5F) * (lean * lean);  // pipes lean by hundredths
  V nx = zero - ux * norm, ny = zero - uy * norm, nz = lean * norm;
  const V back = hn::IfThenElse(r.dz > zero, k(-1.0F), one);
  nx = hn::IfThenElse(is_face, zero, nx);
  ny = hn::IfThenElse(is_face, zero, ny);
  nz = hn::IfThenElse(is_face, back, nz);
  const V angle = Angle(ux, uy);

  // How much of the wall a pixel covers, round it and along it.
  const V cos_geo = hn::Clamp(zero - (nx * r.dx + ny * r.dy + nz * r.dz), k(0.03F), one);
  const V reach = t + hn::LoadU(F(), &s.travelled[i]);
  const V patch = s.parallel ? k(s.pixel_size) : k(s.pixel_size) * reach;
  const V du = r.dx * uy - r.dy * ux, dv = r.dz;
  const V flat = hn::Max(du * du + dv * dv, k(1e-6F));
  const V stretched = patch * (one - cos_geo) / (cos_geo * flat);
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
  const V u = (angle * per_radian + COLUMN(shift_u)) * half_u, v = (z * per_m + COLUMN(shift_v)) * half_v;
  Place at = Find(start, u, v, mask_u, mask_v, shift_u);
  at.a = at.a + at.a, at.b = at.b + at.b, at.c = at.c + at.c, at.d = at.d + at.d;
  const auto* words = reinterpret_cast<const std::int32_t*>(tex.texels.data());
  const Texel paint = Read(words, at), shape = Read(words + 1, at);
  const float once = mottle_size / 6.2831853F;
  const Texel broad = Mottle(tex, angle * k(once), z * k(mottle_size / 1.9F) + COLUMN(shift_v));
  const Texel fine = Mottle(tex, angle * k(3 * once), z * k(mottle_size / 0.31F) + COLUMN(shift_u));

  const Texel grain4 = Mottle(tex, angle * k(13 * once) + COLUMN(shift_v), z * k(mottle_size / 0.052F));
  // Fades where it is finer than a pixel.
  const V close = COLUMN(grain) * hn::Clamp(k(1.15F) - patch_v * k(500.0F), zero, one);

  V ar = paint.r * paint.r * COLUMN(tint_r), ag = paint.g * paint.g * COLUMN(tint_g),
    ab = paint.b * paint.b * COLUMN(tint_b);
  V gloss = paint.a * COLUMN(gloss);
  V bumps = COLUMN(bumps);
  V open = shape.b;
  // Large patches: no two places are quite the same.
  const V shade = (k(0.70F) + k(0.60F) * broad.r) * (one + k(0.8F) * close * (grain4.b - k(0.5F)));
  ar = ar * shade * (k(0.94F) + k(0.12F) * broad.a), ag = ag * shade, ab = ab * shade;

  const M groove = COLUMN(groove) > zero;
  const M bore = hn::AndNot(hn::Or(is_face, groove), hn::Not(nothing));
  // Maker's marks: short dashes beside the crown.
  const V print = COLUMN(print);
  if (!hn::AllTrue(F(), print <= zero)) {
    const V off = hn::Abs((angle - k(0.42F)) * radius) * k(1000.0F);
    const V mark_at = z * k(1000.0F) + COLUMN(shift_v);
    const V cell = hn::Floor(mark_at * k(1 / 2.6F));
    const V inside = mark_at * k(1 / 2.6F) - cell;
    const V group = mark_at * k(1 / 1000.0F) - hn::Floor(mark_at * k(1 / 1000.0F));
    const V letter = Hash01(hn::BitCast(U(), hn::ConvertTo(I(), cell)));
    const V high =
        k(2.2F) * (k(0.5F) + k(0.5F) * Hash01(hn::BitCast(U(), hn::ConvertTo(I(), cell)) + hn::Set(U(), 7U)));
    M ink = hn::And(hn::And(off < high, group < k(0.34F)), hn::And(inside<k(0.68F), letter> k(0.18F)));
    ink = hn::And(ink, print > zero);
    const V faded = k(0.7F) / (one + Square(patch_v * k(700.0F))) * Smooth(0.25F, 0.45F, fine.b);
    const V share = hn::IfThenElse(ink, faded, zero);
    ar = mixed(ar, k(0.02F), share), ag = mixed(ag, k(0.02F), share), ab = mixed(ab, k(0.025F), share);
  }
  // Mortar, lead or dirt beside the joints; it runs down at the invert.
  const V low_side = Smooth(-0.2F, 1.0F, zero - uy);
  const V narrow_by = (k(2.3F) - k(1.9F) * fine.r) * (one - k(0.5F) * low_side);
  const V beside =
      hn::Min((z - COLUMN(z0)) * COLUMN(per_smear_lo), (COLUMN(z1) - z) * COLUMN(per_smear_hi)) * narrow_by;
  const V ragged = beside + k(0.9F) * (grain4.b - k(0.5F)) + k(1.2F) * (fine.b - k(0.5F));
  const V smear = k(0.92F) * (one - Smooth(0.75F, 1.05F, ragged));
  const V grit = k(0.75F) + k(0.5F) * fine.b;
  ar = mixed(ar, COLUMN(smear_r) * grit, smear), ag = mixed(ag, COLUMN(smear_g) * grit, smear),
  ab = mixed(ab, COLUMN(smear_b) * grit, smear);
  gloss = mixed(gloss, COLUMN(smear_gloss), smear);

  // Above the flow line a stained band, below it slime and a film of water.
  const V above = y - (COLUMN(flow_y) + COLUMN(flow_slope) * along);
  const V risen = above * COLUMN(per_tide) * hn::Max(k(3.0F) - k(2.0F) * broad.g - k(1.5F) * fine.r, k(0.5F));
  const V stained = one - Smooth(0.55F, 1.0F, risen);
  const V wet = one - Smooth(-0.002F, 0.004F, above + k(0.006F) * (fine.g - k(0.5F)));
  const V sludge = COLUMN(sludge) * stained * (k(0.45F) + k(0.55F) * fine.a);
  ar = mixed(ar, k(0.060F), sludge), ag = mixed(ag, k(0.044F), sludge), ab = mixed(ab, k(0.024F), sludge);
  // A greasy pale edge where the flow usually stops.
  const V edge = k(0.22F) * stained * Smooth(0.4F, 0.6F, risen) * fine.r;
  ar = mixed(ar, k(0.30F), edge), ag = mixed(ag, k(0.25F), edge), ab = mixed(ab, k(0.18F), edge);
  const V damp = k(0.35F) * Smooth(0.35F, 0.7F, broad.b);
  const V water = hn::Max(hn::Max(wet, k(0.6F) * stained), damp);
  const V soaked = one - COLUMN(soak) * water;
  ar = ar * soaked, ag = ag * soaked, ab = ab * soaked;
  gloss = hn::Max(gloss, gloss + (k(0.9F) - gloss) * water);
  bumps = bumps * (one - k(0.55F) * wet) * (one - k(0.5F) * smear);

  // Ends of units and grooves of joints have their own plain matter.
  const V grain = k(0.7F) + k(0.6F) * fine.b;
  // The end of a unit is clean where it stands out, dirty and half hidden in a closed joint.
  const V bare = COLUMN(bare);
  const V clean =
      (k(0.55F) + k(0.6F) * fine.r) * (bare + (one - bare) * k(0.5F) * Smooth(0.42F, 0.62F, broad.b));
  const V dull = k(0.45F) * grain;
  const auto end = [&](V face, V filling) {
    return mixed(filling * dull, face * grain, hn::Min(clean, one));
  };
  ar = hn::IfThenElse(is_face, end(COLUMN(face_r), COLUMN(smear_r)),
                      hn::IfThenElse(groove, COLUMN(tint_r) * grain, ar));
  ag = hn::IfThenElse(is_face, end(COLUMN(face_g), COLUMN(smear_g)),
                      hn::IfThenElse(groove, COLUMN(tint_g) * grain, ag));
  ab = hn::IfThenElse(is_face, end(COLUMN(face_b), COLUMN(smear_b)),
                      hn::IfThenElse(groove, COLUMN(tint_b) * grain, ab));
  gloss = hn::IfThenElse(bore, gloss, k(0.15F));
  open = hn::IfThenElse(bore, open, hn::IfThenElse(groove, k(0.55F), one));
  bumps = hn::IfThenElse(bore, bumps, k(0.25F));

  // The bumpy normal: slopes round (clockwise tangent) and along.
  const V gu = (shape.r - k(0.50196F)) * k(3.0F) * bumps + close * (grain4.r - k(0.5F)) * bumps,
          gv = (shape.g - k(0.50196F)) * k(3.0F) * bumps + close * (grain4.a - k(0.5F)) * bumps;
  const V px = nx - gu * uy, py = ny + gu * ux, pz = nz - gv;
  const V scale = one / hn::Sqrt(px * px + py * py + pz * pz);
  const V mx = px * scale, my = py * scale, mz = pz * scale;
  const V cosine = hn::Clamp(zero - (mx * r.dx + my * r.dy + mz * r.dz), zero, one);

  // What a wet wall mirrors: the lamps themselves, else the wall across.
  const V c1 = one - cosine, c2 = c1 * c1;
  const V fresnel = k(0.03F) + k(0.97F) * (c2 * c2 * c1);
  const V twice = cosine + cosine;
  const V rx = r.dx + twice * mx, ry = r.dy + twice * my, rz = r.dz + twice * mz;
  const V ex = rx - slope_x * rz, ey = ry - slope_y * rz;
  const V across = k(-2.0F) * (qx * ex + qy * ey) / hn::Max(ex * ex + ey * ey, k(1e-5F));
  const V seen = hn::Max(across, zero);
  const V wx = t * r.dx + seen * rx, wy = t * r.dy + seen * ry, wz = t * r.dz + seen * rz;
  const V gone2 = hn::Max(wx * wx + wy * wy + wz * wz, k(lamp_nearest_m * lamp_nearest_m));
  const V per_gone = one / hn::Sqrt(gone2);
  const V facing = hn::Min(radius * per_gone, one);
  const V ahead = Square(wz * per_gone);
  const V back_lit =
      facing * (k(1.6F) - k(0.6F) * facing) * (k(0.12F) + k(0.88F) * ahead * ahead) * Square(per_gone);
  const V mirrored = hn::IfThenElse(across > zero, back_lit, zero);
  const V near2 = hn::Max(reach * reach, k(lamp_nearest_m * lamp_nearest_m));
  const V lamp = hn::LoadU(F(), &s.lamp[i]);
  const V fall = lamp / near2;
  // A facet that looks at the lens shows the lamps: a narrow peak with a long tail.
  const V cos2 = hn::Max(cosine * cosine, k(1e-4F));
  const V narrow = (k(0.05F) + k(0.10F) * wet) * cos2;
  const V peak = narrow / (narrow + one - cos2);
  const V glint = k(2 * highlight_strength) * gloss * gloss * (peak * peak) * fall;
  const V mirror = gloss * fresnel;
  // Drops are clear and hollows get light from across: no side of a bump is black.
  const V body_cos = hn::Max(cosine, k(0.45F) * cos_geo);
  const V body = Body(body_cos) * fall * open * (one - k(0.75F) * mirror);
  const V shine = mirror * mirrored;
  V red = body * ar + shine * COLUMN(mean_r) + glint, green = body * ag + shine * COLUMN(mean_g) + glint,
    blue = body * ab + shine * COLUMN(mean_b) + glint;
  red = hn::IfThenElse(nothing, zero, red);
  green = hn::IfThenElse(nothing, zero, green);
  blue = hn::IfThenElse(nothing, zero, blue);

  hn::StoreU(red, F(), &s.red[i]);
  hn::StoreU(green, F(), &s.green[i]);
  hn::StoreU(blue, F(), &s.blue[i]);
  hn::StoreU(z, F(), &s.wall_z[i]);
  hn::StoreU(angle, F(), &s.wall_angle[i]);
  hn::StoreU(nx, F(), &s.normal_x[i]);
  hn::StoreU(ny, F(), &s.normal_y[i]);
  hn::StoreU(nz, F(), &s.normal_z[i]);
  const V face_fault = hn::IfThenElse(r.dz > zero, COLUMN(face_lo_fault), COLUMN(face_hi_fault));
  const V fault = hn::IfThenElse(nothing, zero, hn::IfThenElse(is_face, face_fault, COLUMN(fault)));
  const VI number = hn::ConvertTo(I(), fault);
  const VI piece = hn::GatherIndex(I(), wall.piece.data(), stretch);
  const VI shown = hn::IfThenElse(hn::RebindMask(I(), bore), piece, hn::Set(I(), -1));
  hn::StoreU(shown, I(), &s.piece[i]);
  const hn::Rebind<std::uint16_t, F> half;
  hn::StoreU(hn::DemoteTo(half, number), half, &s.fault[i]);
}

HWY_INLINE void Blacken(V depth, Samples& s, int i) {
  const V zero = hn::Zero(F());
  const auto store = [&](V value, std::vector<float>& to) { hn::StoreU(value, F(), &to[i]); };
  store(depth, s.depth);
  for (auto* to :
       {&s.red, &s.green, &s.blue, &s.wall_z, &s.wall_angle, &s.normal_x, &s.normal_y, &s.normal_z})
    store(zero, *to);
  hn::StoreU(hn::Set(I(), -1), I(), &s.piece[i]);
  const hn::Rebind<std::uint16_t, F> half;
  hn::StoreU(hn::Zero(half), half, &s.fault[i]);
}

void WalkWall(const Wall& wall, Samples& s) {
  const int count = static_cast<int>(wall.stretches.size());
  const auto stretch_at = [&](float z) {
    const auto it = std::upper_bound(wall.stretches.begin(), wall.stretches.end(), z,
                                     [](float at, const Stretch& st) { return at < st.z0; });
    return std::clamp(static_cast<int>(it - wall.stretches.begin()) - 1, 0, count - 1);
  };
  for (int i = 0; i < s.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) { return hn::LoadU(F(), &from[i]); };
    const Rays r{load(s.org_x), load(s.org_y), load(s.org_z), load(s.dir_x), load(s.dir_y), load(s.dir_z)};
    V depth = hn::Set(F(), nothing_hit);
    VI place = hn::Set(I(), -1);
    const float least = hn::GetLane(hn::MinOfLanes(F(), r.oz)), most = hn::GetLane(hn::MaxOfLanes(F(), r.oz));
    Walk(wall, r, 1, stretch_at(least), depth, place);
    Walk(wall, r, -1, stretch_at(most), depth, place);
    hn::StoreU(depth, F(), &s.depth[i]);
    hn::StoreU(place, I(), &s.place[i]);
    hn::StoreU(hn::Set(F(), s.black_beyond), F(), &s.unseen[i]);
  }
}

void ShadeWall(const Wall& wall, const Textures& textures, Samples& s) {
  for (int i = 0; i < s.count; i += lanes()) {
    const auto load = [&](const std::vector<float>& from) { return hn::LoadU(F(), &from[i]); };
    const Rays r{load(s.org_x), load(s.org_y), load(s.org_z), load(s.dir_x), load(s.dir_y), load(s.dir_z)};
    const V depth = load(s.depth);
    // Where nothing can be seen of it the wall needs no colour.
    if (hn::AllTrue(F(), depth > load(s.unseen)))
      Blacken(depth, s, i);
    else
      Shade(wall, textures, r, depth, hn::LoadU(I(), &s.place[i]), s, i);
  }
}

const char* SetName() { return hwy::TargetName(HWY_TARGET); }

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(MakeRays);
HWY_EXPORT(WalkWall);
HWY_EXPORT(ShadeWall);
HWY_EXPORT(SetName);

void make_rays(const RayCamera& camera, const float* px, const float* py, int count, Samples& samples) {
  HWY_DYNAMIC_DISPATCH(MakeRays)(camera, px, py, count, samples);
}
void walk_wall(const Wall& wall, Samples& samples) { HWY_DYNAMIC_DISPATCH(WalkWall)(wall, samples); }
void shade_wall(const Wall& wall, const Textures& textures, Samples& samples) {
  HWY_DYNAMIC_DISPATCH(ShadeWall)(wall, textures, samples);
}
const char* instruction_set() { return HWY_DYNAMIC_DISPATCH(SetName)(); }

}  // namespace haunch::render
#endif
