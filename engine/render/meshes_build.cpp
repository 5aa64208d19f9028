// SPDX-License-Identifier: Apache-2.0
// Patches, stones, broken walls.
#include "render/meshes_build.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "matter/noise.hpp"
#include "matter/roots.hpp"
#include "matter/solid.hpp"
#include "matter/squashed.hpp"
#include "render/marks.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

}  // namespace

double uneven_at(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return static_cast<double>(matter::layered_noise(static_cast<float>(p.x / size_m),
                                                   static_cast<float>(p.y / size_m),
                                                   static_cast<float>(p.z / size_m), seed, octaves));
}

Pebble pebble_at(const scene::Vec3& p, double cell, std::uint32_t seed) {
  const double q[3] = {p.x / cell, p.y / cell, p.z / cell};
  std::int32_t c[3];
  for (int k = 0; k < 3; ++k) c[k] = static_cast<std::int32_t>(std::floor(q[k]));
  Pebble best;
  for (std::int32_t z = -1; z <= 1; ++z)
    for (std::int32_t y = -1; y <= 1; ++y)
      for (std::int32_t x = -1; x <= 1; ++x) {
        const std::int32_t n[3] = {c[0] + x, c[1] + y, c[2] + z};
        const auto chance = [&](std::uint32_t k) {
          return 0.5 + 0.5 * static_cast<double>(matter::lattice_noise(n[0], n[1], n[2], seed + k));
        };
        const double size = 0.25 + 0.45 * chance(3);
        if (chance(4) < 0.45) continue;
        double square = 0;
        for (int k = 0; k < 3; ++k) {
          const double d = n[k] + 0.2 + 0.6 * chance(static_cast<std::uint32_t>(k)) - q[k];
          square += d * d;
        }
        const double inside = 1 - square / (size * size);
        if (inside > best.inside) best = {inside, static_cast<std::uint32_t>(chance(5) * 1024)};
      }
  return best;
}

void add_patch(Mesh& mesh, int rows, int columns, bool closed,
               const std::function<PatchPoint(int, int)>& point) {
  const auto first = static_cast<std::uint32_t>(mesh.points.size());
  std::vector<scene::Vec3> at;
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const PatchPoint p = point(r, c);
      at.push_back(p.at);
      mesh.points.push_back(
          {static_cast<float>(p.at.x), static_cast<float>(p.at.y), static_cast<float>(p.at.z)});
      mesh.albedo.push_back(p.albedo);
    }
  const auto index = [&](int r, int c) {
    return static_cast<std::size_t>(r) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(c);
  };
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const int c0 = closed ? (c + columns - 1) % columns : std::max(c - 1, 0),
                c1 = closed ? (c + 1) % columns : std::min(c + 1, columns - 1);
      const scene::Vec3 along = at[index(std::min(r + 1, rows - 1), c)] - at[index(std::max(r - 1, 0), c)];
      scene::Vec3 n = scene::cross(along, at[index(r, c1)] - at[index(r, c0)]);
      const double size = scene::length(n);
      n = size > 1e-14 ? (1 / size) * n : scene::Vec3{0, 0, 0};
      mesh.normals.push_back({static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(n.z)});
    }
  for (int r = 0; r + 1 < rows; ++r)
    for (int c = 0; c + 1 < columns + (closed ? 1 : 0); ++c) {
      const int d = (c + 1) % columns;
      for (const std::size_t corner : {index(r, c), index(r, d), index(r + 1, d), index(r + 1, c)})
        mesh.quads.push_back(first + static_cast<std::uint32_t>(corner));
    }
}

