// SPDX-License-Identifier: Apache-2.0
// Where bricks are out of the wall: the sides of those that stay, and what lies behind.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/brick_damage.hpp"
#include "matter/noise.hpp"
#include "render/marks.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {
namespace {

using matter::BrickArea;
using scene::BrickForm;

constexpr double tau = 2 * std::numbers::pi;
constexpr double behind_m = scene::brick_ring_m + scene::brick_joint_m;

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float x) { return std::clamp(x, 0.0F, 1.0F); }

Rgb brick_colour(const scene::Vec3& p, std::uint32_t one, std::uint32_t seed) {
  static const Rgb bodies[] = {linear_from_srgb(150, 80, 58), linear_from_srgb(132, 68, 50),
                               linear_from_srgb(160, 98, 70), linear_from_srgb(108, 62, 54)};
  const Rgb body = (0.8F + 0.1F * static_cast<float>(one % 5U)) * bodies[(one / 5U) % 4U];
  return (1 + 0.3F * rough(p, 0.012, seed, 3)) * body;
}
Rgb mortar_colour(const scene::Vec3& p, std::uint32_t seed) {
  return (1 + 0.35F * rough(p, 0.005, seed + 1U, 3)) * blend(linear_from_srgb(138, 130, 114),
                                                             linear_from_srgb(92, 82, 66),
                                                             within(0.5F + rough(p, 0.03, seed + 2U, 2)));
}
std::uint32_t number_of(const scene::Brick& brick, std::uint32_t seed) {
  return static_cast<std::uint32_t>(
      (1 + static_cast<double>(matter::lattice_noise(brick.course, brick.row, 3, seed))) * 512);
}

/// A flank of the opening, from a brick's edge at (z0, a0) to (z1, a1) and `deep` metres outwards. `toward`:
/// which way the opening lies, along the pipe (a head) or clockwise round it (a bed).
struct Flank {
  double z0, a0, z1, a1, deep, toward;
  std::uint32_t brick;  ///< picks its colour
};
void add_flank(Mesh& mesh, const WallFrame& frame, const Flank& f, std::uint32_t seed) {
  const bool bed = f.z1 != f.z0;
  const double long_m = std::hypot(f.z1 - f.z0, (f.a1 - f.a0) * frame.radius);
  const int along = std::max(4, static_cast<int>(long_m / 0.004)),
            down = std::max(4, static_cast<int>(f.deep / 0.004));
  add_patch(mesh, down + 1, along + 1, false, [&](int row, int column) {
    const double t = static_cast<double>(column) / along;
    const double z = f.z0 + t * (f.z1 - f.z0), a = f.a0 + t * (f.a1 - f.a0), out = f.deep * row / down;
    const scene::Vec3 flat = frame.at(z, a, out);
    // Mortar still sticks to some of it.
    const float stuck = within(3.0F * (rough(flat, 0.030, seed + 4U, 3) + 0.05F));
    const double bulge = f.toward * (0.0025 * static_cast<double>(stuck) +
                                     0.0008 * static_cast<double>(rough(flat, 0.006, seed + 5U, 2)));
    const scene::Vec3 at = bed ? frame.at(z, a + bulge / frame.radius, out) : frame.at(z + bulge, a, out);
    // Ever less of the lamp's light gets in.
    const auto light = static_cast<float>(0.20 + 0.80 * std::exp(-out / 0.055));
    return PatchPoint{
        at, light * blend(brick_colour(flat, f.brick, seed), mortar_colour(flat, seed), 0.85F * stuck)};
  });
}

/// The sides of the bricks that stay about the opening.
Mesh sides(const WallFrame& frame, const BrickArea& area, const std::function<double(double)>& deep,
           std::uint32_t seed) {
  Mesh mesh;
  mesh.grain = Grain::stone;
  mesh.gloss = 0.03F;
  // Half a joint away from where the bricks that are out had theirs.
  const double joint = 0.76 * scene::brick_joint_m / 2, turn = joint / frame.radius;
  for (const scene::Brick& brick : area.bricks) {
    const scene::BrickPlace place = scene::place_of(area.bore_mm, brick);
    const double half = place.length_m / 2, half_angle = place.width_m / 2 / frame.radius;
    for (const int way : {-1, 1}) {
      const scene::Brick next{brick.course, brick.row + way};
      if (!area.holds(next)) {
        const double z = place.z_m + way * (half + joint);
        add_flank(mesh, frame,
                  {z, place.angle - half_angle - turn, z, place.angle + half_angle + turn, deep(z),
                   -1.0 * way, number_of(next, seed)},
                  seed);
      }
      // Of each bed one half lies against one brick, one against another.
      for (const int part : {-1, 1}) {
        const scene::Brick beside = scene::brick_at(area.bore_mm, place.z_m + 0.5 * part * half,
                                                    place.angle + way * 1.3 * half_angle);
        if (area.holds(beside)) continue;
        const double a = place.angle + way * (half_angle + turn);
        const double z0 = place.z_m + (part < 0 ? -half - joint : 0),
                     z1 = place.z_m + (part < 0 ? 0 : half + joint);
        add_flank(mesh, frame,
                  {z0, a, z1, a, std::max(deep(z0), deep(z1)), -1.0 * way, number_of(beside, seed)}, seed);
      }
    }
  }
  return mesh;
}

