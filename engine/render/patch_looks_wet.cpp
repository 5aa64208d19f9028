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
  return section.material == scene::Material::clay || section.material == scene::Material::brick
             ? linear_from_srgb(192, 178, 152)
             : linear_from_srgb(200, 194, 176);
}

/// As a factor to the wall's own.
Rgb over_wall(Rgb colour, const scene::Section& section) {
  const Rgb ware = whole_ware(section);
  return {colour.r / ware.r, colour.g / ware.g, colour.b / ware.b};
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
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  constexpr float deep_mm = 4.0F;
  // Pores sit in nests where the mix was short of fines; water seeps from these into the wall about them.
  const auto nest = f.noise(38, 3, 21), damp = f.noise(52, 4, 22), edge = f.noise(6, 3, 23),
             grit = f.noise(1.7F, 1, 25);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    f.height_mm[t] = deep_mm + 0.10F * grit[t];
    const float wet =
        std::clamp(0.5F + 3.6F * (damp[t] + 0.5F * nest[t] + 0.03F) + 0.7F * edge[t], 0.0F, 1.0F);
    f.albedo[t] = (1 - 0.62F * wet) * Rgb{1, 1, 1};
    f.gloss[t] = 0.02F + 0.30F * wet;
  }
  // What has run out and dried: soft halos of lime, and threads of it below.
  const Rgb lime = over_wall(lime_of(section), section);
  const std::vector<Stone> pores = f.strewn(11000, 0.40F, 1.25F, true, 24);
  const auto shows = [&](const Stone& s) { return nest[texel_of(s)] > (s.radius > 0.8F ? 0.10F : -0.04F); };
  for (const Stone& pore : pores) {
    if (!shows(pore) || random.uniform() > 0.022) continue;
    Stone halo = pore;
    halo.radius = between(2.5, 7);
    const float strong = section.material == scene::Material::clay ? between(0.06, 0.22) : between(0.2, 0.55);
    f.about(halo, 0.5F, [&](std::size_t t, float off) {
      const float k = std::clamp(1 - off, 0.0F, 1.0F) * (1 + 0.8F * edge[t]);
      f.albedo[t] = blend(f.albedo[t], lime, strong * std::clamp(k, 0.0F, 1.0F));
      f.gloss[t] *= 1 - 0.6F * k;
    });
    if (random.uniform() < 0.5) continue;
    // Downwards, the tile's way round from the crown.
    f.below(pore, between(8, 45), between(0.7, 1.6), [&](std::size_t t, float k) {
      f.albedo[t] = blend(f.albedo[t], Rgb{0.42F, 0.42F, 0.42F}, 0.9F * k);
      f.gloss[t] = std::max(f.gloss[t], 0.4F * k);
    });
  }
  for (const Stone& s : pores) {
    if (!shows(s) || random.uniform() < 0.45) continue;
    f.about(s, 0.30F, [&](std::size_t t, float off) {
      if (off >= 1) return;
      const float dome = std::sqrt(1 - off * off);
      f.height_mm[t] = std::max(0.0F, f.height_mm[t] - 2.2F * s.radius * dome);
      f.albedo[t] = (1 - 0.8F * dome) * f.albedo[t];
      f.gloss[t] = 0.06F;
      f.open[t] *= 0.35F + 0.65F * off * off;
    });
  }
  mark.relief.film = true;
  mark.relief.depth = deep_mm / 1000, mark.relief.uneven = 0;
  mark.relief.edge = 0.004F, mark.relief.fray = 2.5F, mark.relief.soft = 0.009F, mark.relief.solid = 1;
  mark.relief.frays_over = 0.030F;
  mark.relief.stain = {0.66F, 0.66F, 0.66F}, mark.relief.stains = 0.5F;
  finish(f, mark, 2.0F);
}

