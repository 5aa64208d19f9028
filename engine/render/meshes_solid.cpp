// SPDX-License-Identifier: Apache-2.0
// How things in the bore look: what they are made of, and what a drain has done to it. Colours are ours, by
// eye.
#include <algorithm>
#include <cmath>

#include "matter/noise.hpp"
#include "matter/solid.hpp"
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

/// The look of one stuff at a place of the thing.
struct Look {
  const scene::Section& section;
  Stuff stuff;
  std::uint32_t tint;
  std::uint32_t seed;

  template <std::size_t n>
  Rgb one_of(const Rgb (&colours)[n]) const {
    return colours[tint % n];
  }

  Rgb clean(const scene::Vec3& p) const {
    switch (stuff) {
      case Stuff::brick: {
        static const Rgb bodies[] = {linear_from_srgb(158, 84, 60), linear_from_srgb(136, 66, 50),
                                     linear_from_srgb(170, 118, 76), linear_from_srgb(112, 62, 58)};
        const Rgb body = one_of(bodies);
        const float spots = rough(p, 0.0035, seed + 3U, 2);
        return blend((1 + 0.35F * rough(p, 0.02, seed, 3)) * body, linear_from_srgb(60, 40, 36),
                     within(2.2F * spots - 0.9F));
      }
      case Stuff::mortar:
        return (1 + 0.35F * rough(p, 0.006, seed + 1U, 3)) *
               (tint == 0 ? linear_from_srgb(146, 138, 122) : linear_from_srgb(112, 106, 96));
      case Stuff::ware: {
        // As the wall about it looks with its film of use; the outside never saw the lamp.
        const bool smooth = section.material == scene::Material::pvc;
        const float film = section.material == scene::Material::clay ? 1.25F : 0.7F;
        return (1 + (smooth ? 0.05F : 0.2F) * rough(p, 0.02, seed, 3)) *
               (p.y > 0 ? 0.6F * broken_ware(section) : film * whole_ware(section));
      }
      case Stuff::broken:
        return 0.75F * (1 + 0.4F * rough(p, 0.005, seed + 2U, 3)) * broken_ware(section);
      case Stuff::glass: {
        static const Rgb tints[] = {linear_from_srgb(34, 58, 30), linear_from_srgb(70, 40, 18),
                                    linear_from_srgb(116, 128, 122), linear_from_srgb(26, 44, 34)};
        return one_of(tints);
      }
      case Stuff::cloth: {
        static const Rgb tints[] = {linear_from_srgb(128, 114, 92), linear_from_srgb(92, 94, 96),
                                    linear_from_srgb(96, 74, 62), linear_from_srgb(134, 124, 96),
                                    linear_from_srgb(84, 92, 108)};
        return (1 + 0.25F * rough(p, 0.010, seed, 3)) * one_of(tints);
      }
      case Stuff::paper:
        return blend(linear_from_srgb(168, 158, 134), linear_from_srgb(120, 98, 68),
                     within(0.5F + 1.2F * rough(p, 0.012, seed + 4U, 3)));
      case Stuff::plastic: {
        static const Rgb tints[] = {linear_from_srgb(196, 156, 30), linear_from_srgb(36, 36, 38),
                                    linear_from_srgb(194, 96, 34),  linear_from_srgb(138, 140, 140),
                                    linear_from_srgb(52, 74, 112),  linear_from_srgb(190, 186, 174)};
        return one_of(tints);
      }
      case Stuff::wood: {
        static const Rgb tints[] = {linear_from_srgb(134, 100, 62), linear_from_srgb(104, 78, 52),
                                    linear_from_srgb(84, 68, 52), linear_from_srgb(150, 118, 76)};
        // Fibres run along it; rings show as bands.
        const scene::Vec3 drawn{p.x, p.y, p.z / 14};
        const float fibre = rough(drawn, 0.0016, seed + 5U, 2), band = rough(drawn, 0.008, seed + 6U, 2);
        return (1 + 0.35F * fibre) *
               blend(one_of(tints), linear_from_srgb(66, 46, 30), within(0.35F + 1.1F * band));
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
        return (1 + 0.12F * rough(p, 0.01, seed, 2)) * one_of(tints);
      }
      case Stuff::stone: {
        static const Rgb tints[] = {linear_from_srgb(112, 98, 78),  linear_from_srgb(84, 80, 74),
                                    linear_from_srgb(128, 104, 72), linear_from_srgb(68, 62, 56),
                                    linear_from_srgb(116, 80, 56),  linear_from_srgb(142, 132, 112)};
        return blend(0.55F * one_of(tints), one_of(tints), within(0.6F + 0.9F * rough(p, 0.006, seed, 3)));
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
               one_of(tints);
      }
      case Stuff::skin:
        return (1 + 0.18F * rough(p, 0.0020, seed, 2)) *
               (tint == 1 ? linear_from_srgb(52, 38, 34) : linear_from_srgb(104, 76, 66));
      case Stuff::shell: {
        static const Rgb tints[] = {linear_from_srgb(52, 28, 17), linear_from_srgb(36, 22, 16),
                                    linear_from_srgb(66, 36, 20)};
        // Paler towards the edges of the wings.
        return (0.8F + 14.0F * static_cast<float>(std::abs(p.x)) + 0.20F * rough(p, 0.003, seed, 2)) *
               one_of(tints);
      }
      case Stuff::eye:
        return linear_from_srgb(20, 16, 14);
      case Stuff::wet:
        return {};
      case Stuff::stream:
        return linear_from_srgb(70, 72, 70);
      case Stuff::foam:
        return linear_from_srgb(122, 124, 120);
      case Stuff::concrete:
        break;
    }
    return (1 + 0.25F * rough(p, 0.008, seed, 3)) * linear_from_srgb(142, 138, 128);
  }

