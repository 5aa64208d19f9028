// SPDX-License-Identifier: Apache-2.0
// Tiles are made, packed into bytes, halved and laid out for the cache.
#include "render/textures.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "render/tile.hpp"

namespace haunch::render {
namespace {

using scene::Material;

/// Between the texels of a field that goes on from its far side.
float at_place(const Field& field, float x, float y) {
  constexpr int mask = mottle_size - 1;
  const float fx = std::floor(x), fy = std::floor(y), u = x - fx, v = y - fy;
  const int i = static_cast<int>(fx), j = static_cast<int>(fy);
  const auto texel = [&](int p, int q) {
    return field[static_cast<std::size_t>((q & mask) * mottle_size + (p & mask))];
  };
  const float near = texel(i, j) + u * (texel(i + 1, j) - texel(i, j)),
              far = texel(i, j + 1) + u * (texel(i + 1, j + 1) - texel(i, j + 1));
  return near + v * (far - near);
}

/// Smooth lumps strewn without order over a field that goes on from its far side, `round` x `length`
/// texels the largest, each octave half as large as the one before. Mean 0, mean square 0.2: about what
/// noise() has.
Field blotches(float round, float length, int octaves, std::uint64_t seed) {
  constexpr int mask = mottle_size - 1;
  Field field(static_cast<std::size_t>(mottle_size) * mottle_size, 0.0F);
  base::Random random(seed);
  float share = 1;
  for (int octave = 0; octave < octaves; ++octave, share *= 0.42F, round /= 2, length /= 2) {
    const int many = static_cast<int>(8.0F * mottle_size * mottle_size / (3.14F * round * length));
    for (int n = 0; n < many; ++n) {
      const auto x = static_cast<float>(random.uniform(0, mottle_size)),
                 y = static_cast<float>(random.uniform(0, mottle_size));
      const auto size = static_cast<float>(random.uniform(0.6, 1.3)),
                 strength = share * static_cast<float>(random.uniform(-1, 1));
      const float across = size * round, down = size * length;
      const int top = static_cast<int>(std::ceil(y - down)), low = static_cast<int>(std::floor(y + down));
      const int left = static_cast<int>(std::ceil(x - across)), right = static_cast<int>(std::floor(x + across));
      for (int j = top; j <= low; ++j)
        for (int i = left; i <= right; ++i) {
          const float ex = (static_cast<float>(i) - x) / across, ey = (static_cast<float>(j) - y) / down;
          const float inside = 1 - ex * ex - ey * ey;
          if (inside > 0)
            field[static_cast<std::size_t>((j & mask) * mottle_size + (i & mask))] += strength * inside * inside;
        }
    }
  }
  double sum = 0, squares = 0;
  for (const float value : field) sum += value, squares += double{value} * value;
  const double mean = sum / static_cast<double>(field.size());
  const double spread = std::sqrt(squares / static_cast<double>(field.size()) - mean * mean);
  for (float& value : field) value = static_cast<float>((value - mean) * (std::sqrt(0.2) / spread));
  return field;
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

Tile tile_of(int kind, std::uint64_t seed) {
  const auto material = static_cast<Material>(kind / scene::look_count);
  const auto look = static_cast<scene::Look>(kind % scene::look_count);
  const std::uint64_t own = seed + 1000U * static_cast<std::uint64_t>(material);
  switch (material) {
    case Material::clay:
      return clay_tile(look, own);
    case Material::pvc:
      return pvc_tile(own);
    case Material::cast_iron:
      return iron_tile(look, own);
    case Material::concrete:
      return concrete_tile(look, own);
    case Material::brick:
      return brick_tile(own);
    case Material::polyethylene:
      return polyethylene_tile(own);
    case Material::pitch_fibre:
      return pitch_fibre_tile(own);
    case Material::fibre_cement:
      return fibre_cement_tile(own);
    case Material::liner:
      break;
  }
  return liner_tile(own);
}

}  // namespace

int tile_kind(const scene::Section& section) {
  return static_cast<int>(section.material) * scene::look_count + static_cast<int>(section.look);
}

Textures make_textures(const scene::Scenario& scenario) {
  Textures textures;
  std::int32_t texels = 0;
  for (int u = 0; u < levels_u; ++u)
    for (int v = 0; v < levels_v; ++v) {
      textures.level_start.push_back(texels);
      texels += (tile_u >> u) * (tile_v >> v);
    }
  std::vector<int> used;
  for (const scene::Section& section : scenario.sections)
    if (std::find(used.begin(), used.end(), tile_kind(section)) == used.end())
      used.push_back(tile_kind(section));
  for (std::size_t i = 0; i < used.size(); ++i)
    textures.tile_start[used[i]] = static_cast<std::int32_t>(i) * texels;
  textures.texels.resize(2 * used.size() * static_cast<std::size_t>(texels));

  const std::uint64_t seed = base::mix(scenario.seed);
  tbb::parallel_for(std::size_t{0}, used.size() + 1, [&](std::size_t job) {
    if (job == used.size()) {
      // Blotches lie anywhere and are pushed about: noise on a lattice shows its rows and columns, as a star
      // or as rings once the wall is seen along the pipe.
      const Field aside = noise(6, 7, 1, seed + 905, mottle_size, mottle_size),
                  along = noise(7, 6, 1, seed + 906, mottle_size, mottle_size);
      const auto laid = [&](float round, float length, int octaves, std::uint64_t more) {
        const Field from = blotches(round, length, octaves, seed + more);
        Field field(from.size());
        for (int y = 0; y < mottle_size; ++y)
          for (int x = 0; x < mottle_size; ++x) {
            const auto t = static_cast<std::size_t>(y * mottle_size + x);
            field[t] = at_place(from, static_cast<float>(x) + 0.3F * round * aside[t],
                                static_cast<float>(y) + 0.3F * length * along[t]);
          }
        return field;
      };
      const Field a = laid(46, 46, 3, 901), b = laid(18, 52, 3, 902), c = laid(12, 12, 3, 903),
                  d = laid(54, 46, 3, 904);
      // As light all told, and as often damp, as before they were pushed: ours, by eye.
      textures.mottle.resize(a.size());
      for (std::size_t t = 0; t < a.size(); ++t)
        textures.mottle[t] = byte(0.56F + 0.4F * a[t]) | byte(0.5F + 0.4F * b[t]) << 8U |
                             byte(0.44F + 0.4F * c[t]) << 16U | byte(0.5F + 0.4F * d[t]) << 24U;
      skew(textures.mottle.data(), mottle_size, mottle_size, 1);
      return;
    }
    const int kind = used[job];
    const auto start = static_cast<std::size_t>(textures.tile_start[kind]);
    pack(tile_of(kind, seed), &textures.texels[2 * start], textures.mean[kind]);
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
