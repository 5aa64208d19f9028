// SPDX-License-Identifier: Apache-2.0
// A ray that meets the wall in a patch goes on into its hollows, or strikes what rises from it, before it
// takes on a colour: what lies behind an edge is hidden by it, and a face that looks at the lamp is bright.
// Many rays at a time. Plain multiply, add, divide and square root only (no fused or approximate ones), so
// every instruction set gives the same bits.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>

#include "render/marks.hpp"
#include "render/marks_patch.hpp"

#undef HWY_TARGET_INCLUDE
#define HWY_TARGET_INCLUDE "render/marks_patch_simd.cpp"
#include "hwy/foreach_target.h"
#include "hwy/highway.h"
#include "render/lanes_simd.hpp"
#include "render/noise_simd.hpp"
#include "render/patch_bars_simd.hpp"
#include "render/patch_look_simd.hpp"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

namespace hn = hwy::HWY_NAMESPACE;

/// Where rays meet the wall, or would, were there no groove of a joint.
struct PatchSpot {
  M met;
  V z, angle, normal_x, normal_y, normal_z, depth;
};
HWY_INLINE PatchSpot SpotOf(const PatchMark& mark, const Samples& m, const Lanes& lanes, V dx, V dy, V dz) {
  const V zero = hn::Zero(F());
  PatchSpot at{zero == zero,          lanes.get(m.wall_z),   lanes.get(m.wall_angle), lanes.get(m.normal_x),
               lanes.get(m.normal_y), lanes.get(m.normal_z), lanes.get(m.depth)};
  if (!mark.over_joint) return at;
  const M on_wall = hn::RebindMask(F(), lanes.get(m.piece) > hn::Set(I(), -1));
  if (hn::AllTrue(F(), on_wall)) return at;
  // Back along the ray to the wall's face.
  const M far = at.depth >= Set(1e9F);
  const V depth = hn::IfThenElse(far, zero, at.depth);
  const V x = lanes.get(m.org_x) + dx * depth - Set(mark.centre_x),
          y = lanes.get(m.org_y) + dy * depth - Set(mark.centre_y);
  const V beyond = x * x + y * y - Set(mark.radius * mark.radius);
  const V a = dx * dx + dy * dy, b = x * dx + y * dy, root = b * b - a * beyond;
  const auto positive = [&](V v) { return v > zero; };
  M met = hn::And(hn::And(positive(beyond), positive(root)), hn::And(positive(a), positive(b)));
  met = hn::AndNot(far, met);
  alignas(64) std::int32_t shows[16] = {};
  for (int n = 0; n < lanes.count; ++n) shows[n] = m.fault[static_cast<std::size_t>(lanes.index[n])];
  met = hn::And(met, hn::RebindMask(F(), hn::Load(I(), shows) == hn::Zero(I())));
  const V back = (hn::Sqrt(hn::Max(root, zero)) - b) / hn::Max(a, Set(1e-12F));
  const V wx = x + back * dx, wy = y + back * dy;
  const M joint = hn::AndNot(on_wall, met);
  const auto either = [&](V groove, V wall) { return hn::IfThenElse(joint, groove, wall); };
  const float per_radius = 1 / mark.radius;
  at.met = hn::Or(on_wall, met);
  at.z = either(at.z + back * dz, at.z);
  at.angle = either(Angle(wx, wy), at.angle);
  at.normal_x = either(wx * Set(-per_radius), at.normal_x);
  at.normal_y = either(wy * Set(-per_radius), at.normal_y);
  at.normal_z = either(zero, at.normal_z);
  at.depth = either(at.depth + back, at.depth);
  return at;
}

/// The rays and the relief they have come down on.
struct Ground {
  V z, s, height;
  V inside, broad;
  V slope_z, slope_s, facing;  // facing: cosine of the relief's own normal
};