  /// How dirty it gets: what is smooth is rinsed, what is rough holds dirt.
  float soiled() const {
    switch (stuff) {
      case Stuff::glass:
      case Stuff::plastic:
      case Stuff::rubber:
        return 0.30F;
      case Stuff::wet:
      case Stuff::stream:
      case Stuff::foam:
      case Stuff::eye:
      case Stuff::shell:
        return 0;
      case Stuff::sand:
      case Stuff::peat:
      case Stuff::earth:
      case Stuff::fur:
        return 0.15F;
      case Stuff::cloth:
      case Stuff::paper:
        return 0.65F;
      case Stuff::ware:
      case Stuff::broken:
        return 0.22F;
      default:
        return 0.45F;
    }
  }
  Grain grain() const {
    switch (stuff) {
      case Stuff::ware:
        return section.material == scene::Material::pvc || section.material == scene::Material::clay
                   ? Grain::plain
                   : Grain::crust;
      case Stuff::broken:
        return section.material == scene::Material::pvc ? Grain::plain : Grain::stone;
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
  float gloss() const {
    switch (stuff) {
      case Stuff::glass:
        return 0.9F;
      case Stuff::plastic:
        return 0.28F;
      case Stuff::eye:
        return 3.0F;
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
  /// How much of what lies behind it hides.
  float cover() const {
    switch (stuff) {
      case Stuff::wet:
        return 0.14F;
      case Stuff::stream:
        return 0.16F;
      case Stuff::foam:
        return 0.26F;
      default:
        return 1;
    }
  }
  /// How much more where it is seen from the side.
  float rim() const { return stuff == Stuff::stream ? 0.75F : stuff == Stuff::foam ? 0.55F : 0.0F; }
};

}  // namespace

std::vector<Mesh> solid_meshes(const scene::Scene& scene, int fault_number, double time_s) {
  std::vector<Mesh> meshes;
  const matter::Solid solid = matter::solid_of(scene, fault_number, time_s);
  if (solid.parts.empty()) return meshes;
  const auto seed = static_cast<std::uint32_t>(scene::fault_seed(scene.scenario, fault_number));
  const WallFrame frame = wall_frame(scene, solid.parts.front().points.front().at.z, 12);
  static const Rgb dirt = linear_from_srgb(64, 50, 34), slime = linear_from_srgb(44, 38, 24);
  auto stuff = matter::Stuff::stone;
  std::uint32_t tint = 0;
  for (const matter::SolidPart& part : solid.parts) {
    const Look look{frame.section, part.stuff, part.tint, seed};
    // What looks alike is one mesh.
    if (meshes.empty() || stuff != part.stuff || tint != part.tint) {
      meshes.emplace_back();
      stuff = part.stuff, tint = part.tint;
    }
    Mesh& mesh = meshes.back();
    mesh.fault = static_cast<std::uint16_t>(fault_number);
    mesh.grain = look.grain();
    mesh.gloss = look.gloss();
    mesh.cover = look.cover();
    mesh.rim = look.rim();
    mesh.film = part.stuff == Stuff::wet;
    const float holds = look.soiled();
    add_patch(mesh, part.rows, part.columns, part.closed, [&](int row, int column) {
      const matter::SolidPoint& p =
          part.points[static_cast<std::size_t>(row) * static_cast<std::size_t>(part.columns) +
                      static_cast<std::size_t>(column)];
      const scene::Vec2 axis = scene::centre_at(frame.piece, p.at.z);
      const double away = std::hypot(p.at.x - axis.x, p.at.y - axis.y);
      // Low down the flow leaves its dirt; near the wall little of the lamp's light comes back out.
      const auto low = static_cast<float>((axis.y - p.at.y) / frame.radius);
      Rgb soiled = look.clean(p.own);
      if (holds > 0) {
        const float dirty = within(holds * (0.70F + 0.7F * low + 1.6F * rough(p.own, 0.022, seed + 40U, 4)));
        soiled = blend(soiled, blend(dirt, slime, within(0.5F + rough(p.own, 0.03, seed + 41U, 2))), dirty);
      }
      const auto corner = static_cast<float>((frame.radius - away) / (0.10 * frame.radius));
      return PatchPoint{p.at, (0.45F + 0.55F * within(corner)) * soiled};
    });
  }
  return meshes;
}

}  // namespace haunch::render
