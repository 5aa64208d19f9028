// SPDX-License-Identifier: Apache-2.0
// Lights the wall, many rays at a time. Plain multiply, add, divide and square root only (no fused or
// approximate ones), so every instruction set gives the same bits.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "render/marks.hpp"
#include "render/wall.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/wall_shade_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/simd_maths.hpp"
#include "render/wall_particular_simd.hpp"
#include "render/wall_texels_simd.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

HWY_INLINE V Body(V c) {
  return c * (hn::Set(F(), rough_share) * InverseRoot(c) + hn::Set(F(), 1 - rough_share));
}

/// Where a vector of samples lies, and what number it bears.
HWY_INLINE void KeepWhere(const Wall& wall, const Spot& p, const Normal& normal, M bore, V angle, Samples& s,
                          int i) {
  const Rows& rows = p.rows;
  const V zero = hn::Zero(F());
  hn::StoreU(p.z, F(), &s.wall_z[i]);
  hn::StoreU(angle, F(), &s.wall_angle[i]);
  hn::StoreU(normal.x, F(), &s.normal_x[i]);
  hn::StoreU(normal.y, F(), &s.normal_y[i]);
  hn::StoreU(normal.z, F(), &s.normal_z[i]);
  const V face_fault = hn::IfThenElse(p.r.dz > zero, COLUMN(face_lo_fault), COLUMN(face_hi_fault));
  const V fault = hn::IfThenElse(p.nothing, zero, hn::IfThenElse(p.is_face, face_fault, COLUMN(fault)));
  const VI number = hn::ConvertTo(I(), fault);
  const VI piece = hn::GatherIndex(I(), wall.piece.data(), p.stretch);
  const VI shown = hn::IfThenElse(hn::RebindMask(I(), bore), piece, hn::Set(I(), -1));
  hn::StoreU(shown, I(), &s.piece[i]);
  const hn::Rebind<std::uint16_t, F> half;
  hn::StoreU(hn::DemoteTo(half, number), half, &s.fault[i]);
}

/// Leaves a vector black whose every sample is to be painted over, and says so.
bool LeaveOut(const Wall& wall, const Steps& b, int j, const std::int32_t* painted_over, Samples& s) {
  const int i = b.from[j], at = j * lanes();
  const M over = hn::RebindMask(F(), hn::Load(I(), painted_over + at) != hn::Zero(I()));
  if (hn::AllFalse(F(), over)) return false;
  const Spot p = SpotAt(wall, s, i);
  const Rows& rows = p.rows;
  const V zero = hn::Zero(F());
  const M bore = hn::AndNot(hn::Or(p.is_face, COLUMN(groove) > zero), hn::Not(p.nothing));
  if (!hn::AllTrue(F(), hn::Or(p.nothing, hn::And(bore, over)))) return false;
  for (auto* to : {&s.red, &s.green, &s.blue}) hn::StoreU(zero, F(), &(*to)[i]);
  const Normal normal = NormalAt(p, hn::Load(F(), b.ux + at), hn::Load(F(), b.uy + at));
  KeepWhere(wall, p, normal, bore, hn::Load(F(), b.angle + at), s, i);
  return true;
}

