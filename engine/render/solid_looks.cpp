// SPDX-License-Identifier: Apache-2.0
#include "render/solid_looks.hpp"

#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"
#include "render/marks.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {
namespace {

using matter::Stuff;

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

template <std::size_t n>
Rgb one_of(const Rgb (&colours)[n], std::uint32_t tint) {
  return colours[tint % n];
}

/// Water as it is, cloudy, coloured by one of a few things, or both.
Rgb carrying(std::uint32_t tint, const Rgb& clear) {
  static const Rgb hues[] = {linear_from_srgb(150, 74, 30), linear_from_srgb(58, 104, 150),
                             linear_from_srgb(60, 138, 66), linear_from_srgb(158, 70, 106)};
  const Rgb cloud = linear_from_srgb(116, 104, 82), hue = hues[(tint >> 2U) & 3U];
  switch (tint & 3U) {
    case 0:
      return clear;
    case 1:
      return cloud;
    case 2:
      return hue;
    default:
      return blend(cloud, hue, 0.6F);
  }
}

}  // namespace

Rgb SolidLook::clean(const scene::Vec3& p) const {
  switch (stuff) {
    case Stuff::brick: {
      static const Rgb bodies[] = {linear_from_srgb(164, 84, 58), linear_from_srgb(140, 66, 48),
                                   linear_from_srgb(158, 98, 64), linear_from_srgb(122, 64, 52)};
      const Rgb body = one_of(bodies, tint);
      const float spots = rough(p, 0.0035, seed + 3U, 2);
      const Rgb fired = blend((1 + 0.35F * rough(p, 0.02, seed, 3)) * body, linear_from_srgb(60, 40, 36),
                              within(2.2F * spots - 0.9F));
      // Mortar that has stuck to it, as a smear here and there.
      const float smear = rough(p, 0.034, seed + 50U, 3);
      return blend(fired, (1 + 0.4F * rough(p, 0.003, seed + 51U, 2)) * linear_from_srgb(138, 130, 116),
                   0.85F * within(5 * (smear - 0.24F)));
    }
    case Stuff::mortar:
      return (1 + 0.35F * rough(p, 0.006, seed + 1U, 3)) *
             (tint == 0 ? linear_from_srgb(146, 138, 122) : linear_from_srgb(112, 106, 96));
    case Stuff::ware: {
      // As the wall about it looks with its film of use; the outside never saw the lamp.
      const bool smooth = is_plastic(section.material);
      const float film = section.material == scene::Material::clay ? 1.25F : 0.7F;
      return (1 + (smooth ? 0.05F : 0.2F) * rough(p, 0.02, seed, 3)) *
             (p.y > 0 ? 0.6F * broken_ware(section) : film * whole_ware(section));
    }
    case Stuff::broken:
      return 0.75F * (1 + 0.4F * rough(p, 0.005, seed + 2U, 3)) * broken_ware(section);
    case Stuff::glass: {
      static const Rgb tints[] = {linear_from_srgb(34, 58, 30), linear_from_srgb(70, 40, 18),
                                  linear_from_srgb(116, 128, 122), linear_from_srgb(26, 44, 34)};
      return one_of(tints, tint);
    }
    case Stuff::cloth: {
      static const Rgb tints[] = {linear_from_srgb(128, 114, 92), linear_from_srgb(92, 94, 96),
                                  linear_from_srgb(96, 74, 62), linear_from_srgb(134, 124, 96),
                                  linear_from_srgb(84, 92, 108)};
      return (1 + 0.25F * rough(p, 0.010, seed, 3)) * one_of(tints, tint);
    }
    case Stuff::paper:
      return blend(linear_from_srgb(168, 158, 134), linear_from_srgb(120, 98, 68),
                   within(0.5F + 1.2F * rough(p, 0.012, seed + 4U, 3)));
    case Stuff::plastic: {
      static const Rgb tints[] = {linear_from_srgb(196, 156, 30), linear_from_srgb(36, 36, 38),
                                  linear_from_srgb(194, 96, 34),  linear_from_srgb(138, 140, 140),
                                  linear_from_srgb(52, 74, 112),  linear_from_srgb(190, 186, 174)};
      return one_of(tints, tint);
    }
    case Stuff::wood: {
      static const Rgb tints[] = {linear_from_srgb(124, 94, 60), linear_from_srgb(100, 76, 52),
                                  linear_from_srgb(84, 68, 52), linear_from_srgb(132, 104, 70)};
      // Rings about a heart that lies outside it show at its ends as arcs, along it as lines; fibres run with
      // them.
      const double heart_x = p.x - 0.018, heart_y = p.y + 0.030;
      const auto away = static_cast<float>(std::sqrt(heart_x * heart_x + heart_y * heart_y));
      const float years = away / 0.0085F + 0.30F * rough({p.x, p.y, p.z / 10}, 0.030, seed + 6U, 2);
      const float in = years - std::floor(years), late = in * in;
      const float fibre = rough({p.x, p.y, p.z / 18}, 0.0012, seed + 5U, 2);
      return (1 + 0.30F * fibre) * blend(one_of(tints, tint), 0.22F * one_of(tints, tint), 0.95F * late);
    }
    case Stuff::steel: {
      if (tint == 1) return (1 + 0.3F * rough(p, 0.006, seed, 2)) * linear_from_srgb(112, 92, 48);
      const Rgb rust = blend(linear_from_srgb(70, 42, 28), linear_from_srgb(130, 72, 36),
                             within(0.5F + 1.1F * rough(p, 0.008, seed, 4)));
      return blend(rust, linear_from_srgb(92, 88, 84), within(1.4F * rough(p, 0.02, seed + 7U, 2) - 0.2F));
    }
    case Stuff::rubber: {
      static const Rgb tints[] = {linear_from_srgb(34, 34, 36), linear_from_srgb(42, 43, 42),
                                  linear_from_srgb(56, 52, 47), linear_from_srgb(172, 92, 40),
                                  linear_from_srgb(58, 82, 52)};
      return (1 + 0.12F * rough(p, 0.01, seed, 2)) * one_of(tints, tint);
    }
    case Stuff::stone: {
      static const Rgb tints[] = {linear_from_srgb(112, 98, 78),  linear_from_srgb(84, 80, 74),
                                  linear_from_srgb(128, 104, 72), linear_from_srgb(68, 62, 56),
                                  linear_from_srgb(116, 80, 56),  linear_from_srgb(142, 132, 112)};
      return blend(0.55F * one_of(tints, tint), one_of(tints, tint),
                   within(0.6F + 0.9F * rough(p, 0.006, seed, 3)));
    }
    case Stuff::sand:
      // Washed light above, dark where it is wet through.
      return blend(linear_from_srgb(156, 130, 90), linear_from_srgb(104, 84, 56),
                   within(0.5F + 1.0F * rough(p, 0.03, seed, 3)));
    case Stuff::peat:
      return (1 + 0.5F * rough({p.x, p.y, p.z / 4}, 0.003, seed, 3)) *
             blend(linear_from_srgb(36, 26, 18), linear_from_srgb(62, 44, 28),
                   within(0.4F + 1.0F * rough(p, 0.012, seed, 3)));
    case Stuff::earth:
      return soil_colour(p, seed);
    case Stuff::fur: {
      static const Rgb tints[] = {linear_from_srgb(78, 66, 52), linear_from_srgb(66, 60, 52),
                                  linear_from_srgb(84, 70, 54)};
      // Wet clumps: dark between them, grey-brown tips.
      return (1 + 0.55F * rough({p.x, p.y, p.z / 4}, 0.0030, seed, 2) +
              0.20F * rough({p.x, p.y, p.z / 3}, 0.012, seed + 2U, 2)) *
             one_of(tints, tint);
    }
    case Stuff::skin:
      return (1 + 0.18F * rough(p, 0.0020, seed, 2)) *
             (tint == 1 ? linear_from_srgb(52, 38, 34) : linear_from_srgb(104, 76, 66));
    case Stuff::shell: {
      static const Rgb tints[] = {linear_from_srgb(52, 28, 17), linear_from_srgb(36, 22, 16),
                                  linear_from_srgb(66, 36, 20)};
      // Paler towards the edges of the wings.
      return (0.8F + 14.0F * static_cast<float>(std::abs(p.x)) + 0.20F * rough(p, 0.003, seed, 2)) *
             one_of(tints, tint);
    }
    case Stuff::eye:
      return linear_from_srgb(20, 16, 14);
    case Stuff::hollow:
      return linear_from_srgb(10, 9, 8);
    case Stuff::wet:
      return {};
    case Stuff::stream:
      return carrying(tint, linear_from_srgb(70, 72, 70));
    case Stuff::foam:
      return carrying(tint, linear_from_srgb(122, 124, 120));
    case Stuff::concrete:
      break;
  }
  return (1 + 0.25F * rough(p, 0.008, seed, 3)) * linear_from_srgb(142, 138, 128);
}

