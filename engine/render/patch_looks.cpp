// SPDX-License-Identifier: Apache-2.0
// What each form of damage has made of a wall: tiles of stones, pits, flakes, scabs and soil. Colours and
// sizes are ours, by eye and from memory.
#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "render/marks.hpp"
#include "render/marks_patch.hpp"
#include "render/patch_looks.hpp"

namespace haunch::render {
namespace {

using scene::DamageCause;
using scene::DamageForm;
using scene::Material;
using Stone = TileFields::Stone;

Rgb stone_colour(base::Random& random) {
  static const int tints[][3] = {{118, 114, 106}, {150, 128, 98}, {104, 84, 64},   {70, 70, 70},
                                 {190, 182, 168}, {136, 94, 74},  {92, 98, 104},   {164, 150, 128},
                                 {124, 112, 96},  {84, 76, 66},   {206, 200, 190}, {112, 104, 84}};
  const auto& t = tints[std::min(11, static_cast<int>(random.uniform(0, 12)))];
  // All of it is a little dusty.
  return static_cast<float>(random.uniform(0.7, 1.1)) *
         blend(linear_from_srgb(t[0], t[1], t[2]), linear_from_srgb(126, 118, 104), 0.16F);
}

/// The cement between the stones.
Rgb cement(DamageCause cause) {
  switch (cause) {
    case DamageCause::worn:
      return linear_from_srgb(132, 124, 110);
    case DamageCause::chemical:
      return linear_from_srgb(164, 150, 122);
    case DamageCause::chemical_above:
      return linear_from_srgb(188, 178, 152);
    case DamageCause::chemical_below:
      return linear_from_srgb(120, 106, 84);
    case DamageCause::unclear:
      break;
  }
  return linear_from_srgb(148, 138, 120);
}

void pit(TileFields& f, int tries, float least, float most, float deep, std::uint64_t more) {
  for (const Stone& s : f.strewn(tries, least, most, true, more))
    f.about(s, 0.3F, [&](std::size_t t, float off) {
      if (off < 1) f.height_mm[t] -= deep * s.radius * (1 - off * off);
    });
}

/// Stones in concrete. flush: cut off level with the ground; out: domes above it; gone: the sockets of
/// most of them.
void stones(TileFields& f, const scene::SurfaceDamage& damage, float depth_mm) {
  const bool flush = damage.form == DamageForm::stones_showing, gone = damage.form == DamageForm::stones_gone;
  const bool worn = damage.cause == DamageCause::worn;
  base::Random random(base::mix(f.seed + 3U));
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  const float most = std::clamp(0.9F * depth_mm + 2.2F, 6.0F, 9.5F);
  const auto face = f.noise(2.6F, 2, 9);
  for (Stone s : f.strewn(2400, 0.9F, most, false, 8)) {
    const Rgb colour = stone_colour(random);
    // Of all that lie in the mix only some reach the face, more or less of each: cement is left between.
    const double luck = random.uniform();
    s.radius *= between(0.55, 1.05);
    const bool socket = gone && luck < 0.62;
    const float rise = s.radius * between(0.15, 0.95), cement_left = between(-0.1, 0.42),
                angular = between(0.20, 0.55), shrunk = between(0, 0.6);
    if (luck > 0.80) continue;
    f.about(s, angular, [&](std::size_t t, float off) {
      if (socket) {
        if (off < 1)
          f.height_mm[t] -= 0.85F * s.radius * std::sqrt(1 - off * off), f.albedo[t] = 0.86F * f.albedo[t];
        return;
      }
      if (off >= 1) {
        // The cement has shrunk from some of them.
        if (off < 1.15F && !flush) f.height_mm[t] -= shrunk;
        return;
      }
      const float dome = std::sqrt(1 - off * off);
      const float top = flush ? std::min(0.75F + 0.10F * f.height_mm[t], 0.9F * s.radius * dome)
                              : rise * dome + 0.12F * s.radius * face[t];
      f.height_mm[t] = std::max(f.height_mm[t], top);
      const float film = std::clamp(cement_left + 0.5F * face[t], 0.0F, 0.7F);
      f.albedo[t] = (1 + 0.22F * face[t]) * blend(colour, f.albedo[t], worn ? 0.3F * film : film);
      f.gloss[t] = worn ? 0.16F : 0.04F;
    });
  }
}

/// A bloom of salts: pale, soft, in clouds.
void bloom(TileFields& f, float strength) {
  const auto cloud = f.noise(34, 4, 41), speck = f.noise(2.2F, 2, 42);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    const float k = std::clamp(strength * (0.35F + 1.1F * cloud[t] + 0.5F * speck[t]), 0.0F, 0.85F);
    f.albedo[t] = blend(f.albedo[t], linear_from_srgb(216, 208, 182), k);
    f.height_mm[t] += 0.3F * k;
  }
}

void rust_scabs(TileFields& f, float high_mm) {
  const auto broad = f.noise(30, 3, 51), flake = f.noise(6, 3, 52), grain = f.noise(1.6F, 1, 53),
             hue = f.noise(12, 3, 54);
  const Rgb dark = linear_from_srgb(56, 36, 27), orange = linear_from_srgb(126, 70, 38),
            ochre = linear_from_srgb(150, 104, 58);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    // Layered: leaves that end in steps.
    const float raw = std::clamp(0.45F + 0.6F * broad[t] + 0.5F * flake[t], 0.0F, 1.0F);
    const float leaf = std::floor(raw * 5) / 5;
    f.height_mm[t] = high_mm * (0.75F * leaf + 0.12F * raw) + 0.25F * grain[t];
    const float k = std::clamp(0.5F + 0.9F * hue[t] + 0.4F * (leaf - 0.5F), 0.0F, 1.0F);
    f.albedo[t] =
        (1 + 0.3F * grain[t]) * (k < 0.5F ? blend(dark, orange, 2 * k) : blend(orange, ochre, 2 * k - 1));
  }
  base::Random random(base::mix(f.seed + 4U));
  for (const Stone& s : f.strewn(260, 3, 11, false, 55)) {
    const bool burst = random.uniform() < 0.35;
    f.about(s, 0.25F, [&](std::size_t t, float off) {
      if (off >= 1) return;
      const float dome = std::sqrt(1 - off * off);
      f.height_mm[t] = std::max(f.height_mm[t], std::min(high_mm, 0.7F * s.radius) * dome);
      f.albedo[t] = blend(f.albedo[t], burst && off < 0.45F ? dark : orange, 0.55F);
      if (burst && off < 0.4F) f.height_mm[t] -= 0.35F * high_mm;
    });
  }
}

