// SPDX-License-Identifier: Apache-2.0
#include "render/patch_tile.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::render {

PatchTile::PatchTile(std::vector<PatchTexel> finest) {
  level_[0][0] = std::move(finest);
  const auto halved = [](const std::vector<PatchTexel>& from, int w, int h, bool in_u) {
    std::vector<PatchTexel> to;
    to.reserve(from.size() / 2);
    for (int v = 0; v < h; v += in_u ? 1 : 2)
      for (int u = 0; u < w; u += in_u ? 2 : 1) {
        const auto here =
            static_cast<std::size_t>(v) * static_cast<std::size_t>(w) + static_cast<std::size_t>(u);
        to.push_back(mixed(from[here], from[here + (in_u ? 1U : static_cast<std::size_t>(w))], 0.5F));
      }
    return to;
  };
  for (int v = 0; v < levels_v; ++v) {
    if (v > 0) level_[0][v] = halved(level_[0][v - 1], round, along >> (v - 1), false);
    for (int u = 1; u < levels_u; ++u)
      level_[u][v] = halved(level_[u - 1][v], round >> (u - 1), along >> v, true);
  }
  for (int u = 0; u < levels_u; ++u)
    for (int v = 0; v < levels_v; ++v)
      for (const PatchTexel& texel : level_[u][v]) height_[u][v].push_back(texel.height);
  lowest_ = *std::min_element(height_[0][0].begin(), height_[0][0].end());
  highest_ = *std::max_element(height_[0][0].begin(), height_[0][0].end());
}

PatchTexel PatchTile::at(float u, float v, int level_u, int level_v) const {
  const std::vector<PatchTexel>& from = level_[level_u][level_v];
  const Corner k = corner(u, v, level_u, level_v);
  return mixed(mixed(from[k.a], from[k.b], k.p), mixed(from[k.c], from[k.d], k.p), k.q);
}

std::vector<float> TileFields::noise(float size_mm, int octaves, std::uint64_t more, float stretch) const {
  std::vector<float> field(static_cast<std::size_t>(w) * h, 0.0F);
  float share = 1, total = 0;
  for (int o = 0; o < octaves; ++o, share *= 0.55F, size_mm *= 0.5F) {
    const int cu = std::clamp(static_cast<int>(static_cast<float>(w) * PatchTile::texel_mm / size_mm), 1,
                              w / 2),
              cv = std::clamp(
                  static_cast<int>(static_cast<float>(h) * PatchTile::texel_mm / (size_mm * stretch)), 1,
                  h / 2);
    total += share;
    const auto key = static_cast<std::uint32_t>(base::mix(seed + 97U * more + static_cast<std::uint64_t>(o)));
    const auto lattice = [&](int x, int y) { return matter::lattice_noise(x % cu, y % cv, 0, key); };
    const auto ease = [](float t) { return t * t * (3 - 2 * t); };
    for (int y = 0; y < h; ++y) {
      const float v = static_cast<float>(y) * static_cast<float>(cv) / static_cast<float>(h);
      const int j = static_cast<int>(v);
      const float t = ease(v - static_cast<float>(j));
      for (int x = 0; x < w; ++x) {
        const float u = static_cast<float>(x) * static_cast<float>(cu) / static_cast<float>(w);
        const int i = static_cast<int>(u);
        const float s = ease(u - static_cast<float>(i));
        const float near = lattice(i, j) + s * (lattice(i + 1, j) - lattice(i, j));
        const float far = lattice(i, j + 1) + s * (lattice(i + 1, j + 1) - lattice(i, j + 1));
        field[static_cast<std::size_t>(y * w + x)] += share * (near + t * (far - near));
      }
    }
  }
  for (float& value : field) value /= total;
  return field;
}