float SolidLook::soiled() const {
  switch (stuff) {
    case Stuff::glass:
    case Stuff::plastic:
    case Stuff::rubber:
      return 0.30F;
    case Stuff::wet:
    case Stuff::stream:
    case Stuff::foam:
    case Stuff::eye:
    case Stuff::hollow:
    case Stuff::shell:
      return 0;
    case Stuff::sand:
    case Stuff::peat:
    case Stuff::earth:
    case Stuff::fur:
      return 0.15F;
    case Stuff::wood:
      return 0.28F;
    case Stuff::cloth:
    case Stuff::paper:
      return 0.42F;
    case Stuff::ware:
    case Stuff::broken:
      return 0.22F;
    default:
      return 0.45F;
  }
}

Grain SolidLook::grain() const {
  switch (stuff) {
    case Stuff::ware:
      return is_plastic(section.material) || section.material == scene::Material::clay ? Grain::plain
                                                                                       : Grain::crust;
    case Stuff::broken:
      return is_plastic(section.material) ? Grain::plain : Grain::stone;
    case Stuff::glass:
    case Stuff::plastic:
    case Stuff::rubber:
      return Grain::plain;
    case Stuff::cloth:
    case Stuff::paper:
    case Stuff::wood:
      return Grain::silt;
    case Stuff::wet:
    case Stuff::stream:
    case Stuff::foam:
    case Stuff::eye:
    case Stuff::shell:
    case Stuff::skin:
    case Stuff::hollow:
      return Grain::plain;
    case Stuff::sand:
      return Grain::sand;
    case Stuff::peat:
    case Stuff::earth:
      return Grain::soil;
    case Stuff::steel:
    case Stuff::fur:
      return Grain::crust;
    default:
      return Grain::stone;
  }
}

