// SPDX-License-Identifier: Apache-2.0
// What a patch is like at many places at once: its grid, its tile, and how high its relief stands. Included
// once for each instruction set.
#if defined(HAUNCH_RENDER_PATCH_LOOK) == defined(HWY_TARGET_TOGGLE)
#ifdef HAUNCH_RENDER_PATCH_LOOK
#undef HAUNCH_RENDER_PATCH_LOOK
#else
#define HAUNCH_RENDER_PATCH_LOOK
#endif

#include <algorithm>
#include <cmath>

#include "render/lanes_simd.hpp"
#include "render/marks_patch.hpp"
#include "render/simd_maths.hpp"

HWY_BEFORE_NAMESPACE();
namespace haunch::render {
namespace HWY_NAMESPACE {

HWY_INLINE V SixteenBits(VI word) { return hn::ConvertTo(F(), word & hn::Set(I(), 0xffff)); }
HWY_INLINE V HighBits(VI word) {
  return hn::ConvertTo(F(), hn::BitCast(I(), hn::ShiftRight<16>(hn::BitCast(U(), word))));
}
template <int shift>
HWY_INLINE V Byte(VI word) {
  return hn::ConvertTo(F(), hn::ShiftRight<shift>(word) & hn::Set(I(), 0xff));
}

struct Cell {
  V inside, broad, stain;
};
HWY_INLINE Cell CellAt(const PatchMark& mark, V z, V s) {
  const V zero = hn::Zero(F());
  const V p = hn::Clamp(z * Set(1 / mark.step_z), zero, Set(static_cast<float>(mark.rows) - 1.001F));
  V q = s * Set(1 / mark.step_s);
  if (mark.whole) {
    const V n = Set(static_cast<float>(mark.columns - 1));
    q = q - n * hn::Floor(q / n);
  }
  q = hn::Clamp(q, zero, Set(static_cast<float>(mark.columns) - 1.001F));
  const VI row = hn::ConvertTo(I(), p), column = hn::ConvertTo(I(), q);
  const V u = p - hn::ConvertTo(F(), row), v = q - hn::ConvertTo(F(), column);
  const VI at = row * hn::Set(I(), mark.columns) + column;
  const auto get = [&](int more) { return hn::GatherIndex(I(), mark.cells.data() + more, at); };
  const VI a = get(0), b = get(1), c = get(mark.columns), d = get(mark.columns + 1);
  const auto mix = [&](V aa, V ab, V ba, V bb) { return Mix(Mix(aa, ab, v), Mix(ba, bb, v), u); };
  Cell cell{Set(patch_cell_least) + Set(patch_cell_range / 65535) *
                                        mix(SixteenBits(a), SixteenBits(b), SixteenBits(c), SixteenBits(d)),
            Set(1.0F / 255) * mix(Byte<16>(a), Byte<16>(b), Byte<16>(c), Byte<16>(d)), zero};
  if (mark.relief.stains > 0)
    cell.stain = Set(1.0F / 255) * mix(Byte<24>(a), Byte<24>(b), Byte<24>(c), Byte<24>(d));
  return cell;
}

/// Levels of a tile, and the texels about a place there.
struct TileLevel {
  VI start, width, mask_u, mask_v;
  V share_u, share_v;
};
HWY_INLINE TileLevel LevelOf(VI u, VI v) {
  static_assert(PatchTile::round == 256 && PatchTile::along == 512 && PatchTile::levels_v == 7);
  const VI one = hn::Set(I(), 1), w = hn::Shr(hn::Set(I(), 256), u), h = hn::Shr(hn::Set(I(), 512), v);
  // The sizes of all levels before, summed.
  const VI start = hn::Set(I(), 127) * (hn::Set(I(), 4096) - hn::Shr(hn::Set(I(), 4096), u)) +
                   hn::Shr(hn::Set(I(), 1 << 18) - hn::Shr(hn::Set(I(), 1 << 18), v), u);
  return {start, w, w - one, h - one, Pow2Minus(u), Pow2Minus(v)};
}
struct Texels {
  VI a, c;  // before, and one row along
  VI b, d;  // their neighbours round
  V on_u, on_v;
};
HWY_INLINE Texels TexelsAt(const TileLevel& level, V u, V v) {
  const VI one = hn::Set(I(), 1);
  const V x = u * level.share_u - Set(0.5F), y = v * level.share_v - Set(0.5F);
  const V fx = hn::Floor(x), fy = hn::Floor(y);
  const VI ix = hn::ConvertTo(I(), fx), iy = hn::ConvertTo(I(), fy);
  const VI x0 = ix & level.mask_u, x1 = (ix + one) & level.mask_u;
  const VI y0 = level.start + (iy & level.mask_v) * level.width,
           y1 = level.start + ((iy + one) & level.mask_v) * level.width;
  return {y0 + x0, y1 + x0, y0 + x1, y1 + x1, x - fx, y - fy};
}

struct Look {
  Colour albedo;
  V gloss, open;
};
HWY_INLINE Look LookOf(const PatchTile& tile, const TileLevel& level, V u, V v) {
  const Texels t = TexelsAt(level, u, v);
  const auto mix = [&](auto part, VI a, VI b, VI c, VI d) {
    return Mix(Mix(part(a), part(b), t.on_u), Mix(part(c), part(d), t.on_u), t.on_v);
  };
  const auto words = [&](int more, VI at) { return hn::GatherIndex(I(), tile.looks() + more, at + at); };
  const VI a = words(0, t.a), b = words(0, t.b), c = words(0, t.c), d = words(0, t.d);
  const VI eleven = hn::Set(I(), 2047), ten = hn::Set(I(), 1023);
  const V red = mix([&](VI w) { return hn::ConvertTo(F(), w & eleven); }, a, b, c, d),
          green = mix([&](VI w) { return hn::ConvertTo(F(), hn::ShiftRight<11>(w) & eleven); }, a, b, c, d),
          blue = mix([&](VI w) { return hn::ConvertTo(F(), hn::ShiftRight<22>(w) & ten); }, a, b, c, d);
  const VI e = words(1, t.a), f = words(1, t.b), g = words(1, t.c), h = words(1, t.d);
  const V k = Set(tile.brightest() / (2047.0F * 2047.0F)),
          blue_k = Set(tile.brightest() / (1023.0F * 1023.0F)), unit = Set(1.0F / 65535);
  return {{k * red * red, k * green * green, blue_k * blue * blue},
          unit * mix([](VI w) { return SixteenBits(w); }, e, f, g, h),
          unit * mix([](VI w) { return HighBits(w); }, e, f, g, h)};
}

/// A patch as pixels of these footprints see it.
struct Relief {
  const PatchMark& mark;
  const PatchTile& tile;
  TileLevel level;
  V foot, step_z, step_s;
  VI level_u, level_v;
  V on_v;  // towards the next level along
  // Well inside a patch no edge need be asked for.
  M inner;
  bool all_inner = false;
  V floor, top, bottom;

