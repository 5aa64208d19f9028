// SPDX-License-Identifier: Apache-2.0
// From a scene to the row of stretches that rays meet: each unit's own look, and its joints.
#include "render/wall.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "render/wall_curves.hpp"
#include "render/wall_looks.hpp"
#include "render/wall_welds.hpp"
#include "scene/brickwork.hpp"

namespace haunch::render {
namespace {

using scene::Material;
constexpr double closed_gap_m = 0.004;  // an open joint drawn shut

/// Elevation of what usually flows: the water's surface, or a trickle's line where it is dry now.
double flow_level(const scene::Scene& scene, double z, double invert, double radius) {
  return std::max(scene::level_at(scene.water, z), invert + 0.14 * radius);
}

Stretch bore_stretch(const scene::Scene& scene, const Textures& textures, const scene::Piece& piece,
                     double z0, double z1) {
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  const WallLook look =
      look_of(section, scene.scenario.seed + 7U * static_cast<std::uint64_t>(piece.section));
  const int kind = tile_kind(section);
  base::Random random(base::mix(scene.scenario.seed * 31 + static_cast<std::uint64_t>(piece.unit)));
  const auto vary = [&](float most) { return static_cast<float>(random.uniform(1 - most, 1 + most)); };

  Stretch s{};
  const scene::Vec2 c0 = scene::centre_at(piece, z0), c1 = scene::centre_at(piece, z1);
  s.z0 = static_cast<float>(z0);
  s.z1 = static_cast<float>(z1);
  s.centre_x = static_cast<float>(c0.x);
  s.centre_y = static_cast<float>(c0.y);
  s.slope_x = static_cast<float>((c1.x - c0.x) / (z1 - z0));
  s.slope_y = static_cast<float>((c1.y - c0.y) / (z1 - z0));
  s.radius = static_cast<float>(piece.radius_m);
  constexpr double round = 2 * 3.14159265358979323846;
  const bool brick = section.material == Material::brick;
  const double tiles = brick ? scene::brick_courses(section.bore_mm) / 4.0
                             : std::max(1.0, std::round(round * piece.radius_m / tile_round_m));
  s.texels_per_radian = static_cast<float>(tiles * tile_u / round);
  s.texels_per_m = s.texels_per_radian / s.radius;
  s.shift_u = static_cast<float>(random.uniform(0, tile_u));
  s.shift_v = static_cast<float>(random.uniform(0, tile_v));
  // Bricks lie where the grid of what is wrong with single ones has them.
  if (brick) s.shift_u = s.shift_v = 0;
  const float light = vary(look.varies), warm = vary(look.varies * 0.25F);
  s.tint_r = light * warm * look.tint.r;
  s.tint_g = light * look.tint.g;
  s.tint_b = light / warm * look.tint.b;
  s.mean_r = s.tint_r * textures.mean[kind][0];
  s.mean_g = s.tint_g * textures.mean[kind][1];
  s.mean_b = s.tint_b * textures.mean[kind][2];
  const auto flows = [&](double z, double centre_y) {
    const double half = scene::bore_at(piece, z).half_height_m;
    return flow_level(scene, z, centre_y - half, half);
  };
  const double y0 = flows(z0, c0.y), y1 = flows(z1, c1.y);
  s.flow_y = static_cast<float>(y0);
  s.flow_slope = static_cast<float>((y1 - y0) / (z1 - z0));
  s.per_tide = static_cast<float>(1 / (piece.radius_m * random.uniform(0.10, 0.18)));
  s.gloss = look.gloss * vary(0.1F);
  s.bumps = look.bumps;
  s.smear_r = look.smear.r;
  s.smear_g = look.smear.g;
  s.smear_b = look.smear.b;
  s.smear_gloss = look.smear_gloss;
  s.print = look.print;
  s.soak = look.soak;
  s.sludge = look.sludge;
  s.grain = look.grain;
  s.face_r = look.face.r;
  s.face_g = look.face.g;
  s.face_b = look.face.b;
  s.tile = static_cast<float>(textures.tile_start[kind]);
  take_shape(s, piece, z0, z1);
  make_particular(s, scene, piece);
  return s;
}

/// What lies between two units, from z0 to z1; `deep` metres beyond the larger bore.
Stretch groove_stretch(const scene::Scene& scene, const Textures& textures, const scene::Joint& joint,
                       double z0, double z1, double deep, const Rgb& matter) {
  const scene::Piece& before = scene.pieces[static_cast<std::size_t>(joint.before)];
  const scene::Piece& after = scene.pieces[static_cast<std::size_t>(joint.after)];
  Stretch s = bore_stretch(scene, textures, before, z0 - 1e-3, z1);
  s.z0 = static_cast<float>(z0);
  const scene::Vec2 step = after.from_centre - before.to_centre;
  s.centre_x = static_cast<float>(before.to_centre.x + step.x / 2);
  s.centre_y = static_cast<float>(before.to_centre.y + step.y / 2);
  s.slope_x = s.slope_y = 0;
  s.radius = static_cast<float>(std::max(before.radius_m, after.radius_m) + scene::length(step) / 2 + deep);
  widen_shape(s, before, after, deep);
  s.mean_r = s.tint_r = matter.r;
  s.mean_g = s.tint_g = matter.g;
  s.mean_b = s.tint_b = matter.b;
  s.groove = 1;
  s.print = s.particular = 0;
  s.gloss = 0.2F;
  return s;
}

/// An ordinary joint is one shallow groove. Into an open one light falls from the bore only: the ends
/// of the units have a worn edge that catches it and grow dark behind, the seal hangs between, and
/// soil stands where the wall ends. Steps of a ring each, so that no ray costs more.
std::vector<Stretch> groove_stretches(const scene::Scene& scene, const Textures& textures,
                                      const scene::Joint& joint, double gap_m, bool open) {
  const scene::Piece& before = scene.pieces[static_cast<std::size_t>(joint.before)];
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(before.section)];
  const WallLook look =
      look_of(section, scene.scenario.seed + 7U * static_cast<std::uint64_t>(before.section));
  const double z0 = joint.at_m - gap_m / 2, z1 = joint.at_m + gap_m / 2, wall = section.wall_mm / 1000;
  const auto groove = [&](double from, double to, double deep, const Rgb& matter) {
    return groove_stretch(scene, textures, joint, from, to, deep, matter);
  };
  // How deep one sees between closed units: to the mortar or the ring.
  if (!open || gap_m < 0.006) return {groove(z0, z1, open ? wall : std::min(wall * 0.5, 0.006), look.groove)};