/// Colours one vector of samples.
void Colour(const Wall& wall, const Steps& b, int j, Samples& s) {
  const V zero = hn::Zero(F()), one = K(1.0F);
  const auto k = [](float x) { return K(x); };
  const auto mixed = [&](V u, V v, V share) { return u + (v - u) * share; };
  const int i = b.from[j], at = j * lanes();
  const Spot p = SpotAt(wall, s, i);
  const Rays& r = p.r;
  const Rows& rows = p.rows;
  const M nothing = p.nothing, is_face = p.is_face;
  const V t = p.t, y = p.y, z = p.z, along = p.along, radius = p.radius, qx = p.qx, qy = p.qy;
  const V slope_x = p.slope_x, slope_y = p.slope_y;
  const V ux = hn::Load(F(), b.ux + at), uy = hn::Load(F(), b.uy + at), angle = hn::Load(F(), b.angle + at),
          patch_v = hn::Load(F(), b.patch_v + at);
  const Normal normal = NormalAt(p, ux, uy);
  const V nx = normal.x, ny = normal.y, nz = normal.z;
  const V cos_geo = CosineAt(p, normal);
  const V reach = t + hn::LoadU(F(), &s.travelled[i]);
  const Texel paint = Kept(b.paint, at), shape = Kept(b.shape, at), broad = Kept(b.broad, at),
              fine = Kept(b.fine, at);
  const V grain_r = hn::Load(F(), b.grain[0] + at), grain_b = hn::Load(F(), b.grain[1] + at),
          grain_a = hn::Load(F(), b.grain[2] + at);
  const V close = Close(rows, patch_v);
  const bool no_smear = b.no_smear[j];

  V ar = paint.r * paint.r * COLUMN(tint_r), ag = paint.g * paint.g * COLUMN(tint_g),
    ab = paint.b * paint.b * COLUMN(tint_b);
  V gloss = paint.a * COLUMN(gloss);
  V bumps = COLUMN(bumps);
  V open = shape.b;
  // Large patches: no two places are quite the same.
  const V shade = (k(0.70F) + k(0.60F) * broad.r) * (one + k(0.8F) * close * (grain_b - k(0.5F)));
  ar = ar * shade * (k(0.94F) + k(0.12F) * broad.a), ag = ag * shade, ab = ab * shade;

  V lift_u = zero, lift_v = zero;
  const V particular = COLUMN(particular);
  const bool has_particular = !hn::AllTrue(F(), particular <= zero);
  if (has_particular) {
    Surface surface{ar, ag, ab, gloss, bumps, zero, zero};
    const M brick = particular == k(brick_wall), lined = particular == k(lined_wall),
            channel = particular == k(worn_channel);
    if (!hn::AllFalse(F(), brick)) Bricks(rows, brick, angle, z, patch_v, paint.a, surface);
    if (!hn::AllFalse(F(), lined)) Lined(rows, lined, angle, z, radius, reach, patch_v, broad, surface);
    if (!hn::AllFalse(F(), channel)) Channel(rows, channel, angle, broad, fine, surface);
    ar = surface.r, ag = surface.g, ab = surface.b, gloss = surface.gloss, bumps = surface.bumps;
    lift_u = surface.lift_u, lift_v = surface.lift_v;
  }

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
  if (!no_smear) {
    const V beside = Beside(rows, z, uy, fine.r);
    const V ragged = beside + k(0.9F) * (grain_b - k(0.5F)) + k(1.2F) * (fine.b - k(0.5F));
    const V smear = k(0.92F) * (one - Smooth(0.75F, 1.05F, ragged));
    const V grit = k(0.75F) + k(0.5F) * fine.b;
    ar = mixed(ar, COLUMN(smear_r) * grit, smear), ag = mixed(ag, COLUMN(smear_g) * grit, smear),
    ab = mixed(ab, COLUMN(smear_b) * grit, smear);
    gloss = mixed(gloss, COLUMN(smear_gloss), smear);
    bumps = bumps * (one - k(0.5F) * smear);
  }

  // Above the flow line a stained band, below it slime and a film of water.
  const V above = y - (COLUMN(flow_y) + COLUMN(flow_slope) * along);
  const V risen = above * COLUMN(per_tide) * hn::Max(k(3.0F) - k(2.0F) * broad.g - k(1.5F) * fine.r, k(0.5F));
  V wet = zero, water = k(0.35F) * Smooth(0.41F, 0.76F, broad.a);  // damp patches
  if (!hn::AllTrue(F(), hn::And(risen >= one, above >= k(0.012F)))) {
    const V stained = one - Smooth(0.55F, 1.0F, risen);
    wet = one - Smooth(-0.002F, 0.004F, above + k(0.014F) * (fine.g - k(0.5F)));
    const V sludge = COLUMN(sludge) * stained * (k(0.45F) + k(0.55F) * fine.a);
    ar = mixed(ar, k(0.060F), sludge), ag = mixed(ag, k(0.044F), sludge), ab = mixed(ab, k(0.024F), sludge);
    // A greasy pale edge where the flow usually stops.
    const V edge = k(0.22F) * stained * Smooth(0.4F, 0.6F, risen) * fine.r;
    ar = mixed(ar, k(0.30F), edge), ag = mixed(ag, k(0.25F), edge), ab = mixed(ab, k(0.18F), edge);
    water = hn::Max(hn::Max(wet, k(0.6F) * stained), water);
    bumps = bumps * (one - k(0.55F) * wet);
  }
  const V soaked = one - COLUMN(soak) * water;
  ar = ar * soaked, ag = ag * soaked, ab = ab * soaked;
  gloss = hn::Max(gloss, gloss + (k(0.9F) - gloss) * water);

  // Ends of units and grooves of joints have their own plain matter.
  if (!hn::AllTrue(F(), bore)) {
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
  }

  if (s.drowned) {
    // Water fills the pores, and slime and fine silt lie at the bottom.
    gloss = zero;
    const V dark = k(0.62F) * (k(0.8F) + k(0.4F) * fine.b);
    ar = ar * dark, ag = ag * dark, ab = ab * (dark * k(0.92F));
  }

  // The bumpy normal: slopes round (clockwise tangent) and along.
  V gu = (shape.r - k(0.50196F)) * k(3.0F) * bumps + close * (grain_r - k(0.5F)) * bumps,
    gv = (shape.g - k(0.50196F)) * k(3.0F) * bumps + close * (grain_a - k(0.5F)) * bumps;
  if (has_particular) {
    gu = gu + hn::IfThenElse(bore, lift_u, zero);
    gv = gv + hn::IfThenElse(bore, lift_v, zero);
  }
  const V px = nx - gu * uy, py = ny + gu * ux, pz = nz - gv;
  const V scale = InverseRoot(px * px + py * py + pz * pz);
  const V mx = px * scale, my = py * scale, mz = pz * scale;
  const V cosine = hn::Clamp(zero - (mx * r.dx + my * r.dy + mz * r.dz), zero, one);

  // What a wet wall mirrors: the lamps themselves, else the wall across.
  const V c1 = one - cosine, c2 = c1 * c1;
  const V fresnel = k(0.03F) + k(0.97F) * (c2 * c2 * c1);
  const V twice = cosine + cosine;
  const V rx = r.dx + twice * mx, ry = r.dy + twice * my, rz = r.dz + twice * mz;
  const V ex = rx - slope_x * rz, ey = ry - slope_y * rz;
  const V across = k(-2.0F) * (qx * ex + qy * ey) * Inverse(hn::Max(ex * ex + ey * ey, k(1e-5F)));
  const V seen = hn::Max(across, zero);
  const V wx = t * r.dx + seen * rx, wy = t * r.dy + seen * ry, wz = t * r.dz + seen * rz;
  const V gone2 = hn::Max(wx * wx + wy * wy + wz * wz, k(lamp_nearest_m * lamp_nearest_m));
  const V per_gone = InverseRoot(gone2);
  const V facing = hn::Min(radius * per_gone, one);
  const V ahead = Square(wz * per_gone);
  const V back_lit =
      facing * (k(1.6F) - k(0.6F) * facing) * (k(0.12F) + k(0.88F) * ahead * ahead) * Square(per_gone);
  const V mirrored = hn::IfThenElse(across > zero, back_lit, zero);
  const V near2 = hn::Max(reach * reach, k(lamp_nearest_m * lamp_nearest_m));
  const V lamp = hn::LoadU(F(), &s.lamp[i]);
  const V fall = lamp * Inverse(near2);
  // A facet that looks at the lens shows the lamps: a narrow peak with a long tail.
  const V cos2 = hn::Max(cosine * cosine, k(1e-4F));
  const V narrow = (k(0.05F) + k(0.10F) * wet) * cos2;
  const V peak = narrow * Inverse(narrow + one - cos2);
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
  KeepWhere(wall, p, normal, bore, angle, s, i);
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

void ShadeWall(const Wall& wall, const Textures& textures, const Marks* marks, Samples& s) {
  static thread_local Steps b;
  alignas(64) std::int32_t painted_over[chunk];
  for (int i = 0; i < s.count;) {
    for (b.count = 0; i < s.count && b.count * lanes() < chunk; i += lanes()) {
      const V depth = hn::LoadU(F(), &s.depth[i]);
      // Where nothing can be seen of it the wall needs no colour.
      if (hn::AllTrue(F(), depth > hn::LoadU(F(), &s.unseen[i])))
        Blacken(depth, s, i);
      else
        b.from[b.count++] = i;
    }
    for (int j = 0; j < b.count; ++j) FindTexels(wall, s, b, j);
    std::fill_n(b.hidden, b.count, false);
    if (marks != nullptr && find_painted_over(*marks, b.z, b.angle, b.count * lanes(), painted_over))
      for (int j = 0; j < b.count; ++j) b.hidden[j] = LeaveOut(wall, b, j, painted_over, s);
    ReadTexels(wall, textures, s, b);
    for (int j = 0; j < b.count; ++j)
      if (!b.hidden[j]) Colour(wall, b, j, s);
  }
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {
HWY_EXPORT(ShadeWall);
void shade_wall(const Wall& wall, const Textures& textures, const Marks* marks, Samples& samples) {
  HWY_DYNAMIC_DISPATCH(ShadeWall)(wall, textures, marks, samples);
}
}  // namespace haunch::render
#endif