/// Steep faces, grime, and what shows in a broken rim.
HWY_INLINE void Weather(const PatchMark& mark, const Ground& at, Look& look) {
  const PatchRelief& relief = mark.relief;
  const V one = Set(1.0F);
  // A step as steep as this shows what the wall is made of, not the face of it drawn out.
  const V steep = Smooth(0.7F, 1.8F, hn::Abs(at.slope_z) + hn::Abs(at.slope_s));
  if (!hn::AllFalse(F(), steep > hn::Zero(F()))) {
    const auto noise = [&](float every, std::uint32_t more) {
      const V per = Set(1 / every);
      return Noise(at.z * per, at.s * per, at.height * per, mark.seed + more);
    };
    const V coarse = noise(0.0065F, 9U), grain = noise(0.0021F, 10U);
    look.albedo =
        Mix(look.albedo, Times(Set(0.88F) + Set(0.35F) * coarse + Set(0.30F) * grain, All(relief.body)),
            Set(0.85F) * steep);
    look.open = look.open * (one - Set(0.30F) * steep * Smooth(0.0F, 0.5F, coarse + Set(0.6F) * grain));
  }
  // Years of grime, in clouds.
  look.albedo = Times(one - Set(relief.grime) * Smooth(0.35F, 0.95F, at.broad), look.albedo);
  if (relief.rim_to > 0) {
    const auto noise = [&](float every, float row, std::uint32_t more) {
      return Noise(at.z * Set(1 / every), at.s * Set(1 / every), Set(row), mark.seed + more);
    };
    const V grain = noise(0.0022F, 0.3F, 5U), blotch = noise(0.010F, 0.6F, 6U);
    const V under =
        Smooth(0.70F * relief.rim_to, relief.rim_to, Set(0.25F * relief.rim_to) * blotch - at.height);
    look.albedo =
        Mix(Times(Set(0.9F) + Set(0.3F) * grain + Set(0.3F) * blotch, All(relief.rim)), look.albedo, under);
  }
}

/// The bars that rays strike, and what they do to what lies about them. `facing`: cosine of what is seen.
HWY_INLINE void ShowBars(const PatchMark& mark, const Bar& bar, const Ground& at, V view_z, V view_s,
                         V cosine, M barred, Look& look, V& facing) {
  static const Rgb thin_rust = linear_from_srgb(116, 78, 52), thick_rust = linear_from_srgb(62, 44, 35),
                   fresh_rust = linear_from_srgb(138, 82, 46), rust_in_cement = linear_from_srgb(118, 78, 50);
  const PatchBars& bars = mark.bars;
  const V zero = hn::Zero(F()), one = Set(1.0F);
  // Rust runs into the cement beside a bar, and a bar keeps light from what lies under it.
  const V beside = one - SmoothBetween(Set(0.3F * bars.radius), Set((2.2F + 3 * bars.flaky) * bars.radius),
                                       BesideBar(bars, at.z, at.s));
  const M struck = hn::And(barred, bar.met), rusty = hn::AndNot(bar.met, hn::And(barred, beside > zero));
  if (hn::AllFalse(F(), hn::Or(struck, rusty))) return;
  const V pz = hn::IfThenElse(struck, bar.z, at.z), ps = hn::IfThenElse(struck, bar.s, at.s);
  const V blotch = Noise(pz * Set(1 / 0.007F), ps * Set(1 / 0.007F), Set(0.6F), mark.seed + 6U);
  if (!hn::AllFalse(F(), rusty)) {
    const V red = hn::Clamp(beside * (Set(0.25F + 0.6F * bars.flaky) + Set(0.7F) * blotch), zero, Set(0.8F));
    look.albedo = Mix(look.albedo, All(rust_in_cement), hn::IfThenElse(rusty, red, zero));
    look.open = hn::IfThenElse(rusty, look.open * (one - Set(bars.shade) * beside), look.open);
  }
  if (hn::AllFalse(F(), struck)) return;
  const V grain = Noise(pz * Set(1 / 0.0016F), ps * Set(1 / 0.0016F), Set(0.3F), mark.seed + 5U);
  const V film_rusty = hn::Clamp(Set(0.18F) + Set(0.9F) * blotch + Set(0.3F) * grain, zero, one);
  const Colour film = Mix(All(mark.steel), All(thin_rust), film_rusty);
  // Scale: dark where it is thick, orange where a flake has just come off.
  const V fresh = hn::Clamp(Set(0.30F) + Set(0.9F) * blotch + Set(0.6F) * grain, zero, one);
  const Colour scale = Mix(All(thick_rust), All(fresh_rust), fresh);
  const Colour steel =
      Times(one + Set(0.30F) * grain, Mix(film, scale, Set(std::max(0.0F, 1.5F * bars.flaky - 0.5F))));
  const auto either = [&](V of_bar, V of_ground) { return hn::IfThenElse(struck, of_bar, of_ground); };
  look.albedo = {either(steel.r, look.albedo.r), either(steel.g, look.albedo.g),
                 either(steel.b, look.albedo.b)};
  look.gloss = either(Set(0.10F * (1 - bars.flaky)), look.gloss);
  look.open = either(one - Set(0.5F) * Smooth(-0.4F, 0.6F, zero - bar.out), look.open);
  facing = either(hn::Clamp(cosine * bar.out - view_z * bar.along - view_s * bar.round, zero, one), facing);
}

