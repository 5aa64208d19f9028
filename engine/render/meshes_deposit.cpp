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

/// How much light reaches each point of a sheet: less in creases and at the foot of what stands up,
/// more on top. From the thickness there against that round about it, over `reach` rows and columns.
std::vector<float> shade_of(const scene::Sheet& sheet, int reach, float relief_m, bool closed) {
  const int rows = sheet.rows, columns = sheet.columns;
  const auto index = [&](int r, int c) {
    return static_cast<std::size_t>(r) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(c);
  };
  // Means along rows, then along columns, by running sums.
  std::vector<float> across(sheet.thick_m.size()), mean(sheet.thick_m.size());
  const float share = 1.0F / static_cast<float>(2 * reach + 1);
  for (int r = 0; r < rows; ++r) {
    const auto at = [&](int c) {
      const int turn = columns - 1;  // a ring's last column is its first
      return sheet.thick_m[index(r, closed ? (c + 4 * turn) % turn : std::clamp(c, 0, columns - 1))];
    };
    float sum = 0;
    for (int c = -reach; c <= reach; ++c) sum += at(c);
    for (int c = 0; c < columns; ++c) {
      across[index(r, c)] = sum * share;
      sum += at(c + reach + 1) - at(c - reach);
    }
  }
  for (int c = 0; c < columns; ++c) {
    const auto at = [&](int r) { return across[index(std::clamp(r, 0, rows - 1), c)]; };
    float sum = 0;
    for (int r = -reach; r <= reach; ++r) sum += at(r);
    for (int r = 0; r < rows; ++r) {
      mean[index(r, c)] = sum * share;
      sum += at(r + reach + 1) - at(r - reach);
    }
  }
  for (std::size_t i = 0; i < mean.size(); ++i)
    mean[i] = std::clamp(0.92F + (sheet.thick_m[i] - mean[i]) / relief_m, 0.16F, 1.3F);
  return mean;
}

void add_sheet(Mesh& mesh, const scene::Sheet& sheet,
               const std::function<Rgb(const scene::Vec3&, float, int, int)>& colour) {
  const std::size_t first = mesh.quads.size();
  add_patch(mesh, sheet.rows, sheet.columns, false, [&](int row, int column) {
    const scene::Vec3& p = sheet.at(row, column);
    const float thick =
        sheet.thick_m[static_cast<std::size_t>(row) * static_cast<std::size_t>(sheet.columns) +
                      static_cast<std::size_t>(column)];
    return PatchPoint{p, colour(p, thick, row, column)};
  });
  // Holes, branches and gaping joints stay open.
  std::size_t kept = first, quad = first;
  for (int row = 0; row + 1 < sheet.rows; ++row)
    for (int column = 0; column + 1 < sheet.columns; ++column, quad += 4) {
      if (sheet.open_cell(row, column)) continue;
      for (std::size_t corner = 0; corner < 4; ++corner)
        mesh.quads[kept + corner] = mesh.quads[quad + corner];
      kept += 4;
    }
  mesh.quads.resize(kept);
}

}  // namespace