  struct OnTile {
    V u, v;
  };
  /// Film runs down on either side: its tiles are laid from the crown. One side is moved along by half a
  /// tile, or it would be the other's mirror image; where the two meet the line wanders, so that none is
  /// seen.
  HWY_INLINE OnTile TileAt(V z, V s) const {
    const V v = z * Set(mark.per_texel_v) + Set(mark.shift_v);
    if (!mark.relief.film) return {s * Set(mark.per_texel_u) + Set(mark.shift_u), v};
    const V full = Set(mark.full_s), from_crown = s - Set(mark.crown_s);
    const V off = from_crown - full * hn::Floor(from_crown / full + Set(0.5F));
    const auto wave = [&](float per_m) {
      const V turn = z * Set(per_m);
      return hn::Abs(turn - hn::Floor(turn) - Set(0.5F)) - Set(0.25F);
    };
    const V wander = Set(0.018F) * wave(31) + Set(0.010F) * wave(83) + Set(0.006F) * wave(211);
    const V moved = hn::IfThenElse(off > wander, Set(PatchTile::along / 2.0F), hn::Zero(F()));
    return {hn::Abs(off) * Set(mark.per_texel_u) + Set(mark.shift_u), v + moved};
  }

  /// Of the tile: to within a 255th of its range, in one look.
  HWY_INLINE V RoughTile(V z, V s) const {
    const OnTile at = TileAt(z, s);
    const Texels t = TexelsAt(level, at.u, at.v);
    const VI q = hn::GatherIndex(I(), tile.quads(), t.a);
    const V h = Mix(Mix(Byte<0>(q), Byte<8>(q), t.on_u), Mix(Byte<16>(q), Byte<24>(q), t.on_u), t.on_v);
    return Set(tile.lowest()) + Set((tile.highest() - tile.lowest()) / 255) * h;
  }
  HWY_INLINE V FineTile(V z, V s) const {
    const OnTile at = TileAt(z, s);
    const Texels t = TexelsAt(level, at.u, at.v);
    const VI p = hn::GatherIndex(I(), tile.pairs(), t.a), q = hn::GatherIndex(I(), tile.pairs(), t.c);
    const V h =
        Mix(Mix(SixteenBits(p), HighBits(p), t.on_u), Mix(SixteenBits(q), HighBits(q), t.on_u), t.on_v);
    return Set(tile.lowest()) + Set((tile.highest() - tile.lowest()) / 65535) * h;
  }
  /// Metres inside the edge as the tile frays it.
  HWY_INLINE V Inside(V inside, V tile_height) const {
    return inside + Set(mark.relief.fray) * (tile_height - Set(mark.relief.middle));
  }
  /// Above the wall, m, where the tile stands so high.
  HWY_INLINE V Stands(V z, V s, V tile_height) const {
    const V highest = Set(mark.relief.top), well_inside = hn::Min(floor + tile_height, highest);
    if (all_inner) return well_inside;
    const Cell here = CellAt(mark, z, s);
    const V ramp = Smooth(0.0F, mark.relief.edge, Inside(here.inside, tile_height));
    const V ground = Set(-mark.relief.depth) * (Set(1.0F) - Set(mark.relief.uneven) * here.broad);
    return hn::IfThenElse(inner, well_inside, hn::Min(ramp * (ground + tile_height), highest));
  }
  HWY_INLINE V Rough(V z, V s) const { return Stands(z, s, RoughTile(z, s)); }
};

/// Floor of the binary logarithm, none beyond `most`, and how far on towards the next (a straight line).
HWY_INLINE VI LevelFor(V texels, int most, V& on) {
  const V log = hn::Clamp(Log2(hn::Max(texels, Set(1.0F))), hn::Zero(F()), Set(static_cast<float>(most)));
  const V whole = hn::Floor(log);
  on = log - whole;
  return hn::ConvertTo(I(), whole);
}
/// How far inside the edge a place must be that nothing within `reach` of it is at the edge.
HWY_INLINE float InnerFrom(const PatchMark& mark, float reach) {
  const PatchRelief& relief = mark.relief;
  const PatchTile& tile = mark.tile.front();
  // As far as the tile frays the edge.
  const float frays = relief.fray * std::max(tile.highest() - relief.middle, relief.middle - tile.lowest());
  return relief.edge + frays + reach;
}
/// `reach`: how far from the place where a ray meets the wall anything may be asked.
HWY_INLINE Relief ReliefFor(const PatchMark& mark, V foot_z, V foot_s, const Cell& start, V reach) {
  const PatchRelief& relief = mark.relief;
  const PatchTile& tile = mark.tile.front();
  V on_u, on_v;
  VI u = LevelFor(foot_s * Set(mark.per_texel_u), PatchTile::levels_u - 1, on_u);
  const VI v = LevelFor(foot_z * Set(mark.per_texel_v), PatchTile::levels_v - 1, on_v);
  u = u + hn::IfThenElse(hn::RebindMask(I(), on_u > Set(0.5F)), hn::Set(I(), 1), hn::Zero(I()));
  const M inner = start.inside > Set(InnerFrom(mark, 0.0F)) + reach;
  const V floor = Set(-relief.depth) * (Set(1.0F) - Set(relief.uneven) * start.broad);
  const V top = hn::IfThenElse(inner, hn::Min(Set(relief.top), floor + Set(tile.highest())), Set(relief.top));
  const V bottom = hn::IfThenElse(inner, hn::Min(floor + Set(tile.lowest()), top), Set(-relief.depth));
  const TileLevel level = LevelOf(u, v);
  return {mark,
          tile,
          level,
          hn::Max(foot_z, foot_s),
          hn::Max(Set(0.8F / mark.per_texel_v) / level.share_v, Set(0.4F) * foot_z),
          hn::Max(Set(0.8F / mark.per_texel_u) / level.share_u, Set(0.4F) * foot_s),
          u,
          v,
          on_v,
          inner,
          hn::AllTrue(F(), inner),
          floor,
          top,
          bottom};
}

/// What the tile shows there.
HWY_INLINE Look LookAt(const Relief& r, V z, V s) {
  const auto [u, v] = r.TileAt(z, s);
  Look near = LookOf(r.tile, r.level, u, v);
  const V share = hn::IfThenElse(hn::RebindMask(F(), r.level_v < hn::Set(I(), PatchTile::levels_v - 1)),
                                 r.on_v, hn::Zero(F()));
  if (hn::AllFalse(F(), share > hn::Zero(F()))) return near;
  const Look far = LookOf(
      r.tile, LevelOf(r.level_u, hn::Min(r.level_v + hn::Set(I(), 1), hn::Set(I(), PatchTile::levels_v - 1))),
      u, v);
  return {Mix(near.albedo, far.albedo, share), Mix(near.gloss, far.gloss, share),
          Mix(near.open, far.open, share)};
}

/// Where a ray comes down on the relief: z and s run with it, height below (or above) the wall.
struct Landing {
  V z, s, height;
};
HWY_INLINE Landing Land(const Relief& r, V z, V s, V run_z, V run_s) {
  const V zero = hn::Zero(F()), one = Set(1.0F);
  const V deep = r.top - r.bottom;
  const V shift = hn::Sqrt(run_z * run_z + run_s * run_s) * deep;
  const V most = hn::IfThenElse(deep > Set(0.016F), Set(13.0F), Set(7.0F));
  const V steps = hn::Floor(hn::Min(shift / hn::Max(Set(0.002F), r.foot), most));
  const M flat = steps < one;
  const auto clear = [&](V level) { return level - r.Rough(z - level * run_z, s - level * run_s); };
  const auto at = [&](V level) { return Landing{z - level * run_z, s - level * run_s, level}; };
  V level = zero;
  if (!hn::AllFalse(F(), flat)) {
    level = r.Rough(z, s);
    if (hn::AllTrue(F(), flat)) return {z, s, level};
  }
  // The level falls from the top to the bottom; where the relief is above it the ray has struck.
  const V fall = deep / hn::Max(steps, one);
  V above = r.top, over = clear(above), below = r.bottom, under = zero;
  M open = hn::Not(flat), struck = hn::Not(hn::Or(flat, open));
  V k = one;
  while (!hn::AllFalse(F(), open)) {
    const V next = r.top - fall * k;
    const V there = clear(next);
    const M hit = hn::And(open, there <= zero);
    below = hn::IfThenElse(hit, next, below), under = hn::IfThenElse(hit, there, under);
    struck = hn::Or(struck, hit);
    open = hn::AndNot(hit, open);
    above = hn::IfThenElse(open, next, above), over = hn::IfThenElse(open, there, over);
    open = hn::And(open, k < steps);
    k = k + one;
  }
  // Between the last two levels: halved, then where a straight line between them meets the ray, twice.
  const auto crossing = [&] {
    const V share = hn::IfThenElse(over > under, over / (over - under), zero);
    return above + hn::Clamp(share, zero, one) * (below - above);
  };
  if (!hn::AllFalse(F(), struck)) {
    for (int n = 0; n < 2; ++n) {
      const V middle = n == 0 ? Set(0.5F) * (above + below) : crossing();
      const V there = clear(middle);
      const M clear_yet = there > zero;
      above = hn::IfThenElse(clear_yet, middle, above), over = hn::IfThenElse(clear_yet, there, over);
      below = hn::IfThenElse(clear_yet, below, middle), under = hn::IfThenElse(clear_yet, under, there);
    }
  }
  const V met = hn::IfThenElse(struck, crossing(), r.bottom);
  const Landing landed = at(met);
  return {hn::IfThenElse(flat, z, landed.z), hn::IfThenElse(flat, s, landed.s),
          hn::IfThenElse(flat, level, met)};
}

}  // namespace HWY_NAMESPACE
}  // namespace haunch::render
HWY_AFTER_NAMESPACE();

#endif