  struct Ring {
    double wide, deep;  // along the pipe, and into the wall
    float light;        // what reaches its face and its floor
  };
  // From the bore outwards.
  const double lip = std::min(0.0011, 0.2 * wall);
  const Ring rings[] = {{0.0007, lip, 0.55F}, {0.0009, 2.1 * lip, 0.13F}, {0.0012, 3.8 * lip, 0.034F}};
  const Rgb soil = linear_from_srgb(58, 44, 32), dirt = linear_from_srgb(74, 60, 44);
  // What has rusted or been wetted there is no paler than the bore.
  const bool iron = section.material == Material::cast_iron;
  const Rgb worn = blend(look.face, (iron ? 0.25F : 1.0F) * dirt, iron ? 0.85F : 0.35F);
  const auto faces = [&](Stretch s, float light) {
    s.face_r = s.smear_r = light * worn.r;
    s.face_g = s.smear_g = light * worn.g;
    s.face_b = s.smear_b = light * worn.b;
    s.bare = 1;
    return s;
  };
  std::vector<Stretch> row;
  double from = z0;
  // The end of the unit before: outermost ring last seen from the bore, so it comes first along z.
  float behind[] = {rings[1].light, rings[2].light, 0.012F};
  for (int k = 0; k < 3; ++k) {
    row.push_back(faces(groove(from, from + rings[k].wide, rings[k].deep, rings[k].light * worn), behind[k]));
    from += rings[k].wide;
  }
  double to = z1;
  std::vector<Stretch> after;
  for (int k = 0; k < 3; ++k) {
    after.insert(after.begin(),
                 faces(groove(to - rings[k].wide, to, rings[k].deep, rings[k].light * worn), behind[k]));
    to -= rings[k].wide;
  }
  const Rgb floor = 0.15F * soil;
  const double seal = std::min(0.007, 0.3 * (to - from));
  if (to - from > 0.006) {
    const double middle = from + 0.42 * (to - from);
    row.push_back(faces(groove(from, middle - seal / 2, wall, floor), 0.012F));
    Stretch ring = groove(middle - seal / 2, middle + seal / 2, 0.55 * wall, linear_from_srgb(24, 24, 25));
    ring.face_r = ring.face_g = ring.face_b = 0.006F;
    ring.smear_r = ring.smear_g = ring.smear_b = 0.006F;
    ring.bare = 1;
    row.push_back(ring);
    row.push_back(faces(groove(middle + seal / 2, to, wall, floor), 0.012F));
  } else {
    row.push_back(faces(groove(from, to, wall, floor), 0.012F));
  }
  row.insert(row.end(), after.begin(), after.end());
  return row;
}

/// Which of a joint's faults its gap shows, or the faces that stand into the bore; 0 for none.
float shown_fault(const scene::Scene& scene, const scene::Joint& joint, bool gap) {
  for (const int number : joint.faults) {
    const scene::Fault& fault = scene.scenario.faults[static_cast<std::size_t>(number - 1)];
    if (std::holds_alternative<scene::JointGap>(fault.kind) == gap) return static_cast<float>(number);
  }
  return joint.faults.empty() ? 0 : static_cast<float>(joint.faults.front());
}

/// The number of what has pressed the bore here, or bent it, or 0.
float shaped_by(const scene::Scene& scene, const scene::Piece& piece, double z) {
  int number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    ++number;
    const auto* squashed = std::get_if<scene::Squashed>(&fault.kind);
    if (squashed && !piece.round() && squashed->from_m < z && z < squashed->to_m)
      return static_cast<float>(number);
  }
  number = 0;
  for (const scene::Fault& fault : scene.scenario.faults) {
    ++number;
    const auto* bend = std::get_if<scene::Bend>(&fault.kind);
    if (bend && bend->from_m < z && z < bend->to_m) return static_cast<float>(number);
  }
  return 0;
}

}  // namespace