void add_stone(Mesh& mesh, const scene::Vec3& centre, const scene::Vec3& half, double turn,
               std::uint32_t seed, bool angular, const Rgb& albedo, int detail) {
  base::Random random(seed);
  struct Cut {
    scene::Vec3 normal;
    double away;
  };
  std::vector<Cut> cuts;
  if (angular)
    for (int k = 0; k < 11; ++k)
      cuts.push_back({scene::normalised({random.normal(), random.normal(), random.normal() + 1e-3}),
                      random.uniform(0.62, 0.95)});
  const double c = std::cos(turn), s = std::sin(turn);
  add_patch(mesh, detail + 1, 2 * detail, true, [&](int row, int column) {
    const double t = std::numbers::pi * row / detail, a = tau * column / (2 * detail);
    const scene::Vec3 d{std::sin(t) * std::cos(a), std::cos(t), std::sin(t) * std::sin(a)};
    double r = 1;
    for (const Cut& cut : cuts) {
      const double facing = scene::dot(d, cut.normal);
      if (facing > 0.05) r = std::min(r, cut.away / facing);
    }
    const double bump = static_cast<double>(matter::layered_noise(static_cast<float>(d.x * 1.7),
                                                                  static_cast<float>(d.y * 1.7),
                                                                  static_cast<float>(d.z * 1.7), seed, 3));
    r *= 1 + (angular ? 0.07 : 0.16) * bump;
    const scene::Vec3 p{r * d.x * half.x, r * d.y * half.y, r * d.z * half.z};
    const float shade = static_cast<float>(1 + 0.22 * bump);
    return PatchPoint{centre + scene::Vec3{c * p.x + s * p.z, p.y, c * p.z - s * p.x}, shade * albedo};
  });
}

scene::Vec3 WallFrame::at(double z, double angle, double out) const {
  const scene::Vec2 toward{std::sin(angle), std::cos(angle)};
  if (!piece.curved && piece.round()) {
    const scene::Vec2 c = scene::centre_at(piece, z);
    return {c.x + (radius + out) * toward.x, c.y + (radius + out) * toward.y, z};
  }
  const scene::Vec2 c = scene::centre_at(*scene, z);
  const double wall = scene::radius_toward(scene::bore_at(*scene, z), toward) + out;
  return {c.x + wall * toward.x, c.y + wall * toward.y, z};
}

WallFrame wall_frame(const scene::Scene& scene, double z, double clock_h) {
  WallFrame frame;
  frame.scene = &scene;
  frame.piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, z))];
  frame.section = scene.scenario.sections[static_cast<std::size_t>(frame.piece.section)];
  frame.radius = matter::wall_radius_m(scene, z, clock_h);
  return frame;
}

std::vector<scene::Vec2> along_outline(const matter::WallOutline& outline, int count) {
  const auto& corners = outline.corners;
  std::vector<double> reached{0};
  for (std::size_t i = 0; i < corners.size(); ++i)
    reached.push_back(reached.back() + scene::length(corners[(i + 1) % corners.size()] - corners[i]));
  std::vector<scene::Vec2> points;
  std::size_t edge = 0;
  for (int k = 0; k < count; ++k) {
    const double want = reached.back() * k / count;
    while (reached[edge + 1] < want) ++edge;
    const double t = (want - reached[edge]) / std::max(1e-12, reached[edge + 1] - reached[edge]);
    points.push_back(corners[edge] + t * (corners[(edge + 1) % corners.size()] - corners[edge]));
  }
  return points;
}