void sweating_look(const scene::Section& section, PatchMark& mark) {
  TileFields f(base::mix(mark.seed));
  base::Random random(base::mix(mark.seed + 2U));
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  const auto cloud = f.noise(44, 4, 31), fine = f.noise(3, 2, 32), crust = f.noise(26, 4, 33);
  const Rgb lime = over_wall(lime_of(section), section);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    const float wet = std::clamp(0.72F + 0.9F * cloud[t] + 0.15F * fine[t], 0.0F, 1.0F);
    f.albedo[t] = (1 - 0.55F * wet) * Rgb{1, 1, 1};
    f.gloss[t] = 0.05F + 0.33F * wet;
    // What evaporates leaves lime: a thin pale bloom at the edges of the wet.
    const float k = std::clamp(1.5F * (crust[t] + 0.3F * fine[t] - 0.30F), 0.0F, 0.35F);
    f.albedo[t] = blend(f.albedo[t], lime, k);
    f.gloss[t] *= 1 - 1.8F * k;
  }
  // Beads, most of them as small as a pin's head; where one has grown too heavy it has run, and wiped a
  // thread clean below it.
  for (Stone s : f.strewn(16000, 0.35F, 1.30F, false, 35)) {
    if (cloud[texel_of(s)] < -0.15F + between(-0.15, 0.15)) continue;
    const bool ran = s.radius > 0.75F && random.uniform() < 0.16;
    if (ran)
      f.below(s, between(6, 30), 0.8F * s.radius, [&](std::size_t t, float k) {
        f.albedo[t] = (1 - 0.35F * k) * f.albedo[t];
        f.gloss[t] = std::max(f.gloss[t], 0.55F * k);
      });
    f.about(s, 0.05F, [&](std::size_t t, float off) {
      if (off >= 1) return;
      f.height_mm[t] += 0.75F * s.radius * std::sqrt(1 - off * off);
      f.gloss[t] = 0.85F;
      f.albedo[t] = 0.8F * f.albedo[t];
    });
  }
  mark.relief.film = true;
  mark.relief.depth = 0, mark.relief.top = 0.0016F, mark.relief.uneven = 0;
  mark.relief.edge = 0.006F, mark.relief.fray = 2.0F, mark.relief.soft = 0.010F, mark.relief.solid = 1;
  mark.relief.frays_over = 0.030F;
  mark.relief.stain = {0.62F, 0.62F, 0.63F}, mark.relief.stains = 0.6F;
  finish(f, mark, 0);
}

void mortar_look(const scene::MissingMortar& mortar, PatchMark& mark) {
  TileFields f(base::mix(mark.seed));
  base::Random random(base::mix(mark.seed + 3U));
  const auto depth_mm = static_cast<float>(mortar.depth_mm);
  broken(f, linear_from_srgb(128, 120, 106), 0.8F);
  // What has not come out stands in the groove as crumbs and teeth, with the grit it was made of.
  const auto tooth = f.noise(17, 3, 25), grain = f.noise(2.5F, 2, 26);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t)
    f.height_mm[t] += std::clamp(2.6F * (tooth[t] + 0.25F * grain[t] - 0.24F), 0.0F, 0.9F) * depth_mm;
  for (const Stone& s : f.strewn(1500, 0.5F, 2.0F, true, 27)) {
    const auto pale = static_cast<float>(random.uniform(0.55, 1.25));
    f.about(s, 0.3F, [&](std::size_t t, float off) {
      if (off >= 1) return;
      f.height_mm[t] += 0.7F * s.radius * std::sqrt(1 - off * off);
      f.albedo[t] = pale * f.albedo[t];
    });
  }
  mark.relief.depth = depth_mm / 1000;
  mark.relief.edge = 0.0022F, mark.relief.uneven = 0.35F, mark.relief.fray = 0.35F;
  mark.relief.deep = linear_from_srgb(52, 42, 32), mark.relief.deep_from = 0.0040F;
  mark.relief.dark = 420;
  mark.over_joint = true;
  finish(f, mark, 1.0F);
}

}  // namespace haunch::render
