// SPDX-License-Identifier: Apache-2.0
// Bars of steel in a patch, struck by many rays at once. Included once for each instruction set.
#if defined(HAUNCH_RENDER_PATCH_BARS) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_PATCH_BARS
#undef HAUNCH_RENDER_PATCH_BARS
#else
#define HAUNCH_RENDER_PATCH_BARS
#endif

#include "render/noise_simd.hpp"
#include "render/patch_look_simd.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

/// Where on a bar rays strike, and which way it looks there.
struct Bar {
  M met;
  V level;              // m above the wall
  V out, along, round;  // its normal
  V z, s;
};

/// A bar at places along it: never quite straight, and eaten away where it rusts. A radius of 0: it is not
/// there.
struct BarForm {
  V sway, radius, axis;
};
HWY_INLINE BarForm FormOf(const PatchMark& mark, V number, V along, bool ring, M asked) {
  const PatchBars& bars = mark.bars;
  const std::uint32_t more = mark.seed + (ring ? 21U : 22U);
  const auto noise = [&](float every, float row) {
    return NoiseOnRow(along * Set(1 / every), number, row, more);
  };
  const V zero = hn::Zero(F());
  BarForm form{zero, Set(bars.radius), Set(bars.axis)};
  if (bars.hidden > 0) {
    const V bare = noise(0.036F, 8.5F) + Set(0.35F) * noise(0.009F, 9.5F);
    asked = hn::AndNot(bare < Set(bars.hidden - 0.55F), asked);
    form.radius = hn::IfThenElse(asked, form.radius, zero);
    if (hn::AllFalse(F(), asked)) return form;
  }
  form.sway = Set(0.0014F) * noise(0.05F, 0.5F);
  if (bars.flaky > 0) {
    const V eaten = Set(0.6F) * noise(0.017F, 3.5F) + Set(0.32F) * noise(0.0045F, 1.5F);
    const V left = Set(1.0F) + Set(bars.flaky) * (Set(0.95F) * eaten + Set(0.05F));
    form.radius = form.radius * hn::Max(Set(0.2F), left);
    // Eaten through at the worst places.
    if (bars.flaky > 0.8F) form.radius = hn::IfThenElse(left < Set(0.3F), zero, form.radius);
  }
  if (bars.bow > 0) form.axis = form.axis + Set(bars.bow) * noise(0.075F, 6.5F);
  return form;
}

/// Bars every so far across x, long the other way: keeps what is struck first.
HWY_INLINE void StrikeAcross(const PatchMark& mark, bool ring, V z, V s, V run_z, V run_s, V floor,
                             Bar& best) {
  const PatchBars& bars = mark.bars;
  const V x = ring ? z : s, run = ring ? run_z : run_s, y = ring ? s : z, run_y = ring ? run_s : run_z;
  const float every_m = ring ? bars.rings_every : bars.lengths_every,
              from_m = ring ? bars.rings_from : bars.lengths_from;
  const V every = Set(every_m), from = Set(from_m), one = Set(1.0F);
  const V deepest = x - floor * run, at_axis = x - Set(bars.axis) * run;
  // As far from where it ought to lie as a bar's face can be at all.
  const V thick =
      Set(0.00141F + bars.radius * (1 + bars.flaky * 0.93F) + bars.bow) * hn::Sqrt(one + run * run);
  const V low = hn::Max(hn::Min(x, deepest) - Set(bars.radius), at_axis - thick),
          high = hn::Min(hn::Max(x, deepest) + Set(bars.radius), at_axis + thick);
  V number = hn::Ceil((low - from) / every);
  const V last = hn::Floor((high - from) / every);
  const V square = run * run + one;
  M asked = number <= last;
  for (int n = 0; n < 7 && !hn::AllFalse(F(), asked); ++n) {
    const BarForm form = FormOf(mark, number, y - Set(bars.axis) * run_y, ring, asked);
    const V off = x - (from + number * every + form.sway);
    // Depth q below the wall: (off + q run)^2 + (q + axis)^2 = radius^2.
    const V b = run * off + form.axis;
    const V inside = b * b - square * (off * off + form.axis * form.axis - form.radius * form.radius);
    const V q = hn::Zero(F()) - (b + hn::Sqrt(hn::Max(inside, hn::Zero(F())))) / square;
    const V level = hn::Zero(F()) - q;
    M hit = hn::And(asked, hn::And(inside > hn::Zero(F()), form.radius > hn::Zero(F())));
    hit = hn::And(hit, hn::And(level >= floor, level > best.level));
    if (!hn::AllFalse(F(), hit)) {
      const V per_radius = one / hn::Max(form.radius, Set(1e-6F));
      const V side = (off + q * run) * per_radius;
      best.met = hn::Or(best.met, hit);
      best.level = hn::IfThenElse(hit, level, best.level);
      best.out = hn::IfThenElse(hit, (level - form.axis) * per_radius, best.out);
      best.along = hn::IfThenElse(hit, ring ? side : hn::Zero(F()), best.along);
      best.round = hn::IfThenElse(hit, ring ? hn::Zero(F()) : side, best.round);
      best.z = hn::IfThenElse(hit, z + q * run_z, best.z);
      best.s = hn::IfThenElse(hit, s + q * run_s, best.s);
    }
    number = number + one;
    asked = number <= last;
  }
}

/// What rays that pass (z, s) at the wall's height meet above `floor`.
HWY_INLINE Bar Strike(const PatchMark& mark, V z, V s, V run_z, V run_s, V floor) {
  const V zero = hn::Zero(F());
  Bar best{zero != zero, Set(-1.0F), Set(1.0F), zero, zero, z, s};
  StrikeAcross(mark, true, z, s, run_z, run_s, floor, best);
  StrikeAcross(mark, false, z, s, run_z, run_s, floor, best);
  return best;
}

/// Metres on the wall from the nearest bar's middle.
HWY_INLINE V BesideBar(const PatchBars& bars, V z, V s) {
  const auto off = [](V x, float every, float from) {
    const V way = x - Set(from);
    return hn::Abs(way - Set(every) * hn::Floor(way * Set(1 / every) + Set(0.5F)));
  };
  return hn::Min(off(z, bars.rings_every, bars.rings_from), off(s, bars.lengths_every, bars.lengths_from));
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