float SolidLook::gloss() const {
  switch (stuff) {
    case Stuff::glass:
      return 0.9F;
    case Stuff::plastic:
      return 0.28F;
    case Stuff::eye:
      return 3.0F;
    case Stuff::hollow:
      return 0;
    case Stuff::wet:
      return 0.6F;
    case Stuff::stream:
      return 0.9F;
    case Stuff::foam:
      return 0.3F;
    case Stuff::shell:
      return 0.16F;
    case Stuff::fur:
      return 0.10F;
    case Stuff::skin:
      return 0.12F;
    case Stuff::rubber:
      return 0.05F;
    case Stuff::cloth:
    case Stuff::wood:
      return 0.05F;
    case Stuff::steel:
    case Stuff::stone:
    case Stuff::ware:
      return 0.08F;
    default:
      return 0.06F;
  }
}

float SolidLook::cover() const {
  switch (stuff) {
    case Stuff::wet:
      return 0.14F;
    case Stuff::stream:
      return (tint & 3U) == 0 ? 0.16F : (tint & 3U) == 2 ? 0.55F : 0.85F;
    case Stuff::foam:
      return (tint & 3U) == 0 ? 0.26F : 0.60F;
    default:
      return 1;
  }
}

float SolidLook::rim() const { return stuff == Stuff::stream ? 0.75F : stuff == Stuff::foam ? 0.55F : 0.0F; }

}  // namespace haunch::render