/// A sheet behind the opening, `out` metres from the wall's face at each place.
Mesh sheet(const WallFrame& frame, const BrickArea& area, double beyond_m,
           const std::function<PatchPoint(double z, double angle)>& point) {
  Mesh mesh;
  mesh.grain = Grain::stone;
  mesh.gloss = 0.03F;
  const double long_m = area.to_m - area.from_m + 2 * beyond_m,
               from = area.from_angle - beyond_m / frame.radius,
               span = area.span + 2 * beyond_m / frame.radius;
  const int rows = std::clamp(static_cast<int>(long_m / 0.0026), 20, 420),
            columns = std::clamp(static_cast<int>(span * frame.radius / 0.0026), 20, 300);
  add_patch(mesh, rows + 1, columns + 1, false, [&](int row, int column) {
    return point(area.from_m - beyond_m + long_m * row / rows, from + span * column / columns);
  });
  return mesh;
}

}  // namespace

std::vector<Mesh> brick_meshes(const scene::Scene& scene, const scene::BrickDamage& damage,
                               std::uint64_t seed64) {
  const BrickArea area = matter::bricks_of(scene, damage);
  const WallFrame frame =
      wall_frame(scene, (area.from_m + area.to_m) / 2, (area.from_angle + area.span / 2) * 12 / tau);
  const auto seed = static_cast<std::uint32_t>(seed64);
  const Rgb dirt = linear_from_srgb(60, 48, 34);
  const auto ground_at = [&](double z, double angle, double out) {
    const scene::Vec3 on = frame.at(z, angle, 0);
    const auto lump = static_cast<double>(rough(on, 0.05, seed + 7U, 4));
    return PatchPoint{
        frame.at(z, angle, out + 0.035 * lump),
        static_cast<float>(std::clamp(0.55 - 0.5 * lump, 0.12, 0.9)) * soil_colour(on, seed + 8U)};
  };
  if (damage.form == BrickForm::invert_dropped) {
    const auto deep = [&](double z) { return matter::dropped_m(area, damage, z) + 0.035; };
    // Straight down as one: at the sides a gap opens.
    Mesh floor = sheet(frame, area, 0.002, [&](double z, double angle) {
      const double off = matter::joint_distance_m(area.bore_mm, z, angle);
      const scene::Vec3 on = frame.at(z, angle, 0);
      const bool mortar = off < 0.0045 + 0.0015 * static_cast<double>(rough(on, 0.012, seed, 2));
      const double sunk = matter::dropped_m(area, damage, z) +
                          (mortar ? 0.005 : 0.0008 * static_cast<double>(rough(on, 0.008, seed + 1U, 2)));
      const scene::Brick brick = scene::brick_at(area.bore_mm, z, angle);
      const Rgb ware =
          mortar ? 0.55F * mortar_colour(on, seed) : brick_colour(on, number_of(brick, seed), seed);
      // What has lain in it since.
      const float silt = within(0.45F + 1.1F * rough(on, 0.05, seed + 6U, 3));
      return PatchPoint{on - scene::Vec3{0, sunk, 0}, 0.85F * blend(ware, dirt, 0.65F * silt)};
    });
    floor.gloss = 0.12F;
    Mesh ground = sheet(frame, area, 0.03, [&](double z, double angle) {
      PatchPoint point = ground_at(z, angle, matter::dropped_m(area, damage, z) + 0.075);
      point.albedo = 0.3F * point.albedo;
      return point;
    });
    ground.grain = Grain::soil;
    return {sides(frame, area, deep, seed), std::move(floor), std::move(ground)};
  }
  const auto deep = [](double) { return behind_m + 0.01; };
  std::vector<Mesh> meshes{sides(frame, area, deep, seed)};
  if (damage.form == BrickForm::collapsed) {
    Mesh ground = sheet(frame, area, 0.03,
                        [&](double z, double angle) { return ground_at(z, angle, behind_m + 0.03); });
    ground.grain = Grain::soil;
    meshes.push_back(std::move(ground));
    return meshes;
  }
  if (damage.form == BrickForm::missing && damage.behind == scene::BehindBricks::nothing) return meshes;
  // A second ring: its own bond, plastered here and there with the mortar that lay between.
  const int courses = scene::brick_courses(area.bore_mm);
  const double lag = 0.37 * tau / courses;
  meshes.push_back(sheet(frame, area, 0.03, [&](double z, double angle) {
    const double off = matter::joint_distance_m(area.bore_mm, z + 0.07, angle + lag);
    const scene::Vec3 on = frame.at(z, angle, behind_m);
    const float plaster = within(2.5F * (rough(on, 0.05, seed + 9U, 3) - 0.12F));
    const bool mortar = off < 0.0055 + 0.0015 * static_cast<double>(rough(on, 0.010, seed + 3U, 2));
    const double out = behind_m + (mortar ? 0.004 : 0) - 0.004 * static_cast<double>(plaster);
    const scene::Brick brick = scene::brick_at(area.bore_mm, z + 0.07, angle + lag);
    const Rgb ware =
        mortar ? mortar_colour(on, seed) : brick_colour(on, number_of(brick, seed + 5U), seed + 5U);
    // Deep in, the light falls on it past the rim.
    const double rim = std::max(0.0, -matter::edge_distance_m(area, z, angle));
    const auto light = static_cast<float>(0.30 + 0.6 * std::min(1.0, rim / 0.06));
    return PatchPoint{frame.at(z, angle, out), light * blend(ware, mortar_colour(on, seed + 2U), plaster)};
  }));
  return meshes;
}

}  // namespace haunch::render
