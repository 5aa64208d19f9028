// SPDX-License-Identifier: Apache-2.0
// What water that comes through leaves on a wall: pores, damp, beads and lime; and joints that have lost
// their mortar. Colours and sizes are ours, by eye and from memory.
#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "render/marks.hpp"
#include "render/marks_patch.hpp"
#include "render/patch_looks.hpp"

namespace haunch::render {
namespace {

using Stone = TileFields::Stone;

std::size_t texel_of(const Stone& s) {
  const int u = static_cast<int>(s.u / PatchTile::texel_mm) % TileFields::w,
            v = static_cast<int>(s.v / PatchTile::texel_mm) % TileFields::h;
  return static_cast<std::size_t>(v * TileFields::w + u);
}

Rgb lime_of(const scene::Section& section) {
  return section.material == scene::Material::clay ? linear_from_srgb(192, 178, 152)
                                                   : linear_from_srgb(200, 194, 176);
}

void finish(TileFields& f, PatchMark& mark, float shade) {
  float middle = 0;
  for (const float h : f.height_mm) middle += h;
  mark.relief.middle = middle / static_cast<float>(f.height_mm.size()) / 1000;
  if (shade > 0) f.shade_hollows(3, shade);
  mark.tile.push_back(f.tile());
}

}  // namespace

void porous_look(const scene::Section& section, PatchMark& mark) {
  TileFields f(base::mix(mark.seed));
  base::Random random(base::mix(mark.seed + 2U));
  constexpr float deep_mm = 4.5F;
  sand(f, 0.72F * whole_ware(section), 0.25F);
  for (float& h : f.height_mm) h += deep_mm;
  // Pores sit in nests where the mix was short of fines; between them the wall is merely damp.
  const auto nest = f.noise(30, 2, 21), damp = f.noise(26, 3, 22), edge = f.noise(5, 2, 23);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    const float wet = std::clamp(0.5F + 1.3F * damp[t] + 0.3F * edge[t] + 0.6F * nest[t], 0.0F, 1.0F);
    f.albedo[t] = (1 - 0.55F * wet) * f.albedo[t];
    f.gloss[t] = 0.05F + 0.30F * wet;
  }
  for (const Stone& s : f.strewn(5200, 0.55F, 3.0F, false, 24)) {
    const float here = nest[texel_of(s)];
    if (here < (s.radius > 1.2F ? 0.05F : -0.2F) || random.uniform() < 0.25) continue;
    const bool weeps = random.uniform() < 0.05;
    f.about(s, 0.45F, [&](std::size_t t, float off) {
      if (off < 1) {
        f.height_mm[t] = std::max(0.0F, f.height_mm[t] - 1.9F * s.radius * std::sqrt(1 - off * off));
        f.albedo[t] = 0.5F * f.albedo[t];
        f.gloss[t] = 0.08F;
        f.open[t] *= 0.35F + 0.65F * off * off;
      } else if (weeps) {
        f.albedo[t] = blend(f.albedo[t], lime_of(section), 0.6F * (1.3F - off) / 0.3F);
      }
    });
  }
  mark.relief.depth = deep_mm / 1000, mark.relief.uneven = 0;
  mark.relief.edge = 0.004F, mark.relief.fray = 2.5F, mark.relief.soft = 0.006F, mark.relief.solid = 0.95F;
  mark.relief.stain = {0.66F, 0.66F, 0.66F}, mark.relief.stains = 0.8F;
  finish(f, mark, 2.0F);
}

void sweating_look(const scene::Section& section, PatchMark& mark) {
  TileFields f(base::mix(mark.seed));
  const auto cloud = f.noise(30, 3, 31), fine = f.noise(3, 2, 32), crust = f.noise(22, 4, 33),
             run = f.noise(9, 2, 34);
  const Rgb ware = whole_ware(section), lime = lime_of(section);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    f.albedo[t] = (0.40F + 0.12F * cloud[t] + 0.05F * fine[t]) * ware;
    f.gloss[t] = 0.42F + 0.25F * cloud[t];
    f.height_mm[t] = 0.05F * fine[t];
    // What evaporates leaves lime: a thin pale crust, in islands.
    const float k = std::clamp(2.0F * (crust[t] + 0.35F * run[t] + 0.16F * fine[t] - 0.24F), 0.0F, 0.75F);
    f.albedo[t] = blend(f.albedo[t], (0.85F + 0.25F * fine[t]) * lime, k);
    f.gloss[t] *= 1 - 0.8F * k;
    f.height_mm[t] += 0.5F * k;
  }
  for (const Stone& s : f.strewn(7000, 0.55F, 2.3F, false, 35)) {
    if (cloud[texel_of(s)] < -0.25F) continue;
    f.about(s, 0.06F, [&](std::size_t t, float off) {
      if (off >= 1) return;
      f.height_mm[t] += 0.85F * s.radius * std::sqrt(1 - off * off);
      f.gloss[t] = 0.75F;
      f.albedo[t] = 0.9F * f.albedo[t];
    });
  }
  mark.relief.depth = 0, mark.relief.top = 0.0024F, mark.relief.uneven = 0;
  mark.relief.edge = 0.006F, mark.relief.fray = 2.0F, mark.relief.soft = 0.007F, mark.relief.solid = 0.92F;
  mark.relief.stain = {0.62F, 0.62F, 0.63F}, mark.relief.stains = 0.9F;
  finish(f, mark, 0);
}

void mortar_look(const scene::MissingMortar& mortar, PatchMark& mark) {
  TileFields f(base::mix(mark.seed));
  broken(f, linear_from_srgb(120, 113, 100), 0.7F);
  mark.relief.depth = static_cast<float>(mortar.depth_mm / 1000);
  mark.relief.edge = 0.0022F, mark.relief.uneven = 0.45F, mark.relief.fray = 0.8F;
  mark.relief.deep = linear_from_srgb(62, 50, 38), mark.relief.deep_from = 0.0035F;
  mark.relief.dark = 380;
  mark.over_joint = true;
  finish(f, mark, 1.0F);
}

}  // namespace haunch::render
