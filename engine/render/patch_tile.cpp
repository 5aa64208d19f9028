// SPDX-License-Identifier: Apache-2.0
#include "render/patch_tile.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "matter/noise.hpp"

namespace haunch::render {

namespace {

/// Each texel with its neighbour round, or along.
std::vector<PatchTexel> halved(const std::vector<PatchTexel>& from, int w, int h, bool round) {
  std::vector<PatchTexel> to;
  to.reserve(from.size() / 2);
  for (int v = 0; v < h; v += round ? 1 : 2)
    for (int u = 0; u < w; u += round ? 2 : 1) {
      const auto here =
          static_cast<std::size_t>(v) * static_cast<std::size_t>(w) + static_cast<std::size_t>(u);
      to.push_back(mixed(from[here], from[here + (round ? 1U : static_cast<std::size_t>(w))], 0.5F));
    }
  return to;
}

std::uint32_t bits_of(float share, float most) {
  return static_cast<std::uint32_t>(std::clamp(share, 0.0F, 1.0F) * most + 0.5F);
}

}  // namespace

PatchTile::PatchTile(std::vector<PatchTexel> finest) {
  const auto by_height = [](const PatchTexel& a, const PatchTexel& b) { return a.height < b.height; };
  lowest_ = std::min_element(finest.begin(), finest.end(), by_height)->height;
  highest_ = std::max_element(finest.begin(), finest.end(), by_height)->height;
  brightest_ = 1e-6F;
  for (const PatchTexel& t : finest) brightest_ = std::max({brightest_, t.albedo.r, t.albedo.g, t.albedo.b});
  for (int u = 0; u < levels_u; ++u) {
    std::vector<PatchTexel> level = finest;
    for (int v = 0; v < levels_v; ++v) {
      keep(level, round >> u, along >> v);
      level = halved(level, round >> u, along >> v, false);
    }
    finest = halved(finest, round >> u, along, true);
  }
}

void PatchTile::keep(const std::vector<PatchTexel>& level, int wide, int high) {
  const float per_height = 1 / std::max(highest_ - lowest_, 1e-9F), per_bright = 1 / brightest_;
  const auto share = [&](int u, int v) {
    const auto at = static_cast<std::size_t>(v % high * wide + u % wide);
    return (level[at].height - lowest_) * per_height;
  };
  const auto root = [&](float albedo) { return std::sqrt(std::max(albedo, 0.0F) * per_bright); };
  const auto put = [](std::vector<std::int32_t>& to, std::uint32_t word) {
    to.push_back(static_cast<std::int32_t>(word));
  };
  for (int v = 0; v < high; ++v)
    for (int u = 0; u < wide; ++u) {
      put(quads_, bits_of(share(u, v), 255) | bits_of(share(u + 1, v), 255) << 8U |
                      bits_of(share(u, v + 1), 255) << 16U | bits_of(share(u + 1, v + 1), 255) << 24U);
      put(pairs_, bits_of(share(u, v), 65535) | bits_of(share(u + 1, v), 65535) << 16U);
      const PatchTexel& t = level[static_cast<std::size_t>(v * wide + u)];
      put(looks_, bits_of(root(t.albedo.r), 2047) | bits_of(root(t.albedo.g), 2047) << 11U |
                      bits_of(root(t.albedo.b), 1023) << 22U);
      put(looks_, bits_of(t.gloss, 65535) | bits_of(t.open, 65535) << 16U);
    }
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