void soil(TileFields& f) {
  const auto clod = f.noise(26, 4, 61), crumb = f.noise(4, 2, 62), hue = f.noise(30, 3, 63);
  const Rgb black = linear_from_srgb(62, 48, 36), brown = linear_from_srgb(112, 86, 58),
            sandy = linear_from_srgb(150, 126, 92);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    f.height_mm[t] = 8.0F * clod[t] + 1.8F * crumb[t];
    const float k = std::clamp(0.45F + 1.2F * hue[t] + 0.4F * crumb[t], 0.0F, 1.0F);
    f.albedo[t] =
        (1 + 0.4F * crumb[t]) * (k < 0.5F ? blend(black, brown, 2 * k) : blend(brown, sandy, 2 * k - 1));
  }
  base::Random random(base::mix(f.seed + 5U));
  for (const Stone& s : f.strewn(240, 2, 11, false, 64)) {
    const Rgb colour = static_cast<float>(random.uniform(0.45, 0.8)) * stone_colour(random);
    f.about(s, 0.35F, [&](std::size_t t, float off) {
      if (off < 1)
        f.height_mm[t] =
            std::max(f.height_mm[t], f.height_mm[t] + 0.6F * s.radius * std::sqrt(1 - off * off)),
        f.albedo[t] = blend(colour, f.albedo[t], 0.25F);
    });
  }
}

/// Drawn along the pipe by what has passed: score on score.
void scores(TileFields& f, Rgb colour, float deep_mm) {
  const auto fine = f.noise(1.4F, 1, 81, 26), broad = f.noise(5, 2, 82, 16), cloud = f.noise(30, 3, 83);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    const float cut =
        std::clamp(1.6F * (fine[t] - 0.25F), 0.0F, 1.0F) + std::clamp(1.4F * (broad[t] - 0.25F), 0.0F, 1.0F);
    f.height_mm[t] = -deep_mm * cut;
    f.albedo[t] = (1 + 0.35F * cut + 0.2F * cloud[t]) * colour;
    f.gloss[t] = 0.05F;
  }
}