std::vector<Mesh> settled_meshes(const scene::Scene& scene, const scene::Settled& settled,
                                 std::uint64_t seed64) {
  const scene::SettledBed bed = scene::settled_bed(scene, settled, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  // Hollows lie in shade and hold what is dark: against the mean of each row.
  std::vector<float> level(static_cast<std::size_t>(bed.top.rows));
  for (int r = 0; r < bed.top.rows; ++r) {
    double sum = 0;
    for (int c = 0; c < bed.top.columns; ++c) sum += bed.top.at(r, c).y;
    level[static_cast<std::size_t>(r)] = static_cast<float>(sum / bed.top.columns);
  }
  const auto risen = [&](const scene::Vec3& p, int row) {
    return (static_cast<float>(p.y) - level[static_cast<std::size_t>(row)]) / 0.004F;
  };
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
      const Rgb lime = linear_from_srgb(164, 150, 122), grey = linear_from_srgb(104, 90, 70),
                rust = linear_from_srgb(132, 88, 50), dark = linear_from_srgb(58, 46, 34);
      add_sheet(top, bed.top, [&](const scene::Vec3& p, float, int row, int) {
        const float up = risen(p, row);
        const Rgb crust =
            blend(blend(grey, lime, within(0.40F + 0.35F * up + 0.9F * rough(p, 0.030, seed, 4))), rust,
                  within(1.3F * rough(p, 0.05, seed + 2U, 3) - 0.10F));
        return blend(crust, dark, within(-0.55F * up - 0.15F + 0.5F * rough(p, 0.012, seed + 3U, 3)));
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
    // Wet and browned by what flows over them.
    static const Rgb tints[] = {linear_from_srgb(106, 94, 76),  linear_from_srgb(84, 74, 60),
                                linear_from_srgb(124, 100, 70), linear_from_srgb(70, 60, 50),
                                linear_from_srgb(108, 74, 50),  linear_from_srgb(134, 122, 100)};
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
  const auto& piece =
      scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, (attached.from_m + attached.to_m) / 2))];
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  const Rgb ware = whole_ware(section);
  float thickest = 0;
  for (const float t : sheet.thick_m) thickest = std::max(thickest, t);
  const bool scale = attached.kind == scene::AttachedKind::scale;
  const std::vector<float> light = shade_of(
      sheet, scale ? 3 : 4, std::max(0.0008F, (scale ? 0.30F : 0.22F) * thickest), attached.arc.whole);
  const auto light_at = [&](int row, int column) {
    return light[static_cast<std::size_t>(row) * static_cast<std::size_t>(sheet.columns) +
                 static_cast<std::size_t>(column)];
  };
  Mesh face;
  switch (attached.kind) {
    case scene::AttachedKind::grease: {
      face.grain = Grain::fat;
      face.gloss = 0.26F;
      const Rgb cream = linear_from_srgb(232, 220, 186), yellow = linear_from_srgb(212, 188, 132),
                tan = linear_from_srgb(140, 112, 74);
      const Rgb film = blend(0.55F * ware, linear_from_srgb(120, 104, 72), 0.45F);
      add_sheet(face, sheet, [&](const scene::Vec3& p, float thick, int row, int column) {
        const scene::Vec3 drawn{p.x, p.y, p.z / 2.5};
        const Rgb fat = blend(blend(yellow, cream, within(0.62F + 1.1F * rough(drawn, 0.030, seed, 3))), tan,
                              within(1.5F * rough(drawn, 0.045, seed + 5U, 4) - 0.22F));
        const float held = within((thick - 0.0005F + 0.0008F * rough(p, 0.008, seed + 6U, 3)) / 0.0030F);
        // Creases are brown with what has stuck in them, not just dark.
        const float in = light_at(row, column);
        const Rgb creased = blend(linear_from_srgb(96, 74, 46), fat, within((in - 0.2F) / 0.55F));
        return within(0.35F + 0.65F * in) * blend(film, creased, held);
      });
      break;
    }
    case scene::AttachedKind::scale: {
      face.grain = Grain::crust;
      face.gloss = 0.05F;
      const bool iron = section.material == scene::Material::cast_iron;
      const Rgb low = iron ? linear_from_srgb(60, 35, 22) : linear_from_srgb(118, 102, 80);
      const Rgb high = iron ? linear_from_srgb(176, 92, 40) : linear_from_srgb(204, 194, 174);
      const Rgb spot = iron ? linear_from_srgb(206, 146, 78) : linear_from_srgb(164, 126, 80);
      const Rgb stain = blend(0.7F * ware, low, 0.5F);
      add_sheet(face, sheet, [&](const scene::Vec3& p, float thick, int row, int column) {
        const float in = light_at(row, column);
        // Caps are bright, feet dark.
        const float up =
            within(0.75F * (in - 0.5F) + 0.30F * rough(p, 0.012, seed, 3) + 0.10F + 0.45F * thick / thickest);
        const Rgb rust =
            blend(blend(low, high, up), spot, within(1.3F * rough(p, 0.030, seed + 3U, 3) - 0.25F));
        return (0.25F + 0.75F * in) * blend(stain, rust, within((thick - 0.0004F) / 0.0018F));
      });
      break;
    }
    case scene::AttachedKind::fouling: {
      face.grain = Grain::slime;
      face.gloss = 0.50F;
      const Rgb dark = linear_from_srgb(46, 37, 24), brown = linear_from_srgb(98, 78, 46),
                olive = linear_from_srgb(74, 66, 38);
      const Rgb stained = 0.5F * ware;
      add_sheet(face, sheet, [&](const scene::Vec3& p, float thick, int row, int column) {
        const scene::Vec3 drawn{p.x, p.y, p.z / 1.6};
        const Rgb slime = blend(blend(dark, brown, within(0.45F + 1.1F * rough(drawn, 0.016, seed, 4))),
                                olive, within(0.9F * rough(drawn, 0.05, seed + 2U, 3)));
        // It begins as a stain on the ware.
        return (0.25F + 0.80F * light_at(row, column)) *
               blend(stained, slime,
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
