// SPDX-License-Identifier: Apache-2.0
// Seeded noise becomes glaze, scale, plastic and concrete.
#include "render/textures.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "render/samples.hpp"

namespace haunch::render {
namespace {

using scene::Material;
constexpr std::size_t tile_texels = std::size_t{tile_u} * tile_v;

/// One value for each texel of a tile.
using Field = std::vector<float>;

float hash_unit(std::uint64_t seed, int x, int y) {
  const auto key =
      (static_cast<std::uint64_t>(static_cast<std::uint32_t>(x)) << 32U) | static_cast<std::uint32_t>(y);
  return static_cast<float>(base::mix(seed ^ base::mix(key)) >> 40U) * 0x1.0p-24F;
}

float smooth(float low, float high, float x) {
  const float t = std::clamp((x - low) / (high - low), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

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

Field noise(int cells_u, int cells_v, int octaves, std::uint64_t seed, int w = tile_u, int h = tile_v) {
  Field field(static_cast<std::size_t>(w) * h, 0.0F);
  float share = 1;
  for (int o = 0; o < octaves; ++o, share *= 0.55F) {
    if (cells_u << o > w / 2 || cells_v << o > h / 2) break;
    add_noise(field, w, h, cells_u << o, cells_v << o, share, seed + 77U * static_cast<std::uint64_t>(o));
  }
  return field;
}

/// Round things strewn over a tile: calls paint(texel, distance as a share of the radius, number).
template <class Paint>
void strew(int many, float least_mm, float most_mm, std::uint64_t seed, Paint paint, float stretch_v = 1) {
  base::Random random(seed);
  const float du = tile_round_m * 1000 / tile_u, dv = tile_along_m * 1000 / tile_v;
  for (int n = 0; n < many; ++n) {
    const float u = static_cast<float>(random.uniform(0, tile_u)),
                v = static_cast<float>(random.uniform(0, tile_v));
    const float pick = static_cast<float>(random.uniform());
    const float r = least_mm + (most_mm - least_mm) * pick * pick * pick;
    const int ru = static_cast<int>(std::ceil(r / du)), rv = static_cast<int>(std::ceil(r * stretch_v / dv));
    for (int y = -rv; y <= rv; ++y)
      for (int x = -ru; x <= ru; ++x) {
        const int tu = static_cast<int>(u) + x, tv = static_cast<int>(v) + y;
        const float ex = (static_cast<float>(tu) + 0.5F - u) * du,
                    ey = (static_cast<float>(tv) + 0.5F - v) * dv / stretch_v;
        const float away = std::sqrt(ex * ex + ey * ey) / r;
        if (away < 1)
          paint(static_cast<std::size_t>((tv + tile_v) % tile_v) * tile_u +
                    static_cast<std::size_t>((tu + tile_u) % tile_u),
                away, n, r);
      }
  }
}

struct Tile {
  std::vector<Rgb> albedo = std::vector<Rgb>(tile_texels);
  Field height_mm = Field(tile_texels, 0.0F);
  Field gloss = Field(tile_texels, 0.3F);
  Field open = Field(tile_texels, 1.0F);
};

/// Beads of water that hang on a smooth wall: steep little lenses, each of which will glint.
void bead(Tile& tile, int many, float least_mm, float most_mm, std::uint64_t seed) {
  strew(many, least_mm, most_mm, seed, [&](std::size_t t, float away, int, float r) {
    tile.height_mm[t] += 0.45F * r * std::sqrt(1 - away * away);
    tile.gloss[t] = std::max(tile.gloss[t], 0.95F);
    tile.albedo[t] = 0.93F * tile.albedo[t];
  });
}

Tile clay(std::uint64_t seed) {
  Tile tile;
  // Salt glaze: smooth, its colour from the fire in broad clouds drawn along the pipe, with tracks of
  // dirt that have run down the wall, round the pipe, each a little aslant of the next.
  const Field broad = noise(3, 2, 2, seed + 1), fine = noise(40, 50, 2, seed + 2),
              peel = noise(90, 110, 2, seed + 3);
  const Field runs = noise(3, 44, 3, seed + 4), where = noise(5, 4, 3, seed + 9),
              fire = noise(4, 3, 3, seed + 5);
  const Rgb orange = linear_from_srgb(160, 94, 58), brown = linear_from_srgb(132, 75, 47),
            dark = linear_from_srgb(74, 46, 34), pale = linear_from_srgb(184, 126, 86),
            dirt = linear_from_srgb(66, 50, 36);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(orange, brown, smooth(-0.9F, 0.9F, broad[t] + 0.12F * fine[t]));
    c = blend(c, pale, 0.30F * smooth(0.3F, 1.3F, 0.9F * broad[t] - 0.5F * fire[t]));
    c = blend(c, dark, 0.12F * smooth(0.45F, 1.2F, fire[t] + 0.12F * fine[t]));
    const float track = smooth(0.25F, 1.0F, runs[t] + 0.7F * where[t]);
    c = blend(c, dirt, 0.32F * track);
    c = (1 + 0.05F * peel[t]) * c;
    tile.albedo[t] = c;
    tile.height_mm[t] = 0.045F * peel[t] + 0.07F * fine[t] + 0.5F * broad[t] + 0.05F * track;
    tile.gloss[t] = 0.78F - 0.45F * track - 0.15F * smooth(0.4F, 1.0F, fire[t]);
  }
  // Iron specks and burst blisters of the firing.
  strew(420, 0.4F, 1.6F, seed + 6, [&](std::size_t t, float away, int n, float) {
    const float k = (1 - smooth(0.5F, 1.0F, away)) * (0.25F + 0.5F * hash_unit(seed, n, 1));
    tile.albedo[t] = blend(tile.albedo[t], linear_from_srgb(48, 32, 26), k);
  });
  strew(60, 0.8F, 2.4F, seed + 7,
        [&](std::size_t t, float away, int, float r) { tile.height_mm[t] += 0.2F * r * (1 - away * away); });
  bead(tile, 120 + static_cast<int>(500 * hash_unit(seed, 8, 1)), 0.4F, 1.9F, seed + 8);
  return tile;
}

Tile pvc(std::uint64_t seed) {
  Tile tile;
  // Albedo is relative: the section's colour multiplies it.
  const Field lines = noise(128, 1, 1, seed + 1), lines2 = noise(31, 1, 2, seed + 9),
              film = noise(5, 8, 5, seed + 2), fine = noise(60, 90, 2, seed + 3),
              tracks = noise(26, 3, 4, seed + 4);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    const float grime = smooth(-0.1F, 1.2F, film[t] + 0.35F * tracks[t]);
    Rgb c{0.86F, 0.86F, 0.86F};
    c = (1 + 0.035F * lines[t] + 0.04F * lines2[t]) * c;
    c = blend(c, Rgb{0.50F, 0.42F, 0.32F}, 0.55F * grime);
    tile.albedo[t] = c;
    tile.height_mm[t] = 0.035F * lines[t] + 0.05F * lines2[t] + 0.02F * fine[t] + 0.25F * film[t];
    tile.gloss[t] = 0.62F - 0.35F * grime;
  }
  // Scratches of rods along the pipe.
  strew(
      60, 0.25F, 0.6F, seed + 5,
      [&](std::size_t t, float away, int, float) {
        tile.albedo[t] = blend(tile.albedo[t], {1, 1, 0.97F}, 0.3F * (1 - away));
        tile.height_mm[t] -= 0.05F * (1 - away);
      },
      90);
  // Most plastic runs are dry above the flow; some sweat.
  bead(tile, 15 + static_cast<int>(170 * hash_unit(seed, 6, 1) * hash_unit(seed, 6, 1)), 0.3F, 1.3F,
       seed + 6);
  return tile;
}

Tile cast_iron(std::uint64_t seed) {
  Tile tile;
  const Field broad = noise(4, 7, 5, seed + 1), fine = noise(34, 50, 4, seed + 2),
              rust = noise(7, 12, 5, seed + 3), flake = noise(90, 140, 2, seed + 4);
  const Rgb black = linear_from_srgb(74, 67, 62), brown = linear_from_srgb(114, 78, 55),
            orange = linear_from_srgb(134, 85, 55), ochre = linear_from_srgb(144, 108, 72);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    const float r = smooth(-0.3F, 1.0F, rust[t] + 0.35F * fine[t]);
    Rgb c = blend(black, brown, r);
    c = blend(c, orange, 0.65F * smooth(0.4F, 1.3F, rust[t] + 0.6F * fine[t]));
    tile.albedo[t] = (1 + 0.18F * flake[t]) * c;
    tile.height_mm[t] = 0.9F * broad[t] + 0.85F * fine[t] + 0.20F * flake[t];
    tile.gloss[t] = 0.34F - 0.24F * smooth(0.0F, 0.7F, rust[t]);
  }
  // Tubercles: blisters of rust with a paler broken cap and a dark foot.
  strew(
      280, 1.5F, 8.0F, seed + 5,
      [&](std::size_t t, float away, int n, float r) {
        const float wobble = away * (1.1F + 0.45F * fine[t] + 0.15F * flake[t]);
        if (wobble >= 1) return;
        tile.height_mm[t] += 0.42F * r * (1 - wobble * wobble) * (1 + 0.6F * flake[t] + 0.4F * fine[t]);
        tile.gloss[t] *= 0.4F;
        const float cap = 1 - smooth(0.2F, 0.75F, wobble);
        tile.albedo[t] = blend(tile.albedo[t], blend(orange, ochre, hash_unit(seed, n, 2)), 0.5F * cap);
        tile.albedo[t] =
            blend(tile.albedo[t], linear_from_srgb(40, 26, 18), 0.4F * smooth(0.7F, 0.95F, wobble));
        tile.open[t] = std::min(tile.open[t], 1 - 0.55F * smooth(0.7F, 1.0F, wobble));
      },
      1.8F);
  return tile;
}

Tile concrete(std::uint64_t seed) {
  Tile tile;
  const Field broad = noise(4, 6, 5, seed + 1), fine = noise(60, 56, 3, seed + 2),
              form = noise(1, 14, 4, seed + 3), stain = noise(18, 4, 4, seed + 4);
  const Rgb grey = linear_from_srgb(150, 144, 132), pale = linear_from_srgb(184, 178, 164),
            dark = linear_from_srgb(96, 90, 80), ochre = linear_from_srgb(134, 104, 70);
  for (std::size_t t = 0; t < tile_texels; ++t) {
    Rgb c = blend(grey, pale, smooth(-0.8F, 1.0F, broad[t] + 0.3F * fine[t]));
    c = blend(c, dark, 0.6F * smooth(0.2F, 1.2F, form[t] + 0.4F * broad[t]));
    c = blend(c, ochre, 0.4F * smooth(0.3F, 1.2F, stain[t] + 0.4F * broad[t]));
    tile.albedo[t] = (1 + 0.14F * fine[t]) * c;
    tile.height_mm[t] = 0.35F * broad[t] + 0.22F * fine[t] + 0.25F * form[t];
    tile.gloss[t] = 0.22F;
  }
  // Stones the flow has laid bare, each of its own colour.
  const Field chip = noise(90, 170, 3, seed + 8);
  strew(950, 0.9F, 5.0F, seed + 5, [&](std::size_t t, float away, int n, float r) {
    const float wobble = away * (1.12F + 0.22F * broad[t] + 0.34F * chip[t]);
    if (wobble >= 1) return;
    const float k = 0.50F * (1 - smooth(0.55F, 0.98F, wobble));
    const float hue = hash_unit(seed, n, 3), light = 0.55F + 0.8F * hash_unit(seed, n, 4);
    const Rgb stone = light * blend(linear_from_srgb(122, 112, 100), linear_from_srgb(150, 118, 88), hue);
    tile.albedo[t] = blend(tile.albedo[t], stone, k);
    tile.height_mm[t] += 0.16F * r * std::sqrt(std::max(0.0F, 1 - wobble * wobble));
    tile.open[t] = std::min(tile.open[t], 1 - 0.45F * smooth(0.8F, 0.97F, wobble));
    tile.gloss[t] = std::max(tile.gloss[t], 0.45F * k);
  });
  // Blow holes, small ones for the most part, in swarms.
  const Field swarm = noise(5, 7, 2, seed + 9);
  strew(520, 0.35F, 2.3F, seed + 6, [&](std::size_t t, float away, int, float r) {
    const float k = (1 - smooth(0.6F, 1.0F, away)) * smooth(-0.10F, 0.25F, swarm[t]);
    tile.height_mm[t] -= 0.8F * r * k;
    tile.open[t] = std::min(tile.open[t], 1 - 0.8F * k);
    tile.albedo[t] = blend(tile.albedo[t], linear_from_srgb(54, 48, 42), 0.75F * k);
  });
  bead(tile, 160, 0.5F, 1.4F, seed + 7);
  return tile;
}

std::uint32_t byte(float unit) {
  return static_cast<std::uint32_t>(std::clamp(unit, 0.0F, 1.0F) * 255 + 0.5F);
}

/// Means of neighbours, four bytes at a time. `across` halves the width, else the height.
void halve(const std::uint32_t* from, std::uint32_t* to, int w, int h, bool across) {
  const auto mean = [](std::uint32_t a, std::uint32_t b) {
    const std::uint32_t even = ((a & 0x00ff00ffU) + (b & 0x00ff00ffU) + 0x00010001U) >> 1U;
    const std::uint32_t odd = (((a >> 8U) & 0x00ff00ffU) + ((b >> 8U) & 0x00ff00ffU) + 0x00010001U) >> 1U;
    return (even & 0x00ff00ffU) | ((odd & 0x00ff00ffU) << 8U);
  };
  // w counts texels of two words.
  if (across)
    for (int i = 0; i < w / 2 * h; ++i)
      for (int word = 0; word < 2; ++word)
        to[2 * i + word] = mean(from[4 * i + word], from[4 * i + 2 + word]);
  else
    for (int y = 0; y < h / 2; ++y)
      for (int x = 0; x < 2 * w; ++x)
        to[y * 2 * w + x] = mean(from[4 * y * w + x], from[(4 * y + 2) * w + x]);
}

/// Turns each row by eight texels more than the one before: rows as long as a page of the fast cache
/// would push one another out of it.
void skew(std::uint32_t* words, int w, int h, int words_a_texel) {
  std::vector<std::uint32_t> row(static_cast<std::size_t>(w * words_a_texel));
  for (int y = 0; y < h; ++y) {
    std::uint32_t* at = words + static_cast<std::ptrdiff_t>(y) * w * words_a_texel;
    for (int x = 0; x < w; ++x)
      for (int k = 0; k < words_a_texel; ++k)
        row[static_cast<std::size_t>((x + 8 * y) % w * words_a_texel + k)] = at[x * words_a_texel + k];
    std::copy(row.begin(), row.end(), at);
  }
}

void fill_levels(std::uint32_t* tile, const std::vector<std::int32_t>& start) {
  for (int u = 0; u < levels_u; ++u)
    for (int v = 0; v < levels_v; ++v) {
      if (u == 0 && v == 0) continue;
      std::uint32_t* to = tile + 2 * start[u * levels_v + v];
      if (v > 0)
        halve(tile + 2 * start[u * levels_v + v - 1], to, tile_u >> u, tile_v >> (v - 1), false);
      else
        halve(tile + 2 * start[(u - 1) * levels_v], to, tile_u >> (u - 1), tile_v, true);
    }
}

void pack(const Tile& tile, std::uint32_t* words, float* mean) {
  const float du = tile_round_m * 1000 / tile_u, dv = tile_along_m * 1000 / tile_v;
  double sum[3] = {};
  for (int y = 0; y < tile_v; ++y)
    for (int x = 0; x < tile_u; ++x) {
      const auto at = [&](int i, int j) {
        return static_cast<std::size_t>((j + tile_v) % tile_v) * tile_u +
               static_cast<std::size_t>((i + tile_u) % tile_u);
      };
      const std::size_t t = at(x, y);
      const Rgb c = tile.albedo[t];
      words[2 * t] = byte(std::sqrt(std::max(c.r, 0.0F))) | byte(std::sqrt(std::max(c.g, 0.0F))) << 8U |
                     byte(std::sqrt(std::max(c.b, 0.0F))) << 16U | byte(tile.gloss[t]) << 24U;
      const float su = (tile.height_mm[at(x + 1, y)] - tile.height_mm[at(x - 1, y)]) / (2 * du);
      const float sv = (tile.height_mm[at(x, y + 1)] - tile.height_mm[at(x, y - 1)]) / (2 * dv);
      words[2 * t + 1] = byte(0.5F + su / 3) | byte(0.5F + sv / 3) << 8U | byte(tile.open[t]) << 16U;
      sum[0] += c.r, sum[1] += c.g, sum[2] += c.b;
    }
  for (int i = 0; i < 3; ++i) mean[i] = static_cast<float>(sum[i] / tile_texels);
}

}  // namespace