void rougher(TileFields& f, const scene::SurfaceDamage& damage, const scene::Section& section,
             float depth_mm) {
  switch (section.material) {
    case Material::pvc:
      return scores(f, 0.85F * blend(whole_ware(section), {0.5F, 0.5F, 0.5F}, 0.045F), 0.6F * depth_mm);
    case Material::clay:
      broken(f, blend(broken_ware(section), linear_from_srgb(132, 88, 62), 0.6F), 0.35F * depth_mm);
      return pit(f, 900, 0.6F, 2.4F, 0.6F, 91);
    case Material::cast_iron:
      sand(f, linear_from_srgb(92, 64, 46), 0.7F * depth_mm);
      return pit(f, 1500, 0.8F, 4.5F, 0.5F, 92);
    case Material::polyethylene:
    case Material::liner:
      return scores(f, 0.95F * blend(whole_ware(section), {0.5F, 0.5F, 0.5F}, 0.03F), 0.6F * depth_mm);
    case Material::pitch_fibre:
      // The felt has come away in leaves.
      return broken(f, 0.8F * broken_ware(section), 0.5F * depth_mm);
    case Material::brick:
      sand(f, 0.9F * broken_ware(section), 0.8F * depth_mm);
      return pit(f, 1800, 0.7F, 3.0F, 0.6F, 95);
    case Material::fibre_cement:
      sand(f, 0.85F * broken_ware(section), 0.5F * depth_mm);
      return pit(f, 1200, 0.4F, 1.4F, 0.6F, 96);
    case Material::concrete:
      break;
  }
  // The skin of cement is gone: sand stands out of it grain by grain, the first stones among it.
  sand(f, cement(damage.cause), 0.75F * depth_mm);
  pit(f, 1800, 0.5F, 2.4F, 0.8F, 93);
  base::Random random(base::mix(f.seed + 6U));
  for (const Stone& s : f.strewn(5200, 0.5F, 2.5F, false, 94)) {
    const Rgb colour = stone_colour(random);
    const auto stands = static_cast<float>(random.uniform(0.2, 1.0));
    f.about(s, 0.35F, [&](std::size_t t, float off) {
      if (off < 1)
        f.height_mm[t] += stands * s.radius * std::sqrt(1 - off * off),
            f.albedo[t] = blend(f.albedo[t], colour, 0.55F);
    });
  }
}

void set_bars(PatchMark& mark, DamageForm form, float wall_m) {
  base::Random random(base::mix(mark.seed + 8U));
  PatchBars& bars = mark.bars;
  const auto between = [&](double a, double b) { return static_cast<float>(random.uniform(a, b)); };
  bars.radius = std::clamp(0.16F * wall_m, 0.0018F, 0.005F);
  bars.rings_every = between(0.045, 0.075), bars.lengths_every = between(0.075, 0.12);
  bars.rings_from = between(0, 0.05), bars.lengths_from = between(0, 0.08);
  const float floor = -mark.relief.depth * (1 - 0.5F * mark.relief.uneven);
  switch (form) {
    case DamageForm::steel_showing:
      // The backs of them lie in the face of the concrete, which still covers them in stretches.
      bars.axis = floor + 0.25F * bars.radius, bars.flaky = 0.08F, bars.hidden = 0.55F;
      break;
    case DamageForm::steel_out:
      // Free all round, and bent here and there.
      bars.axis = floor + std::min(0.85F * mark.relief.depth, 3.6F * bars.radius);
      bars.flaky = 0.22F, bars.bow = 0.9F * bars.radius, bars.shade = 0.75F;
      break;
    default:
      bars.axis = floor + std::min(0.55F * mark.relief.depth, 2.0F * bars.radius);
      bars.flaky = 1.0F, bars.bow = 0.4F * bars.radius, bars.shade = 0.5F;
      break;
  }
  mark.steel = linear_from_srgb(104, 96, 88);
}

/// Where a shell has come away the body shows as it broke, fresh and dusty.
void flaked(TileFields& f, const scene::SurfaceDamage& damage, const scene::Section& section) {
  if (section.material != Material::concrete)
    return broken(f, blend(broken_ware(section), whole_ware(section), 0.35F), 0.8F);
  const bool old = damage.cause == DamageCause::chemical || damage.cause == DamageCause::chemical_below;
  broken(f, old ? cement(damage.cause) : linear_from_srgb(184, 174, 154), 0.9F);
  base::Random random(base::mix(f.seed + 9U));
  // It breaks round most stones and through the rest: they end level with the break or leave a bed.
  for (const Stone& s : f.strewn(700, 0.7F, 5.5F, false, 75)) {
    const Rgb colour = stone_colour(random);
    const double luck = random.uniform();
    if (luck < 0.3) continue;
    f.about(s, 0.35F, [&](std::size_t t, float off) {
      if (off >= 1) return;
      const float dome = std::sqrt(1 - off * off);
      if (luck < 0.5) {
        f.height_mm[t] -= 0.5F * s.radius * dome;
      } else {
        f.height_mm[t] += std::min(0.35F * s.radius * dome, 0.9F);
        f.albedo[t] = blend(colour, f.albedo[t], 0.35F);
      }
    });
  }
}

}  // namespace

void sand(TileFields& f, Rgb colour, float rough_mm) {
  const auto lumps = f.noise(9, 3, 1), grit = f.noise(1.7F, 1, 2), shade = f.noise(24, 3, 3),
             tint = f.noise(1.4F, 1, 4);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    f.height_mm[t] += rough_mm * (0.9F * lumps[t] + 0.45F * grit[t]);
    f.albedo[t] = (1 + 0.25F * shade[t] + 0.22F * tint[t]) * colour;
  }
}