void add_broken_edge(Mesh& mesh, const WallFrame& frame, const matter::WallOutline& outline, double thick_m,
                     std::uint32_t seed) {
  const int around = 220;
  const std::vector<scene::Vec2> edge = along_outline(outline, around);
  const Rgb ware = broken_ware(frame.section), dirt = linear_from_srgb(70, 54, 40),
            mortar = linear_from_srgb(116, 114, 108);
  const bool concrete = frame.section.material == scene::Material::concrete;
  const int rows = std::clamp(static_cast<int>(thick_m / 0.0013), 4, 24);
  add_patch(mesh, rows + 1, around, true, [&](int row, int column) {
    const double t = static_cast<double>(row) / rows;
    const scene::Vec2 p = edge[static_cast<std::size_t>(column)];
    const double size = std::max(1e-6, scene::length(p));
    const scene::Vec3 here = frame.at(outline.z_m + p.x, outline.angle + p.y / frame.radius, thick_m * t);
    // Ware breaks in shells: steps and hollows, wider to the outside.
    const double shell = row == 0 ? 0 : 0.0016 * uneven_at(here, 0.009, seed, 3) + 0.0022 * t;
    const double k = 1 + std::max(-0.1, shell / size);
    const double z = outline.z_m + k * p.x, angle = outline.angle + k * p.y / frame.radius;
    // The arris is bare and catches the lamp; outwards ever less light gets in.
    const auto light =
        static_cast<float>(std::exp(-0.9 * t) * (1 + 0.5 * uneven_at(here, 0.004, seed + 12U, 2)));
    const scene::Vec3 at = frame.at(z, angle, thick_m * t - (row == 0 ? 0.0003 : 0.0));
    if (concrete) {
      // Grey mortar with the stones of its aggregate, which the break has gone round or through.
      const Pebble pebble = pebble_at(here, 0.0062, seed + 70U);
      static const Rgb tints[] = {linear_from_srgb(150, 148, 142), linear_from_srgb(92, 92, 90),
                                  linear_from_srgb(128, 122, 112), linear_from_srgb(70, 72, 74)};
      Rgb c = static_cast<float>(1 + 0.3 * uneven_at(here, 0.006, seed + 71U, 2)) * mortar;
      if (pebble.inside > 0) c = (pebble.inside < 0.22 ? 0.5F : 1.0F) * tints[pebble.id & 3U];
      return PatchPoint{at, light * blend(c, dirt, static_cast<float>(0.25 * t))};
    }
    const auto stain = static_cast<float>(
        std::clamp(0.35 + 1.2 * uneven_at(here, 0.010, seed + 9U, 4) + 0.45 * t, 0.0, 1.0));
    return PatchPoint{at, light * blend(ware, dirt, stain)};
  });
}

Rgb soil_colour(const scene::Vec3& p, std::uint32_t seed) {
  static const Rgb dark = linear_from_srgb(58, 42, 29), brown = linear_from_srgb(104, 76, 50),
                   pale = linear_from_srgb(142, 112, 78);
  const auto a = static_cast<float>(std::clamp(0.5 + 0.9 * uneven_at(p, 0.016, seed, 4), 0.0, 1.0));
  const auto b = static_cast<float>(std::clamp(
      0.5 * uneven_at(p, 0.045, seed + 3U, 2) + 0.2 * uneven_at(p, 0.004, seed + 5U, 2), 0.0, 0.6));
  return blend(blend(dark, brown, a), pale, b);
}