/// Radians on from the grid's first column.
HWY_INLINE V AroundOf(const PatchMark& mark, V angle) {
  const V turned = angle - Set(mark.from_angle);
  return hn::IfThenElse(turned < hn::Zero(F()), turned + Set(2 * std::numbers::pi_v<float>), turned);
}
constexpr float most_slant = 4.5F;  // m along the wall for each metre down: a ray is followed no farther

void PaintLanes(const PatchMark& mark, Samples& m, const Lanes& lanes) {
  const PatchRelief& relief = mark.relief;
  const V zero = hn::Zero(F()), one = Set(1.0F);
  const V dx = lanes.get(m.dir_x), dy = lanes.get(m.dir_y), dz = lanes.get(m.dir_z);
  const PatchSpot spot = SpotOf(mark, m, lanes, dx, dy, dz);
  const V around = AroundOf(mark, spot.angle);
  const M here = hn::And(spot.met, around <= Set(mark.span));
  if (hn::AllFalse(F(), here)) return;
  const V z = spot.z - Set(mark.z0), s = around * Set(mark.radius);
  // The view on the wall, in its own frame: along, round, and square on it.
  const V per_normal =
      one / hn::Sqrt(hn::Max(spot.normal_x * spot.normal_x + spot.normal_y * spot.normal_y, Set(1e-12F)));
  const V view_z = dz, view_s = (dy * spot.normal_x - dx * spot.normal_y) * per_normal;
  const V cosine =
      hn::Clamp(zero - (dx * spot.normal_x + dy * spot.normal_y + dz * spot.normal_z), Set(0.04F), one);
  const V flat_square = hn::Max(Set(1e-8F), view_z * view_z + view_s * view_s);
  const V flat = hn::Sqrt(flat_square);
  const V pixel = m.parallel ? Set(m.pixel_size) : Set(m.pixel_size) * spot.depth;
  const V far = one / cosine, tz = view_z * view_z / flat_square, ts = view_s * view_s / flat_square;
  const V foot_z = pixel * hn::Sqrt(tz * far * far + ts), foot_s = pixel * hn::Sqrt(ts * far * far + tz);

  const Cell start = CellAt(mark, z, s);
  Colour wall{lanes.get(m.red), lanes.get(m.green), lanes.get(m.blue)};
  const auto keep = [&](const Colour& shown) {
    lanes.put(hn::IfThenElse(here, shown.r, wall.r), m.red);
    lanes.put(hn::IfThenElse(here, shown.g, wall.g), m.green);
    lanes.put(hn::IfThenElse(here, shown.b, wall.b), m.blue);
  };
  Colour out = wall;
  if (relief.stains > 0) {
    const V k = Set(relief.stains) * start.stain;
    out = {wall.r * (one + k * Set(relief.stain.r - 1)), wall.g * (one + k * Set(relief.stain.g - 1)),
           wall.b * (one + k * Set(relief.stain.b - 1))};
  }
  const V foot = hn::Max(foot_z, foot_s);
  M shown = here;
  if (relief.top <= 0) shown = hn::And(shown, start.inside >= zero - (Set(0.004F + relief.soft) + foot));
  if (hn::AllFalse(F(), shown)) return keep(out);

  const V slant = hn::Min(far, Set(most_slant)), run_z = view_z * slant, run_s = view_s * slant;
  const Relief r =
      ReliefFor(mark, foot_z, foot_s, start, slant * flat * Set(relief.depth + relief.top) + Set(0.004F));
  const Landing landing = Land(r, z, s, run_z, run_s);
  const V tile_height = r.FineTile(landing.z, landing.s);
  const V here_high = r.Stands(landing.z, landing.s, tile_height);
  const V next_z = landing.z + r.step_z, next_s = landing.s + r.step_s;
  Ground at{landing.z, landing.s, landing.height, start.inside, start.broad, zero, zero, zero};
  at.slope_z = (r.Stands(next_z, landing.s, r.FineTile(next_z, landing.s)) - here_high) / r.step_z;
  at.slope_s = (r.Stands(landing.z, next_s, r.FineTile(landing.z, next_s)) - here_high) / r.step_s;
  const V per_length = one / hn::Sqrt(one + at.slope_z * at.slope_z + at.slope_s * at.slope_s);
  at.facing = hn::Clamp((cosine + view_z * at.slope_z + view_s * at.slope_s) * per_length, zero, one);

  // Well inside, what the grid says changes too slowly for the way down to matter.
  if (!r.all_inner) {
    const Cell below = CellAt(mark, landing.z, landing.s);
    at.inside = hn::IfThenElse(r.inner, at.inside, below.inside);
    at.broad = hn::IfThenElse(r.inner, at.broad, below.broad);
  }
  const V inside = r.Inside(at.inside, tile_height);
  const V soft = Set(relief.soft) + Set(0.5F) * foot;
  // The far side of a hollow belongs to it although it lies under the wall beyond its edge.
  V cover = SmoothBetween(zero - soft, soft, inside);
  const V sunk_by = zero - landing.height;
  cover = hn::IfThenElse(inside > Set(-0.004F), hn::Max(cover, Smooth(0.0008F, 0.0016F, sunk_by)), cover);
  cover = hn::Max(cover, Smooth(0.0003F, 0.0008F, landing.height));
  // Inside nothing of the wall is left: it may not even have been given a colour (find_painted_over).
  cover = hn::IfThenElse(r.inner, one, cover) * Set(relief.solid);
  const bool has_bars = mark.bars.radius > 0;
  const M barred = hn::And(shown, has_bars ? start.inside > Set(-0.004F) : zero > zero);
  shown = hn::And(shown, hn::Or(barred, cover > Set(0.01F)));
  if (hn::AllFalse(F(), shown)) return keep(out);

  Look look = LookAt(r, landing.z, landing.s);
  const Lamp lamp = LampOf(m, lanes, spot.depth);
  const auto lay = [&](const Colour& light) {
    cover = hn::IfThenElse(shown, cover, zero);
    // Where it covers all, what was there must not show in the last bit.
    const M whole = cover >= one;
    const Colour mixed = Mix(out, light, cover);
    keep({hn::IfThenElse(whole, light.r, mixed.r), hn::IfThenElse(whole, light.g, mixed.g),
          hn::IfThenElse(whole, light.b, mixed.b)});
    alignas(64) float covers[16];
    hn::Store(hn::IfThenElse(here, cover, zero), F(), covers);
    for (int n = 0; n < lanes.count; ++n)
      if (covers[n] > 0.5F) m.fault[static_cast<std::size_t>(lanes.index[n])] = mark.fault;
  };
  if (relief.film) {
    // The wall itself, as the film bends its face, darkens or coats it.
    const auto body = [&](V c) { return Set(rough_share) * hn::Sqrt(c) + Set(1 - rough_share) * c; };
    const V stands = hn::Max(at.facing, Set(0.40F) * cosine);
    const V share = look.open * body(stands) / body(cosine);
    const V shine = m.drowned ? zero : lamp.Shine(look.gloss * look.open, at.facing, Set(50.0F));
    return lay({share * look.albedo.r * out.r + shine, share * look.albedo.g * out.g + shine,
                share * look.albedo.b * out.b + shine});
  }
  Weather(mark, at, look);
  V facing = at.facing;
  if (has_bars && !hn::AllFalse(F(), barred)) {
    const Bar bar = Strike(mark, z, s, run_z, run_s, landing.height);
    ShowBars(mark, bar, at, view_z, view_s, cosine, barred, look, facing);
    cover = hn::IfThenElse(hn::And(barred, bar.met), one, cover);
  }
  if (relief.deep_from > 0)
    look.albedo =
        Mix(look.albedo, All(relief.deep), Smooth(0.4F * relief.deep_from, relief.deep_from, sunk_by));
  look.open = look.open / (one + Set(relief.dark) * hn::Max(sunk_by, zero));
  // Hollows narrow at their edge get little light from about.
  if (relief.depth > 0)
    look.open = look.open * (one - Set(0.35F) * Smooth(0.001F, 0.012F, sunk_by) *
                                       (one - Smooth(0.0F, 2.5F * relief.depth, at.inside)));
  // Below what usually flows all is dark with slime, and wet.
  const VI row = hn::ConvertTo(
      I(), hn::Clamp(landing.z * Set(1 / mark.step_z), zero, Set(static_cast<float>(mark.rows - 1))));
  const V y = lanes.get(m.org_y) + dy * spot.depth;
  const V above = (y - hn::GatherIndex(F(), mark.flow_y.data(), row)) * Set(1 / mark.radius);
  const V slime = one - Smooth(-0.02F, 0.10F, above);
  look.albedo = Mix(look.albedo, All({0.062F, 0.047F, 0.028F}), Set(0.55F) * slime);
  look.gloss = m.drowned ? zero : hn::Max(look.gloss, Set(0.22F) * slime);
  if (m.drowned) look.albedo = Times(Set(0.62F), look.albedo);
  // Faces turned from the lamp still get what comes from across.
  const V body = look.open * lamp.Body(hn::Max(facing, Set(0.40F) * cosine));
  const V power = hn::IfThenElse(look.gloss > Set(0.6F), Set(20.0F), Set(40.0F));
  const V shine = lamp.Shine(look.gloss * look.open, facing, power);
  lay({body * look.albedo.r + shine, body * look.albedo.g + shine, body * look.albedo.b + shine});
}

