// SPDX-License-Identifier: Apache-2.0
// Beds on the invert and matter on the wall, as meshes.
#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "render/marks.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {
namespace {

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

/// How much light reaches each point of a sheet: less in creases and at the foot of what stands up,
/// more on top. From the thickness there against that round about it, over `reach` rows and columns.
std::vector<float> shade_of(const matter::Sheet& sheet, int reach, float relief_m, bool closed) {
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

/// `ring`: its last column is its first again, so light must not break between them.
void add_sheet(Mesh& mesh, const matter::Sheet& sheet, bool ring,
               const std::function<Rgb(const scene::Vec3&, float, int, int)>& colour) {
  const std::size_t first = mesh.quads.size(), first_point = mesh.normals.size();
  add_patch(mesh, sheet.rows, sheet.columns, false, [&](int row, int column) {
    const scene::Vec3& p = sheet.at(row, column);
    const float thick =
        sheet.thick_m[static_cast<std::size_t>(row) * static_cast<std::size_t>(sheet.columns) +
                      static_cast<std::size_t>(column)];
    return PatchPoint{p, colour(p, thick, row, column)};
  });
  if (ring)
    for (int row = 0; row < sheet.rows; ++row) {
      Mesh::Point& a = mesh.normals[first_point + sheet.index(row, 0)];
      Mesh::Point& b = mesh.normals[first_point + sheet.index(row, sheet.columns - 1)];
      a = b = {(a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2};
    }
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

/// What a bed leaves on the wall above its sides: a film that thins out raggedly, dark and wet below,
/// in the bed's own colour. It hugs the wall, far thinner than anything that could be measured.
Mesh tide_film(const scene::Scene& scene, const scene::Settled& settled, const matter::Sheet& top,
               float height_m, const Rgb& wet, const Rgb& dry, std::uint32_t seed) {
  Mesh film;
  film.grain = Grain::silt;
  film.gloss = settled.kind == scene::SettledKind::fine ? 0.5F : 0.04F;
  constexpr int columns = 9;
  for (const double side : {-1.0, 1.0})
    add_patch(film, top.rows, columns, false, [&](int row, int column) {
      const double z = top.at(row, 0).z;
      const scene::Vec2 centre = scene::centre_at(scene, z);
      const scene::Bore bore = scene::bore_at(scene, z);
      const double high_half = bore.half_height_m;
      const double deep = matter::settled_depth_share(settled, z) * 2 * high_half;
      const bool is_round = bore.round();
      // From the invert.
      const double level = is_round ? std::acos(std::clamp(1 - deep / high_half, -1.0, 1.0))
                                    : std::atan2(scene::width_m(bore, deep) / 2, high_half - deep);
      const auto wall_at = [&](double a) {
        return is_round ? high_half : scene::radius_toward(bore, {std::sin(a), -std::cos(a)});
      };
      const double radius = wall_at(level);
      const scene::Vec3 foot{side * 3.0, 0, z / 2.0};
      const double high = static_cast<double>(height_m) * std::min(1.0, deep / 0.008) *
                          std::max(0.05, 0.55 + 0.9 * static_cast<double>(rough(foot, 0.030, seed + 80U, 3)));
      const double t = static_cast<double>(column) / (columns - 1);
      const double angle = side * (level + (high * t - 0.004 * (1 - t)) / radius);
      // Out of sight behind the wall's face at its upper end.
      const double r = wall_at(angle) - 0.0003 + (column == columns - 1 || deep < 0.0006 ? 0.0007 : 0.0);
      const scene::Vec3 p{centre.x + r * std::sin(angle), centre.y - r * std::cos(angle), z};
      const float up = within(static_cast<float>(1.6 * t) - 0.3F + 0.5F * rough(p, 0.006, seed + 81U, 2));
      return PatchPoint{p, blend(wet, dry, up)};
    });
  return film;
}

/// Fat that has run down from the crown and set: it hangs in drops and strings.
void hang_drips(Mesh& face, const scene::Scene& scene, const matter::Sheet& sheet, std::uint64_t seed) {
  base::Random random(seed ^ 0x67U);
  const auto tries = static_cast<std::uint32_t>(sheet.rows) * 2U;
  for (std::uint32_t k = 0; k < tries; ++k) {
    const int row = 1 + static_cast<int>(random.below(static_cast<std::uint32_t>(sheet.rows - 2)));
    const int column = 1 + static_cast<int>(random.below(static_cast<std::uint32_t>(sheet.columns - 2)));
    const double long_m = 0.004 + 0.022 * std::pow(random.uniform(), 3),
                 wide_m = random.uniform(0.0014, 0.0034);
    const double lean = random.uniform(-0.15, 0.15);
    const scene::Vec3& foot = sheet.at(row, column);
    const scene::Vec2 axis = scene::centre_at(scene, foot.z);
    const double up = (foot.y - axis.y) / std::max(1e-6, std::hypot(foot.x - axis.x, foot.y - axis.y));
    if (up < 0.55 || sheet.thick_m[sheet.index(row, column)] < 0.004F || random.uniform() > 0.22) continue;
    const Rgb colour = 0.70F * face.albedo[sheet.index(row, column)];
    add_patch(face, 10, 10, true, [&](int r, int c) {
      const double t = r / 9.0, turn = 0.6283185307179586 * c;
      // Wide where it hangs from, a bead at its end.
      const double thick = wide_m *
                           (1.5 * (1 - t) * (1 - t) + 0.30 + 0.45 * std::exp(-30 * (t - 0.88) * (t - 0.88))) *
                           (r == 9 ? 0.05 : 1.0);
      return PatchPoint{{foot.x + thick * std::cos(turn), foot.y + 0.001 - (long_m + 0.001) * t,
                         foot.z + thick * std::sin(turn) + lean * long_m * t},
                        colour};
    });
  }
}

}  // namespace

std::vector<Mesh> settled_meshes(const scene::Scene& scene, const scene::Settled& settled,
                                 std::uint64_t seed64) {
  const matter::SettledBed bed = matter::settled_bed(scene, settled, seed64);
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
      // Wet and fine: a smooth dark skin that shines in patches.
      top.gloss = 0.75F;
      const Rgb dark = linear_from_srgb(56, 44, 30), mud = linear_from_srgb(110, 88, 60),
                pale = linear_from_srgb(158, 134, 98);
      add_sheet(top, bed.top, false, [&](const scene::Vec3& p, float, int, int) {
        return blend(blend(dark, mud, within(0.55F + 0.9F * rough(p, 0.05, seed, 4))), pale,
                     within(0.8F * rough(p, 0.018, seed + 4U, 3)));
      });
      break;
    }
    case scene::SettledKind::coarse: {
      top.grain = Grain::soil;
      top.gloss = 0.08F;
      const Rgb dark = linear_from_srgb(78, 64, 46), sand = linear_from_srgb(118, 98, 70);
      add_sheet(top, bed.top, false, [&](const scene::Vec3& p, float, int, int) {
        return blend(dark, sand, within(0.5F + 1.0F * rough(p, 0.012, seed, 4)));
      });
      break;
    }
    case scene::SettledKind::hard: {
      top.grain = Grain::crust;
      top.gloss = 0.04F;
      const Rgb lime = linear_from_srgb(186, 176, 150), grey = linear_from_srgb(132, 120, 100),
                rust = linear_from_srgb(150, 116, 76), dark = linear_from_srgb(58, 50, 40);
      add_sheet(top, bed.top, false, [&](const scene::Vec3& p, float, int row, int) {
        const float up = risen(p, row);
        const scene::Vec3 drawn{p.x, 0, p.z / 2};
        const Rgb crust =
            blend(blend(grey, lime, within(0.55F + 0.30F * up + 0.7F * rough(drawn, 0.030, seed, 3))), rust,
                  within(1.2F * rough(drawn, 0.05, seed + 2U, 2) - 0.25F));
        // Cracked as it set: dark lines where a smooth noise changes its sign, two nets of them.
        const auto crack_of = [&](double size_m, float wide, std::uint32_t k) {
          const float split = std::abs(rough(drawn, size_m, seed + k, 2));
          return within(1.3F - split / wide) * within(0.8F + 1.5F * rough(drawn, 0.06, seed + k + 1U, 1));
        };
        const float crack = std::max(crack_of(0.044, 0.075F, 21U), 0.8F * crack_of(0.031, 0.060F, 25U));
        return blend(blend(crust, dark, within(-0.45F * up - 0.15F)), dark, 0.92F * crack);
      });
      break;
    }
  }
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(top));
  if (settled.kind == scene::SettledKind::fine)
    meshes.push_back(tide_film(scene, settled, bed.top, 0.007F, linear_from_srgb(34, 25, 17),
                               linear_from_srgb(88, 64, 42), seed));
  if (settled.kind == scene::SettledKind::hard)
    meshes.push_back(tide_film(scene, settled, bed.top, 0.008F, linear_from_srgb(110, 100, 82),
                               linear_from_srgb(150, 140, 118), seed));
  if (!bed.stones.empty()) {
    Mesh stones;
    stones.grain = Grain::stone;
    stones.gloss = 0.08F;
    // Wet and browned by what flows over them.
    static const Rgb tints[] = {linear_from_srgb(106, 94, 76),  linear_from_srgb(84, 74, 60),
                                linear_from_srgb(124, 100, 70), linear_from_srgb(70, 60, 50),
                                linear_from_srgb(108, 74, 50),  linear_from_srgb(134, 122, 100)};
    for (const matter::Stone& s : bed.stones)
      add_stone(stones, s.centre, s.half, s.turn, s.seed, s.seed % 3 != 0, tints[s.seed % 6],
                s.half.x > 0.006 ? 12 : 7);
    meshes.push_back(std::move(stones));
  }
  return meshes;
}

