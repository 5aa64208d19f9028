// SPDX-License-Identifier: Apache-2.0
// What no tile can hold: that each brick is its own, that a liner follows the joints behind it, that the flow
// has worn a channel into iron. Included once for each instruction set, by the wall's shading only.
#if defined(HAUNCH_RENDER_WALL_PARTICULAR) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_WALL_PARTICULAR
#undef HAUNCH_RENDER_WALL_PARTICULAR
#else
#define HAUNCH_RENDER_WALL_PARTICULAR
#endif

#include "render/wall_texels_simd.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

/// What a place of the wall has been given so far.
struct Surface {
  V r, g, b, gloss, bumps;
  V lift_u, lift_v;  // slopes beyond the tile's: round (clockwise) and along
};

/// Bricks come from different corners of the kiln and were laid by hand.
HWY_INLINE void Bricks(const Rows& rows, M here, V angle, V z, V patch_v, V tile_gloss, Surface& s) {
  const V one = K(1.0F);
  const VI course = hn::ConvertTo(I(), hn::Floor(angle * COLUMN(particular_a)));
  const V lag = hn::ConvertTo(F(), course & hn::Set(I(), 1)) * K(0.5F);
  const VI row = hn::ConvertTo(I(), hn::Floor(z * K(5.0F) - lag));  // brick_pitch_m
  const auto key = hn::BitCast(U(), course * hn::Set(I(), 7919) + row * hn::Set(I(), 104729));
  const auto chance = [&](unsigned n) { return Hash01(key + hn::Set(U(), n)); };
  const V brick =
      Smooth(0.06F, 0.15F, tile_gloss) * hn::Clamp(K(1.7F) - patch_v * K(5.0F), hn::Zero(F()), one);
  const V share = hn::IfThenElse(here, brick, hn::Zero(F()));
  const V kind = chance(11);
  const V dark = Smooth(0.82F, 0.88F, kind), pale = one - Smooth(0.08F, 0.14F, kind);
  const V light = (K(0.74F) + K(0.52F) * chance(23)) * (one - K(0.36F) * dark + K(0.22F) * pale);
  const V red = light * (one - K(0.10F) * dark), green = light * (K(0.92F) + K(0.16F) * chance(37)),
          blue = light * (one + K(0.22F) * dark);
  s.r = s.r * (one + share * (red - one));
  s.g = s.g * (one + share * (green - one));
  s.b = s.b * (one + share * (blue - one));
  s.lift_u = s.lift_u + share * K(0.16F) * (chance(41) - K(0.5F));
  s.lift_v = s.lift_v + share * K(0.07F) * (chance(53) - K(0.5F));
}

/// Over each old joint a liner sinks in a little between two soft swells; where its sheet closes a seam
/// stands.
HWY_INLINE void Lined(const Rows& rows, M here, V angle, V z, V radius, V reach, V patch_v,
                      const Texel& broad, Surface& s) {
  const V zero = hn::Zero(F()), one = K(1.0F);
  const V turn = (z - COLUMN(particular_b)) * COLUMN(particular_a);
  const V off = (turn - hn::Floor(turn + K(0.5F))) * Inverse(hn::Max(COLUMN(particular_a), K(1e-3F)));
  // Height (1 - q^2)^2 (4.2 q^2 - 1): a dip with a swell on either side; its slope follows.
  const V q = off * K(1 / 0.055F), q2 = q * q;
  const V rest = hn::Max(one - q2, zero);
  const V slope = q * rest * (K(8.4F) * rest - K(4.0F) * (K(4.2F) * q2 - one));
  const V seen = hn::Clamp(K(1.5F) - patch_v * K(9.0F), zero, one);
  const V strong = K(0.030F) * (K(0.55F) + K(0.9F) * broad.g) * seen;
  s.lift_v = s.lift_v + hn::IfThenElse(here, strong * slope, zero);
  const V shaded = K(0.13F) * seen * hn::Max(one - q2 * K(7.0F), zero);
  // The seam: a strip welded on, a hair proud of the rest, never quite straight.
  const V way = angle - COLUMN(particular_c) + K(0.05F) * (broad.a - K(0.5F));
  const V wrapped = way - K(6.2831853F) * hn::Floor(way * K(1 / 6.2831853F) + K(0.5F));
  const V side = wrapped * radius;
  const V away = hn::Abs(side);
  const V soft = K(0.0012F) + K(0.0010F) * reach;
  const V per_soft = Inverse(soft);
  const V rim = hn::Max(one - hn::Abs(away - K(0.011F)) * per_soft, zero);
  const V fine = K(0.0016F) * per_soft;  // a rim seen from afar is spread over more
  s.lift_u = s.lift_u - hn::IfThenElse(here, hn::CopySign(one, side) * rim * fine * K(0.60F), zero);
  const V strip = hn::Clamp((K(0.011F) - away) * per_soft, zero, one);
  const V dim = hn::IfThenElse(here, one - shaded - K(0.15F) * strip, one);
  s.r = s.r * dim, s.g = s.g * dim, s.b = s.b * dim;
}

/// The flow has ground the scale off the invert and gone on into the iron.
HWY_INLINE void Channel(const Rows& rows, M here, V angle, const Texel& broad, const Texel& fine,
                        Surface& s) {
  const V zero = hn::Zero(F()), one = K(1.0F);
  const V side = angle - K(3.1415927F);
  const V wide = COLUMN(particular_a) * (K(0.72F) + K(0.36F) * broad.g + K(0.26F) * fine.r);
  const V off = hn::Abs(side) * Inverse(hn::Max(wide, K(0.05F)));
  const V bare = hn::IfThenElse(here, one - Smooth(0.90F, 1.04F, off), zero);
  const V worn = K(0.75F) + K(0.5F) * fine.b;
  const auto mixed = [&](V u, V v) { return u + (v - u) * bare; };
  s.r = mixed(s.r, K(0.085F) * worn), s.g = mixed(s.g, K(0.074F) * worn), s.b = mixed(s.b, K(0.066F) * worn);
  s.gloss = mixed(s.gloss, K(0.30F));
  s.bumps = s.bumps * (one - K(0.62F) * bare);
  // Its rim is a step down towards the invert.
  const V rim = hn::IfThenElse(here, hn::Max(one - hn::Abs(off - K(1.0F)) * K(1 / 0.11F), zero), zero);
  s.lift_u = s.lift_u + hn::CopySign(one, side) * rim * K(0.75F);
  const V foot = hn::IfThenElse(here, hn::Max(one - hn::Abs(off - K(0.93F)) * K(1 / 0.08F), zero), zero);
  const V dark = one - K(0.45F) * foot;
  s.r = s.r * dark, s.g = s.g * dark, s.b = s.b * dark;
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