std::vector<TileFields::Stone> TileFields::strewn(int tries, float least_mm, float most_mm, bool may_overlap,
                                                  std::uint64_t more) const {
  base::Random random(base::mix(seed + 1009U * more));
  const float wide = w * PatchTile::texel_mm, long_ = h * PatchTile::texel_mm;
  std::vector<Stone> stones;
  // Large ones first, small ones between them.
  for (int n = 0; n < tries; ++n) {
    const float t = static_cast<float>(n) / static_cast<float>(tries);
    const float size = least_mm + (most_mm - least_mm) * (1 - t) * (1 - t);
    Stone stone{static_cast<float>(random.uniform(0, static_cast<double>(wide))),
                static_cast<float>(random.uniform(0, static_cast<double>(long_))),
                size * static_cast<float>(random.uniform(0.85, 1.15)),
                static_cast<float>(random.uniform(-0.35, 0.35)), n};
    const auto clear = [&](const Stone& other) {
      float du = std::abs(stone.u - other.u), dv = std::abs(stone.v - other.v);
      du = std::min(du, wide - du), dv = std::min(dv, long_ - dv);
      const float apart = 0.92F * (stone.radius + other.radius);
      return du * du + dv * dv > apart * apart;
    };
    if (may_overlap || std::all_of(stones.begin(), stones.end(), clear)) stones.push_back(stone);
  }
  return stones;
}

float TileFields::away(const Stone& stone, float rough, int x, int y) const {
  const float du = (static_cast<float>(x) + 0.5F) * PatchTile::texel_mm - stone.u,
              dv = (static_cast<float>(y) + 0.5F) * PatchTile::texel_mm - stone.v;
  const float a = du * (1 - stone.slant) + 0.3F * stone.slant * dv,
              b = dv * (1 + stone.slant) - 0.3F * stone.slant * du;
  const float r = std::sqrt(a * a + b * b) / stone.radius;
  if (r > 2) return r;
  const float knob = matter::noise(du / (0.7F * stone.radius), dv / (0.7F * stone.radius),
                                   static_cast<float>(stone.number), static_cast<std::uint32_t>(seed));
  return r * (1 + rough * knob);
}

float TileFields::wander(const Stone& stone, float texels_down) const {
  return 1.8F * matter::noise(texels_down / 14, static_cast<float>(stone.number), 0.5F,
                              static_cast<std::uint32_t>(seed));
}

void TileFields::shade_hollows(float reach_mm, float strength) {
  const int reach = std::max(1, static_cast<int>(reach_mm / PatchTile::texel_mm));
  std::vector<float> mean = height_mm, rows(mean.size());
  // A box each way stands for the sky that the neighbours take.
  const auto run = [&](std::vector<float>& from, std::vector<float>& to, bool in_u) {
    const int n = in_u ? w : h, lines = in_u ? h : w;
    const auto index = [&](int line, int i) {
      const int k = (i % n + n) % n;
      return static_cast<std::size_t>(in_u ? line * w + k : k * w + line);
    };
    for (int line = 0; line < lines; ++line) {
      float sum = 0;
      for (int i = -reach; i <= reach; ++i) sum += from[index(line, i)];
      for (int i = 0; i < n; ++i) {
        to[index(line, i)] = sum / static_cast<float>(2 * reach + 1);
        sum += from[index(line, i + reach + 1)] - from[index(line, i - reach)];
      }
    }
  };
  run(mean, rows, true);
  run(rows, mean, false);
  for (std::size_t t = 0; t < mean.size(); ++t)
    open[t] *= std::clamp(1 - strength * (mean[t] - height_mm[t]) / reach_mm, 0.12F, 1.0F);
}

PatchTile TileFields::tile() const {
  std::vector<PatchTexel> texels(height_mm.size());
  for (std::size_t t = 0; t < texels.size(); ++t)
    texels[t] = {height_mm[t] / 1000, albedo[t], std::clamp(gloss[t], 0.0F, 1.0F), open[t]};
  return PatchTile(std::move(texels));
}

}  // namespace haunch::render
