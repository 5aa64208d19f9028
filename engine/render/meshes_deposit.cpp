// SPDX-License-Identifier: Apache-2.0
// Beds on the invert and matter on the wall, as meshes.
#include <algorithm>
#include <cmath>

#include "render/marks.hpp"
#include "render/meshes_build.hpp"
#include "scene/matter_noise.hpp"

namespace haunch::render {
namespace {

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return scene::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                              static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

void add_sheet(Mesh& mesh, const scene::Sheet& sheet,
               const std::function<Rgb(const scene::Vec3&, float, int, int)>& colour) {
  add_patch(mesh, sheet.rows, sheet.columns, false, [&](int row, int column) {
    const scene::Vec3& p = sheet.at(row, column);
    const float thick =
        sheet.thick_m[static_cast<std::size_t>(row) * static_cast<std::size_t>(sheet.columns) +
                      static_cast<std::size_t>(column)];
    return PatchPoint{p, colour(p, thick, row, column)};
  });
}

}  // namespace

std::vector<Mesh> settled_meshes(const scene::Scene& scene, const scene::Settled& settled,
                                 std::uint64_t seed64) {
  const scene::SettledBed bed = scene::settled_bed(scene, settled, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  Mesh top;
  switch (settled.kind) {
    case scene::SettledKind::fine: {
      top.grain = Grain::silt;
      // Wet and fine: a smooth brown skin that shines in patches.
      top.gloss = 0.55F;
      const Rgb dark = linear_from_srgb(60, 42, 26), mud = linear_from_srgb(106, 76, 46),
                pale = linear_from_srgb(130, 100, 66);
      add_sheet(top, bed.top, [&](const scene::Vec3& p, float, int, int) {
        return blend(blend(dark, mud, within(0.55F + 0.9F * rough(p, 0.05, seed, 4))), pale,
                     within(0.8F * rough(p, 0.018, seed + 4U, 3)));
      });
      break;
    }
    case scene::SettledKind::coarse: {
      top.grain = Grain::soil;
      top.gloss = 0.10F;
      const Rgb dark = linear_from_srgb(70, 56, 40), sand = linear_from_srgb(122, 102, 74);
      add_sheet(top, bed.top, [&](const scene::Vec3& p, float, int, int) {
        return blend(dark, sand, within(0.5F + 1.0F * rough(p, 0.012, seed, 4)));
      });
      break;
    }
    case scene::SettledKind::hard: {
      top.grain = Grain::crust;
      top.gloss = 0.06F;
      const Rgb lime = linear_from_srgb(188, 174, 144), grey = linear_from_srgb(134, 120, 98),
                rust = linear_from_srgb(150, 104, 62);
      add_sheet(top, bed.top, [&](const scene::Vec3& p, float, int, int) {
        return blend(blend(grey, lime, within(0.70F + 0.9F * rough(p, 0.030, seed, 4))), rust,
                     within(1.1F * rough(p, 0.06, seed + 2U, 3) - 0.30F));
      });
      break;
    }
  }
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(top));
  if (!bed.stones.empty()) {
    Mesh stones;
    stones.grain = Grain::stone;
    stones.gloss = 0.16F;
    static const Rgb tints[] = {linear_from_srgb(128, 118, 102), linear_from_srgb(100, 92, 80),
                                linear_from_srgb(148, 124, 90),  linear_from_srgb(88, 76, 66),
                                linear_from_srgb(126, 88, 62),   linear_from_srgb(158, 148, 130)};
    for (const scene::Stone& s : bed.stones)
      add_stone(stones, s.centre, s.half, s.turn, s.seed, s.seed % 3 == 0, tints[s.seed % 6],
                s.half.x > 0.006 ? 12 : 7);
    meshes.push_back(std::move(stones));
  }
  return meshes;
}

std::vector<Mesh> attached_meshes(const scene::Scene& scene, const scene::Attached& attached,
                                  std::uint64_t seed64) {
  const scene::Sheet sheet = scene::attached_sheet(scene, attached, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  Mesh face;
  switch (attached.kind) {
    case scene::AttachedKind::grease: {
      face.grain = Grain::fat;
      face.gloss = 0.22F;
      const Rgb cream = linear_from_srgb(226, 214, 178), yellow = linear_from_srgb(206, 184, 130),
                tan = linear_from_srgb(150, 126, 88), film = linear_from_srgb(112, 92, 64);
      add_sheet(face, sheet, [&](const scene::Vec3& p, float thick, int, int) {
        const Rgb fat = blend(blend(yellow, cream, within(0.6F + 1.1F * rough(p, 0.030, seed, 3))), tan,
                              within(1.2F * rough(p, 0.055, seed + 5U, 4) - 0.15F));
        return blend(film, fat, within((thick - 0.0006F) / 0.0035F));
      });
      break;
    }
    case scene::AttachedKind::scale: {
      face.grain = Grain::crust;
      face.gloss = 0.05F;
      const auto& piece = scene.pieces[static_cast<std::size_t>(
          scene::piece_at(scene, (attached.from_m + attached.to_m) / 2))];
      const bool iron = scene.scenario.sections[static_cast<std::size_t>(piece.section)].material ==
                        scene::Material::cast_iron;
      const Rgb low = iron ? linear_from_srgb(70, 44, 32) : linear_from_srgb(128, 110, 86);
      const Rgb high = iron ? linear_from_srgb(172, 104, 56) : linear_from_srgb(208, 198, 178);
      const Rgb spot = iron ? linear_from_srgb(206, 160, 100) : linear_from_srgb(168, 132, 88);
      add_sheet(face, sheet, [&](const scene::Vec3& p, float thick, int, int) {
        const float up = within(0.25F + thick / 0.008F + 0.6F * rough(p, 0.012, seed, 4));
        return blend(blend(low, high, up), spot, within(1.3F * rough(p, 0.035, seed + 3U, 3) - 0.2F));
      });
      break;
    }
    case scene::AttachedKind::fouling: {
      face.grain = Grain::slime;
      face.gloss = 0.45F;
      const Rgb dark = linear_from_srgb(40, 33, 22), brown = linear_from_srgb(84, 66, 38),
                olive = linear_from_srgb(74, 76, 44);
      const auto& piece = scene.pieces[static_cast<std::size_t>(
          scene::piece_at(scene, (attached.from_m + attached.to_m) / 2))];
      const Rgb stained = 0.6F * whole_ware(scene.scenario.sections[static_cast<std::size_t>(piece.section)]);
      add_sheet(face, sheet, [&](const scene::Vec3& p, float thick, int, int) {
        const Rgb slime = blend(blend(dark, brown, within(0.5F + 1.0F * rough(p, 0.020, seed, 4))), olive,
                                within(0.9F * rough(p, 0.05, seed + 2U, 3)));
        // It begins as a stain on the ware.
        return blend(stained, slime,
                     within((thick - 0.0001F) / 0.0010F + 0.45F * rough(p, 0.010, seed + 9U, 3)));
      });
      break;
    }
  }
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(face));
  return meshes;
}

}  // namespace haunch::render