Textures make_textures(const scene::Scenario& scenario) {
  Textures textures;
  std::int32_t texels = 0;
  for (int u = 0; u < levels_u; ++u)
    for (int v = 0; v < levels_v; ++v) {
      textures.level_start.push_back(texels);
      texels += (tile_u >> u) * (tile_v >> v);
    }
  std::vector<Material> used;
  for (const scene::Section& section : scenario.sections)
    if (std::find(used.begin(), used.end(), section.material) == used.end()) used.push_back(section.material);
  for (std::size_t i = 0; i < used.size(); ++i)
    textures.tile_start[static_cast<int>(used[i])] = static_cast<std::int32_t>(i) * texels;
  textures.texels.resize(2 * used.size() * static_cast<std::size_t>(texels));

  const std::uint64_t seed = base::mix(scenario.seed);
  tbb::parallel_for(std::size_t{0}, used.size() + 1, [&](std::size_t job) {
    if (job == used.size()) {
      const Field a = noise(4, 4, 4, seed + 901, mottle_size, mottle_size),
                  b = noise(9, 3, 3, seed + 902, mottle_size, mottle_size),
                  c = noise(16, 16, 3, seed + 903, mottle_size, mottle_size),
                  d = noise(2, 2, 3, seed + 904, mottle_size, mottle_size);
      textures.mottle.resize(a.size());
      for (std::size_t t = 0; t < a.size(); ++t)
        textures.mottle[t] = byte(0.5F + 0.4F * a[t]) | byte(0.5F + 0.4F * b[t]) << 8U |
                             byte(0.5F + 0.4F * c[t]) << 16U | byte(0.5F + 0.4F * d[t]) << 24U;
      skew(textures.mottle.data(), mottle_size, mottle_size, 1);
      return;
    }
    const Material material = used[job];
    const std::uint64_t own = seed + 1000U * static_cast<std::uint64_t>(material);
    const Tile tile = material == Material::clay        ? clay(own)
                      : material == Material::pvc       ? pvc(own)
                      : material == Material::cast_iron ? cast_iron(own)
                                                        : concrete(own);
    const auto start = static_cast<std::size_t>(textures.tile_start[static_cast<int>(material)]);
    pack(tile, &textures.texels[2 * start], textures.mean[static_cast<int>(material)]);
    fill_levels(&textures.texels[2 * start], textures.level_start);
    for (int u = 0; u < levels_u; ++u)
      for (int v = 0; v < levels_v; ++v)
        skew(
            &textures
                 .texels[2 * (start + static_cast<std::size_t>(
                                          textures.level_start[static_cast<std::size_t>(u * levels_v + v)]))],
            tile_u >> u, tile_v >> v, 2);
  });
  return textures;
}

}  // namespace haunch::render