std::vector<Mesh> attached_meshes(const scene::Scene& scene, const scene::Attached& attached,
                                  std::uint64_t seed64) {
  const matter::Sheet sheet = matter::attached_sheet(scene, attached, seed64);
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
      face.gloss = 0.62F;
      const Rgb pale = linear_from_srgb(206, 198, 176), yellow = linear_from_srgb(190, 170, 122),
                grey = linear_from_srgb(140, 134, 118), tan = linear_from_srgb(112, 92, 64);
      const Rgb film = blend(0.55F * ware, linear_from_srgb(104, 90, 60), 0.5F);
      add_sheet(face, sheet, attached.arc.whole, [&](const scene::Vec3& p, float thick, int row, int column) {
        const scene::Vec3 drawn{p.x, p.y, p.z / 3};
        const Rgb fat = blend(blend(yellow, pale, within(0.50F + 1.0F * rough(drawn, 0.045, seed, 2))), grey,
                              within(1.1F * rough(drawn, 0.060, seed + 4U, 3) + 0.05F));
        const Rgb soiled = blend(fat, tan, within(1.5F * rough(drawn, 0.030, seed + 5U, 4) - 0.15F));
        // A greasy film first, then fat: it thins out on the wall.
        const float held = within((thick - 0.0004F + 0.0006F * rough(p, 0.008, seed + 6U, 3)) / 0.0045F);
        const float in = light_at(row, column);
        // Light gets into it and comes out again, so that its creases are not black.
        const Rgb creased = blend(linear_from_srgb(124, 106, 74), soiled, within((in - 0.05F) / 0.55F));
        return within(0.55F + 0.45F * in) * blend(film, creased, held);
      });
      break;
    }
    case scene::AttachedKind::scale: {
      face.grain = Grain::crust;
      face.gloss = 0.02F;
      const bool iron = section.material == scene::Material::cast_iron;
      const Rgb low = iron ? linear_from_srgb(46, 31, 23) : linear_from_srgb(118, 102, 80);
      const Rgb high = iron ? linear_from_srgb(120, 77, 50) : linear_from_srgb(198, 190, 172);
      const Rgb spot = iron ? linear_from_srgb(140, 108, 76) : linear_from_srgb(168, 120, 66);
      const Rgb stain = blend(0.7F * ware, low, 0.5F);
      add_sheet(face, sheet, attached.arc.whole, [&](const scene::Vec3& p, float thick, int row, int column) {
        const float in = light_at(row, column);
        // Caps are bright, feet dark.
        const float up = within(0.80F * (in - 0.5F) + 0.22F * rough({p.x, p.y, p.z / 2}, 0.016, seed, 2) +
                                0.08F + 0.50F * thick / thickest);
        const Rgb rust = blend(blend(low, high, up), spot,
                               // What has run down the wall stains lime in streaks.
                               iron ? within(1.3F * rough({p.x, p.y, p.z / 2.5}, 0.030, seed + 3U, 2) - 0.25F)
                                    : within(1.7F * rough({p.x / 7, p.y / 7, p.z}, 0.017, seed + 3U, 3) +
                                             0.7F * rough(p, 0.050, seed + 4U, 2) - 0.20F));
        return (0.25F + 0.75F * in) * blend(stain, rust, within((thick - 0.0004F) / 0.0018F));
      });
      break;
    }
    case scene::AttachedKind::fouling: {
      face.grain = Grain::slime;
      face.gloss = 0.60F;
      const Rgb dark = linear_from_srgb(58, 48, 32), brown = linear_from_srgb(116, 94, 58),
                olive = linear_from_srgb(90, 84, 50);
      add_sheet(face, sheet, attached.arc.whole, [&](const scene::Vec3& p, float thick, int row, int column) {
        const scene::Vec3 drawn{p.x, p.y, p.z / 5};
        const Rgb slime = blend(blend(dark, brown, within(0.40F + 0.8F * rough(drawn, 0.024, seed, 2))),
                                olive, within(0.9F * rough(drawn, 0.05, seed + 2U, 2)));
        // It begins as a film through which the ware shows, then as patches.
        const float held = within(thick / 0.0011F + (0.40F * rough(drawn, 0.012, seed + 9U, 3) - 0.05F) *
                                                        within(thick / 0.0004F));
        return (0.55F + 0.48F * light_at(row, column)) * blend(0.38F * ware, slime, held);
      });
      break;
    }
  }
  std::vector<Mesh> meshes;
  if (attached.kind == scene::AttachedKind::grease) hang_drips(face, scene, sheet, seed64);
  meshes.push_back(std::move(face));
  return meshes;
}

}  // namespace haunch::render
