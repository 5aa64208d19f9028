// SPDX-License-Identifier: Apache-2.0
// What a damaged surface is made of, as a tile that repeats round and along the wall, kept at all pairs
// of scales as the wall's own tiles are: a pipe seen along its axis is squeezed far more along than round.
// Room-internal header.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "render/samples.hpp"

namespace haunch::render {

struct PatchTexel {
  float height = 0;  // m above the patch's floor
  Rgb albedo;
  float gloss = 0;
  float open = 1;  // 1 light reaches it from all about, 0 the bottom of a pore
};
inline PatchTexel mixed(const PatchTexel& a, const PatchTexel& b, float t) {
  return {a.height + t * (b.height - a.height), blend(a.albedo, b.albedo, t),
          a.gloss + t * (b.gloss - a.gloss), a.open + t * (b.open - a.open)};
}

class PatchTile {
 public:
  static constexpr int round = 256, along = 512;  // texels
  static constexpr float texel_mm = 0.7F;         // about: a whole number of tiles goes round
  static constexpr int levels_u = 6, levels_v = 7;

  /// From its finest scale, round * along texels, row by row along the pipe.
  explicit PatchTile(std::vector<PatchTexel> finest);

  /// All levels, one after the other: level (u, v) has (round >> u) * (along >> v) texels, and starts where
  /// those before it in order of u, then v, end.
  /// Heights of a texel and of its neighbours round, along and both, a byte each: 0 lowest .. 255 highest.
  const std::int32_t* quads() const { return quads_.data(); }
  /// Heights of a texel and of its neighbour round, sixteen bits each.
  const std::int32_t* pairs() const { return pairs_.data(); }
  /// Two words a texel: eleven, eleven and ten bits for the roots of red, green and blue as shares of the
  /// brightest; sixteen each for gloss and openness.
  const std::int32_t* looks() const { return looks_.data(); }
  /// Of the albedos, the strongest of all three.
  float brightest() const { return brightest_; }
  /// Of the finest level, m.
  float lowest() const { return lowest_; }
  float highest() const { return highest_; }

 private:
  void keep(const std::vector<PatchTexel>& level, int wide, int high);

  std::vector<std::int32_t> quads_, pairs_, looks_;
  float lowest_ = 0, highest_ = 0, brightest_ = 0;
};

/// Fields over a tile, and what the kinds of surface are made of out of them.
struct TileFields {
  static constexpr int w = PatchTile::round, h = PatchTile::along;
  std::vector<float> height_mm = std::vector<float>(w * h, 0.0F);
  std::vector<Rgb> albedo = std::vector<Rgb>(w * h);
  std::vector<float> gloss = std::vector<float>(w * h, 0.05F);
  std::vector<float> open = std::vector<float>(w * h, 1.0F);
  std::uint64_t seed = 0;

  explicit TileFields(std::uint64_t seed_of_it) : seed(seed_of_it) {}
  /// Noise in octaves that repeats with the tile; -1 .. 1, lumps of about `size_mm`.
  std::vector<float> noise(float size_mm, int octaves, std::uint64_t more, float stretch_along = 1) const;
  /// A round thing somewhere on the tile.
  struct Stone {
    float u = 0, v = 0, radius = 0;  // mm
    float slant = 0;                 // how much longer one way than the other, -1 .. 1
    int number = 0;
  };
  /// Small ones are commoner; unless they may, none overlap.
  std::vector<Stone> strewn(int tries, float least_mm, float most_mm, bool may_overlap,
                            std::uint64_t more) const;
  /// paint(texel, off as a share of the radius: 0 .. 1.3) for all about a stone, knobbly as `rough`.
  template <class Paint>
  void about(const Stone& stone, float rough, Paint paint) const {
    const int reach = static_cast<int>(1.5F * stone.radius / PatchTile::texel_mm) + 2;
    const int cu = static_cast<int>(stone.u / PatchTile::texel_mm),
              cv = static_cast<int>(stone.v / PatchTile::texel_mm);
    for (int y = cv - reach; y <= cv + reach; ++y)
      for (int x = cu - reach; x <= cu + reach; ++x) {
        const float off = away(stone, rough, x, y);
        if (off < 1.3F) paint(static_cast<std::size_t>(((y % h + h) % h) * w + (x % w + w) % w), off);
      }
  }
  /// paint(texel, 0 .. 1) for what has run down from a place: the way round, wavering, ever thinner.
  template <class Paint>
  void below(const Stone& from, float long_mm, float half_mm, Paint paint) const {
    const int steps = static_cast<int>(long_mm / PatchTile::texel_mm),
              wide = static_cast<int>(half_mm / PatchTile::texel_mm) + 1;
    const int cu = static_cast<int>(from.u / PatchTile::texel_mm);
    for (int x = 0; x < steps; ++x) {
      const float gone = static_cast<float>(x) / static_cast<float>(steps);
      const float middle = from.v / PatchTile::texel_mm + wander(from, static_cast<float>(x));
      const int cv = static_cast<int>(middle);
      for (int y = cv - wide; y <= cv + wide; ++y) {
        const float off = std::abs(static_cast<float>(y) + 0.5F - middle) * PatchTile::texel_mm / half_mm;
        const float k = std::clamp(1.2F - off, 0.0F, 1.0F) * (1 - gone * gone);
        if (k > 0) paint(static_cast<std::size_t>(((y % h + h) % h) * w + ((cu + x) % w + w) % w), k);
      }
    }
  }
  /// Hollows among heights get less light.
  void shade_hollows(float reach_mm, float strength);
  PatchTile tile() const;

 private:
  float away(const Stone& stone, float rough, int x, int y) const;
  float wander(const Stone& stone, float texels_down) const;
};

}  // namespace haunch::render