/// What a thick root has brought in with it: a little soil about its foot.
std::vector<Mesh> root_foot_meshes(const scene::Scene& scene, const scene::Roots& roots,
                                   std::uint64_t seed64) {
  const matter::RootShape shape = matter::root_shape(scene, roots, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  const scene::Vec3 foot = shape.nodes.front().at;
  WallFrame frame = wall_frame(scene, foot.z + 1e-4, 12);
  const scene::Vec2 centre = scene::centre_at(frame.piece, foot.z);
  const double angle = std::atan2(foot.x - centre.x, foot.y - centre.y);
  frame.radius = matter::wall_radius_m(scene, foot.z + 1e-4, angle * 6 / std::numbers::pi);
  double thick = 0;
  const matter::Strand& main = shape.strands.front();
  for (int k = 0; k < main.count; ++k)
    thick = std::max(thick, shape.nodes[static_cast<std::size_t>(main.first + k)].radius_m);
  Mesh soil;
  soil.grain = Grain::soil;
  const double size = 2.0 * thick, high = 0.45 * thick;
  add_patch(soil, 15, 60, true, [&](int row, int column) {
    const double turn = tau * column / 60, t = row / 14.0;
    const scene::Vec3 round{3 * std::cos(turn), 3 * std::sin(turn), 0};
    const double away = size * t * (1 + 0.45 * uneven_at(round, 1.6, seed + 90U, 3));
    // Along the joint more than away from it.
    const double z = foot.z + 0.55 * away * std::cos(turn),
                 a = angle + 1.3 * away * std::sin(turn) / frame.radius;
    const scene::Vec3 on = frame.at(z, a, 0);
    const double lump = uneven_at(on, 0.006, seed + 91U, 3);
    const double up = high * std::max(0.0, 1 - t * t) * (0.75 + 0.7 * lump) - (row == 14 ? 0.0012 : 0.0002);
    return PatchPoint{frame.at(z, a, -up), static_cast<float>(std::clamp(0.60 + 0.6 * lump, 0.25, 1.0)) *
                                               soil_colour(on, seed + 92U)};
  });
  return {std::move(soil)};
}

bool moves(const scene::FaultKind& kind) {
  const auto* connection = std::get_if<scene::Connection>(&kind);
  return std::holds_alternative<scene::Infiltration>(kind) || (connection && connection->flow_l_s > 0);
}

std::vector<Mesh> make_meshes(const scene::Scene& scene, int fault_number) {
  const scene::FaultKind& kind = scene.scenario.faults[static_cast<std::size_t>(fault_number - 1)].kind;
  const std::uint64_t seed = scene::fault_seed(scene.scenario, fault_number);
  std::vector<Mesh> meshes;
  if (const auto* hole = std::get_if<scene::Hole>(&kind)) meshes = hole_meshes(scene, *hole, seed);
  if (const auto* roots = std::get_if<scene::Roots>(&kind); roots && roots->form == scene::RootForm::tap)
    meshes = root_foot_meshes(scene, *roots, seed);
  if (const auto* connection = std::get_if<scene::Connection>(&kind))
    meshes = branch_meshes(scene, *connection, seed);
  if (const auto* settled = std::get_if<scene::Settled>(&kind))
    meshes = settled_meshes(scene, *settled, seed);
  if (const auto* attached = std::get_if<scene::Attached>(&kind))
    meshes = attached_meshes(scene, *attached, seed);
  if (const auto* broken = std::get_if<scene::BrokenWall>(&kind))
    meshes = hole_meshes(scene, matter::hole_of(*broken), seed);
  if (const auto* bricks = std::get_if<scene::BrickDamage>(&kind))
    meshes = brick_meshes(scene, *bricks, seed);
  if (std::holds_alternative<scene::ShortLining>(kind) || std::holds_alternative<scene::FailedWeld>(kind))
    return coat_meshes(scene, fault_number);
  // Within a short lining it is part of that lining's shape.
  if (const auto* defect = std::get_if<scene::LiningDefect>(&kind)) {
    const auto lining = scene::lining_over(scene.scenario, (defect->from_m + defect->to_m) / 2);
    return lining && lining->is_the_wall() ? coat_meshes(scene, fault_number) : meshes;
  }
  if (const auto* repair = std::get_if<scene::Repair>(&kind)) {
    meshes = coat_meshes(scene, fault_number);
    if (scene::leaves_open(*repair))
      for (Mesh& mesh : hole_meshes(scene, scene::mended_hole(*repair), seed)) {
        mesh.fault = static_cast<std::uint16_t>(fault_number);
        meshes.push_back(std::move(mesh));
      }
    return meshes;
  }
  // What moves is made anew for each picture.
  if (!moves(kind))
    for (Mesh& mesh : solid_meshes(scene, fault_number, 0)) meshes.push_back(std::move(mesh));
  for (Mesh& mesh : meshes) mesh.fault = static_cast<std::uint16_t>(fault_number);
  return meshes;
}

}  // namespace haunch::render