void broken(TileFields& f, Rgb colour, float rough_mm) {
  const auto wave = f.noise(16, 2, 71), step = f.noise(7, 3, 72), grain = f.noise(1.5F, 1, 73),
             hue = f.noise(26, 3, 74);
  for (std::size_t t = 0; t < f.height_mm.size(); ++t) {
    const float stair = std::floor(2 * step[t]) / 2;
    f.height_mm[t] = rough_mm * (0.8F * wave[t] + 0.7F * stair + 0.22F * grain[t]);
    f.albedo[t] = (1 + 0.22F * hue[t] + 0.18F * grain[t]) * colour;
  }
}

void damage_look(const scene::SurfaceDamage& damage, const scene::Section& section, PatchMark& mark) {
  const auto wall = static_cast<float>(section.wall_mm / 1000);
  PatchRelief& relief = mark.relief;
  relief.depth = static_cast<float>(scene::depth_m_of(damage, section.wall_mm / 1000));
  const float depth_mm = 1000 * relief.depth;
  TileFields f(base::mix(mark.seed));
  switch (damage.form) {
    case DamageForm::rougher:
      rougher(f, damage, section, depth_mm);
      relief.edge = 0.010F, relief.fray = 6;
      relief.solid = 0.94F, relief.soft = 0.0025F, relief.frays_over = 0.040F;
      break;
    case DamageForm::spalled:
      flaked(f, damage, section);
      relief.edge = 0.005F, relief.uneven = 0.85F, relief.fray = 0.8F, relief.grime = 0.10F;
      break;
    case DamageForm::stones_showing:
    case DamageForm::stones_out:
    case DamageForm::stones_gone:
      sand(f, cement(damage.cause), damage.form == DamageForm::stones_gone ? 1.4F : 0.7F);
      stones(f, damage, depth_mm);
      relief.edge = 0.008F + 0.8F * relief.depth;
      relief.fray = damage.form == DamageForm::stones_showing ? 5.0F : 1.2F;
      relief.soft = 0.0015F, relief.frays_over = 0.044F;
      break;
    case DamageForm::steel_showing:
    case DamageForm::steel_out:
    case DamageForm::steel_corroded: {
      scene::SurfaceDamage ground = damage;
      const bool flush = damage.form == DamageForm::steel_showing,
                 eaten = damage.form == DamageForm::steel_corroded;
      ground.form = flush ? DamageForm::stones_showing : DamageForm::stones_out;
      sand(f, cement(damage.cause), flush ? 0.6F : 1.2F);
      stones(f, ground, 4);
      relief.edge = 0.008F + 0.6F * relief.depth, relief.fray = 1.2F;
      relief.soft = 0.0015F, relief.frays_over = 0.026F;
      relief.stain = {0.72F, 0.48F, 0.30F}, relief.stains = eaten ? 0.95F : flush ? 0.15F : 0.3F;
      set_bars(mark, damage.form, wall);
      break;
    }
    case DamageForm::wall_gone:
      soil(f);
      // Thinner and thinner towards the place where nothing of it is left, and uneven ground behind that.
      relief.depth = 1.35F * wall + 0.010F, relief.uneven = 0.35F;
      relief.edge = 0.016F, relief.fray = 0.4F, relief.frays_over = 0.016F;
      relief.rim = blend(0.75F * broken_ware(section), linear_from_srgb(104, 90, 72), 0.25F);
      relief.rim_to = wall, relief.dark = 16;
      break;
    case DamageForm::rust:
      rust_scabs(f, depth_mm);
      relief.top = relief.depth, relief.depth = 0, relief.edge = 0.006F, relief.fray = 2.0F;
      relief.stain = {0.80F, 0.55F, 0.36F}, relief.stains = 0.7F, relief.frays_over = 0.034F;
      break;
    case DamageForm::blister:
    case DamageForm::dent:
      return;  // the wall's own skin: bent_patch
  }
  if (section.material == Material::concrete && damage.form != DamageForm::wall_gone) {
    if (damage.cause == DamageCause::chemical_above) bloom(f, 0.9F);
    if (damage.cause == DamageCause::chemical) bloom(f, 0.45F);
  }
  float middle = 0;
  for (const float h : f.height_mm) middle += h;
  for (const Rgb& c : f.albedo) relief.body = relief.body + 1 / static_cast<float>(f.albedo.size()) * c;
  relief.middle = middle / static_cast<float>(f.height_mm.size()) / 1000;
  f.shade_hollows(3.5F, damage.form == DamageForm::rougher ? 2.2F : 1.3F);
  mark.tile.push_back(f.tile());
}

}  // namespace haunch::render
