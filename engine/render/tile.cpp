// SPDX-License-Identifier: Apache-2.0
#include "render/tile.hpp"

namespace haunch::render {

float hash_unit(std::uint64_t seed, int x, int y) {
  const auto key =
      (static_cast<std::uint64_t>(static_cast<std::uint32_t>(x)) << 32U) | static_cast<std::uint32_t>(y);
  return static_cast<float>(base::mix(seed ^ base::mix(key)) >> 40U) * 0x1.0p-24F;
}

namespace {

/// Adds `share` of smooth noise that repeats over a w x h field, with cells x cells bumps.
void add_noise(Field& field, int w, int h, int cells_u, int cells_v, float share, std::uint64_t seed) {
  std::vector<float> lattice(static_cast<std::size_t>(cells_u) * cells_v);
  for (int y = 0; y < cells_v; ++y)
    for (int x = 0; x < cells_u; ++x)
      lattice[static_cast<std::size_t>(y) * cells_u + x] = 2 * hash_unit(seed, x, y) - 1;
  struct Step {
    int a, b;
    float t;
  };
  std::vector<Step> across(w);
  for (int x = 0; x < w; ++x) {
    const float p = (static_cast<float>(x) + 0.37F) * static_cast<float>(cells_u) / static_cast<float>(w);
    const int i = static_cast<int>(p);
    const float f = p - static_cast<float>(i);
    across[x] = {i % cells_u, (i + 1) % cells_u, f * f * f * (f * (6 * f - 15) + 10)};
  }
  for (int y = 0; y < h; ++y) {
    const float p = (static_cast<float>(y) + 0.37F) * static_cast<float>(cells_v) / static_cast<float>(h);
    const int j = static_cast<int>(p);
    float t = p - static_cast<float>(j);
    t = t * t * t * (t * (6 * t - 15) + 10);
    const float* top = &lattice[static_cast<std::size_t>(j % cells_v) * cells_u];
    const float* low = &lattice[static_cast<std::size_t>((j + 1) % cells_v) * cells_u];
    float* out = &field[static_cast<std::size_t>(y) * w];
    for (int x = 0; x < w; ++x) {
      const Step& s = across[x];
      const float a = top[s.a] + s.t * (top[s.b] - top[s.a]);
      const float b = low[s.a] + s.t * (low[s.b] - low[s.a]);
      out[x] += share * (a + t * (b - a));
    }
  }
}

}  // namespace

Field noise(int cells_u, int cells_v, int octaves, std::uint64_t seed, int w, int h) {
  Field field(static_cast<std::size_t>(w) * h, 0.0F);
  float share = 1;
  for (int o = 0; o < octaves; ++o, share *= 0.55F) {
    if (cells_u << o > w / 2 || cells_v << o > h / 2) break;
    add_noise(field, w, h, cells_u << o, cells_v << o, share, seed + 77U * static_cast<std::uint64_t>(o));
  }
  return field;
}

void bead(Tile& tile, int many, float least_mm, float most_mm, std::uint64_t seed) {
  strew(many, least_mm, most_mm, seed, [&](std::size_t t, float away, int, float r) {
    tile.height_mm[t] += 0.45F * r * std::sqrt(1 - away * away);
    tile.gloss[t] = std::max(tile.gloss[t], 0.95F);
    tile.albedo[t] = 0.93F * tile.albedo[t];
  });
}

}  // namespace haunch::render