Wall build_wall(const scene::Scene& scene, const Textures& textures, bool with_faults) {
  Wall wall;
  const auto add = [&](const Stretch& stretch, int piece) {
    wall.stretches.push_back(stretch);
    wall.piece.push_back(piece);
  };
  // Which joint, if any, begins each piece.
  std::vector<const scene::Joint*> joint_before(scene.pieces.size() + 1, nullptr);
  for (const scene::Joint& joint : scene.joints) joint_before[static_cast<std::size_t>(joint.after)] = &joint;
  const auto gap_of = [&](const scene::Joint& joint) {
    if (is_weld(scene, joint) && !(joint.open && with_faults)) return weld_width_m;
    return with_faults || !joint.open ? joint.gap_m : std::min(joint.gap_m, closed_gap_m);
  };
  for (std::size_t i = 0; i < scene.pieces.size(); ++i) {
    const scene::Piece& piece = scene.pieces[i];
    const scene::Joint* lo = joint_before[i];
    const scene::Joint* hi = i + 1 < scene.pieces.size() ? joint_before[i + 1] : nullptr;
    double z0 = piece.from_m, z1 = piece.to_m;
    const float fault_lo = lo && with_faults ? shown_fault(scene, *lo, false) : 0;
    if (lo) {
      const double gap = std::min(gap_of(*lo), piece.to_m - piece.from_m);
      if (gap > 1e-5) {
        const bool open = lo->open && with_faults;
        const auto numbered = [&](Stretch between, bool its_gap) {
          between.face_lo_fault = between.face_hi_fault = with_faults ? shown_fault(scene, *lo, its_gap) : 0;
          if (its_gap) between.fault = between.face_lo_fault;
          add(between, -1);
        };
        if (is_weld(scene, *lo) && !open)
          for (const Stretch& bead :
               weld_stretches(scene, *lo, [&](const scene::Piece&on, double from, double to) {
                 return bore_stretch(scene, textures, on, from, to);
               }))
            numbered(bead, false);
        else
          for (const Stretch& groove : groove_stretches(scene, textures, *lo, gap, open))
            numbered(groove, true);
      }
      z0 += gap / 2;
    }
    if (hi) z1 -= gap_of(*hi) / 2;
    if (z1 - z0 < 1e-4) continue;
    Stretch bore = bore_stretch(scene, textures, piece, z0, z1);
    const float smear = look_of(scene.scenario.sections[static_cast<std::size_t>(piece.section)], 0).smear_m;
    // Where a piece ends without a joint nothing is ever near enough.
    const bool smeared = smear > 0;
    bore.per_smear_lo = lo && smeared ? 1 / smear : 1e6F;
    bore.per_smear_hi = hi && smeared ? 1 / smear : 1e6F;
    const auto clear = [&](const scene::Joint* joint) {
      return joint &&
             (!joint->faults.empty() || joint->material_change || scene::length(joint->step) > 0.002);
    };
    bore.bare = clear(lo) || clear(hi) ? 1 : 0;
    if (with_faults && (piece.curved || !piece.round())) bore.fault = shaped_by(scene, piece, (z0 + z1) / 2);
    bore.face_lo_fault = fault_lo;
    bore.face_hi_fault = hi && with_faults ? shown_fault(scene, *hi, false) : 0;
    add(bore, static_cast<int>(i));
  }
  smooth_curves(wall, scene);
  return wall;
}

}  // namespace haunch::render
