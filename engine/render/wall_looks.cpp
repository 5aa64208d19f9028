// SPDX-License-Identifier: Apache-2.0
// Colours and sizes are ours, by eye and from memory, after the looks that people in the trade name.
#include "render/wall_looks.hpp"

#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "scene/brickwork.hpp"
#include "scene/materials.hpp"

namespace haunch::render {
namespace {

using scene::Material;

Rgb pvc_colour(const std::string& name) {
  if (name == "grey") return linear_from_srgb(136, 140, 142);
  if (name == "green") return linear_from_srgb(84, 142, 96);
  if (name == "white") return linear_from_srgb(232, 232, 226);
  return linear_from_srgb(158, 82, 58);
}

/// What the resin and its felt come out as: pale, beige, greenish.
Rgb liner_colour(std::uint64_t seed) {
  static const Rgb colours[] = {linear_from_srgb(206, 198, 174), linear_from_srgb(196, 172, 128),
                                linear_from_srgb(168, 178, 142), linear_from_srgb(184, 186, 164)};
  return colours[base::mix(seed + 3U) % 4];
}

}  // namespace

WallLook look_of(const scene::Section& section, std::uint64_t seed) {
  WallLook look;
  const bool fresh = section.look == scene::Look::fresh, aged = section.look == scene::Look::aged;
  switch (section.material) {
    case Material::clay:
      look.smear_m = aged ? 0.019F : fresh ? 0.0018F : 0.011F;
      look.smear = fresh  ? linear_from_srgb(54, 40, 34)
                   : aged ? linear_from_srgb(146, 140, 126)
                          : linear_from_srgb(128, 122, 110);
      look.groove = fresh  ? linear_from_srgb(24, 22, 22)
                    : aged ? linear_from_srgb(118, 112, 100)
                           : linear_from_srgb(96, 90, 80);
      look.face = linear_from_srgb(184, 118, 82);
      look.varies = fresh ? 0.06F : 0.22F;
      if (fresh) look.grain = 0.35F;
      break;
    case Material::pvc:
      look.tint = (1 / 0.80F) * pvc_colour(section.colour);
      look.smear_m = 0.0022F;
      look.smear = linear_from_srgb(40, 32, 26);
      look.groove = linear_from_srgb(22, 22, 23);
      look.face = 1.15F * pvc_colour(section.colour);
      look.print = 1;
      look.soak = 0.05F;
      look.sludge = 0.35F;
      look.grain = 0.06F;
      look.varies = 0.04F;
      // White pipe is glued: what the joint has squeezed out has dried on it, yellowish and shiny.
      if (section.colour == "white") {
        look.smear_m = 0.0085F;
        look.smear = linear_from_srgb(158, 140, 92);
        look.smear_gloss = 0.8F;
      }
      break;
    case Material::cast_iron:
      look.smear_m = fresh ? 0.004F : 0.012F;
      look.smear = fresh  ? linear_from_srgb(34, 32, 31)
                   : aged ? linear_from_srgb(124, 84, 56)
                          : linear_from_srgb(112, 98, 82);
      look.groove = linear_from_srgb(30, 24, 20);
      look.face = fresh ? linear_from_srgb(92, 84, 78) : linear_from_srgb(150, 92, 52);
      look.bumps = fresh ? 1.0F : aged ? 1.15F : 1.1F;
      look.soak = 0.3F;
      look.grain = fresh ? 0.25F : 1;
      look.varies = fresh ? 0.06F : 0.18F;
      break;
    case Material::concrete:
      look.smear_m = fresh ? 0.002F : 0.009F;
      look.smear = linear_from_srgb(88, 84, 76);
      look.groove = linear_from_srgb(40, 38, 36);
      look.face = linear_from_srgb(178, 170, 154);
      look.soak = 0.4F;
      look.grain = fresh ? 0.45F : 1;
      look.varies = fresh ? 0.07F : 0.16F;
      if (fresh) look.tint = {1.10F, 1.12F, 1.16F};
      if (aged) look.tint = {0.92F, 0.90F, 0.86F};
      break;
    case Material::brick:
      look.smear_m = 0.008F;
      look.smear = linear_from_srgb(136, 128, 112);
      look.groove = linear_from_srgb(92, 86, 74);
      look.face = linear_from_srgb(150, 82, 60);
      look.soak = 0.45F;
      look.grain = 0.8F;
      look.varies = 0.05F;
      break;
    case Material::polyethylene:
      look.face = linear_from_srgb(44, 44, 46);
      look.groove = linear_from_srgb(20, 20, 21);
      look.soak = 0.03F;
      look.sludge = 0.30F;
      look.grain = 0.05F;
      look.varies = 0.05F;
      break;
    case Material::pitch_fibre:
      look.smear_m = 0.0022F;
      look.smear = linear_from_srgb(30, 25, 22);
      look.groove = linear_from_srgb(16, 14, 13);
      look.face = linear_from_srgb(72, 56, 44);
      look.soak = 0.25F;
      look.sludge = 0.55F;
      look.grain = 0.7F;
      look.varies = 0.10F;
      break;
    case Material::fibre_cement:
      look.smear_m = 0.003F;
      look.smear = linear_from_srgb(110, 106, 98);
      look.groove = linear_from_srgb(46, 44, 42);
      look.face = linear_from_srgb(196, 194, 186);
      look.soak = 0.35F;
      look.sludge = 0.5F;
      look.grain = 0.20F;
      look.varies = 0.06F;
      break;
    case Material::liner:
      look.tint = (1 / 0.84F) * liner_colour(seed);
      look.smear_m = 0.004F;
      look.smear = linear_from_srgb(120, 108, 84);
      look.groove = linear_from_srgb(60, 54, 46);
      look.face = liner_colour(seed);
      look.soak = 0.06F;
      look.sludge = 0.35F;
      look.grain = 0.05F;
      look.varies = 0.03F;
      break;
  }
  return look;
}

void make_particular(Stretch& s, const scene::Scene& scene, const scene::Piece& piece) {
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  constexpr double tau = 2 * std::numbers::pi;
  base::Random random(base::mix(scene.scenario.seed * 53 + static_cast<std::uint64_t>(piece.section) + 5U));
  if (section.material == Material::brick) {
    s.particular = brick_wall;
    s.particular_a = static_cast<float>(scene::brick_courses(section.bore_mm) / tau);
  } else if (section.material == Material::liner) {
    s.particular = lined_wall;
    s.particular_a = static_cast<float>(1 / section.unit_length_m);
    s.particular_b = static_cast<float>(section.from_m + section.first_joint_m);
    s.particular_c = static_cast<float>(scene::liner_seam_angle(scene.scenario, piece.section));
  } else if (section.material == Material::cast_iron && section.look == scene::Look::aged) {
    s.particular = worn_channel;
    s.particular_a = static_cast<float>(random.uniform(0.50, 0.72));
  }
}

}  // namespace haunch::render