/// Adds to `over` where PaintLanes is sure to find itself well inside.
bool PaintedOver(const PatchMark& mark, const float* z, const float* angle, int count, std::int32_t* over) {
  const PatchRelief& relief = mark.relief;
  const float needs = InnerFrom(mark, 1.001F * most_slant * (relief.depth + relief.top) + 0.0041F);
  bool any = false;
  for (int n = 0; n < count; n += lanes()) {
    const V at = hn::Load(F(), z + n), around = AroundOf(mark, hn::Load(F(), angle + n));
    const M here = hn::And(hn::And(at > Set(mark.z0), at < Set(mark.z1)), around <= Set(mark.span));
    if (hn::AllFalse(F(), here)) continue;
    const Cell cell = CellAt(mark, at - Set(mark.z0), around * Set(mark.radius));
    const M inner = hn::And(here, cell.inside > Set(needs));
    any |= !hn::AllFalse(F(), inner);
    const VI had = hn::Load(I(), over + n);
    hn::Store(hn::IfThenElse(hn::RebindMask(I(), inner), hn::Set(I(), 1), had), I(), over + n);
  }
  return any;
}

void PaintPatch(const PatchMark& mark, Samples& m) {
  ForLanesBetween(m, mark.z0, mark.z1, mark.over_joint,
                  [&](const Lanes& lanes) { PaintLanes(mark, m, lanes); });
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#if HWY_ONCE
namespace haunch::render {

HWY_EXPORT(PaintPatch);
HWY_EXPORT(PaintedOver);

void paint_patch(const PatchMark& mark, Samples& samples) {
  if (mark.relief.bends) return paint_bends(mark, samples);
  HWY_DYNAMIC_DISPATCH(PaintPatch)(mark, samples);
}

bool find_painted_over(const Marks& marks, const float* z, const float* angle, int count,
                       std::int32_t* over) {
  bool any = false;
  for (const PatchMark& mark : marks.patches) {
    if (mark.relief.bends || mark.relief.film || mark.relief.solid < 1) continue;
    const auto [least, most] = std::minmax_element(z, z + count);
    if (*most <= mark.z0 || *least >= mark.z1) continue;
    if (!any) std::fill_n(over, count, 0);
    any |= HWY_DYNAMIC_DISPATCH(PaintedOver)(mark, z, angle, count, over);
  }
  return any;
}

}  // namespace haunch::render
#endif
