// SPDX-License-Identifier: Apache-2.0
// Patches, stones, broken walls, and what lies behind a hole.
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

double rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return static_cast<double>(matter::layered_noise(static_cast<float>(p.x / size_m),
                                                   static_cast<float>(p.y / size_m),
                                                   static_cast<float>(p.z / size_m), seed, octaves));
}

/// Pebbles in space: how near the middle of one a place is (0 .. 1) and which one.
struct Pebble {
  double inside = 0;
  std::uint32_t id = 0;
};
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

}  // namespace

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
    const double shell = row == 0 ? 0 : 0.0016 * rough(here, 0.009, seed, 3) + 0.0022 * t;
    const double k = 1 + std::max(-0.1, shell / size);
    const double z = outline.z_m + k * p.x, angle = outline.angle + k * p.y / frame.radius;
    // The arris is bare and catches the lamp; outwards ever less light gets in.
    const auto light = static_cast<float>(std::exp(-1.5 * t) * (1 + 0.5 * rough(here, 0.004, seed + 12U, 2)));
    const scene::Vec3 at = frame.at(z, angle, thick_m * t - (row == 0 ? 0.0003 : 0.0));
    if (concrete) {
      // Grey mortar with the stones of its aggregate, which the break has gone round or through.
      const Pebble pebble = pebble_at(here, 0.0062, seed + 70U);
      static const Rgb tints[] = {linear_from_srgb(150, 148, 142), linear_from_srgb(92, 92, 90),
                                  linear_from_srgb(128, 122, 112), linear_from_srgb(70, 72, 74)};
      Rgb c = static_cast<float>(1 + 0.3 * rough(here, 0.006, seed + 71U, 2)) * mortar;
      if (pebble.inside > 0) c = (pebble.inside < 0.22 ? 0.5F : 1.0F) * tints[pebble.id & 3U];
      return PatchPoint{at, light * blend(c, dirt, static_cast<float>(0.25 * t))};
    }
    const auto stain =
        static_cast<float>(std::clamp(0.35 + 1.2 * rough(here, 0.010, seed + 9U, 4) + 0.45 * t, 0.0, 1.0));
    return PatchPoint{at, light * blend(ware, dirt, stain)};
  });
}

Rgb soil_colour(const scene::Vec3& p, std::uint32_t seed) {
  static const Rgb dark = linear_from_srgb(58, 42, 29), brown = linear_from_srgb(104, 76, 50),
                   pale = linear_from_srgb(142, 112, 78);
  const auto a = static_cast<float>(std::clamp(0.5 + 0.9 * rough(p, 0.016, seed, 4), 0.0, 1.0));
  const auto b = static_cast<float>(
      std::clamp(0.5 * rough(p, 0.045, seed + 3U, 2) + 0.2 * rough(p, 0.004, seed + 5U, 2), 0.0, 0.6));
  return blend(blend(dark, brown, a), pale, b);
}

std::vector<Mesh> hole_meshes(const scene::Scene& scene, const scene::Hole& hole, std::uint64_t seed64) {
  const WallFrame frame = wall_frame(scene, hole.at_m, hole.clock_h);
  const matter::WallOutline outline = matter::hole_outline(hole, frame.radius, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  const double wall = frame.section.wall_mm / 1000;
  Mesh edge;
  edge.grain = Grain::stone;
  edge.gloss = 0.04F;
  add_broken_edge(edge, frame, outline, wall, seed);

  // A void: no ground near enough for the lamp.
  if (hole.behind == scene::Behind::nothing) return {std::move(edge)};
  const bool stones = hole.behind == scene::Behind::stone;
  const double least = std::min(hole.length_mm, hole.width_mm) / 1000;
  const double deep = std::clamp(0.45 * least + 0.006, 0.010, 0.060);
  Mesh soil;
  soil.grain = Grain::soil;
  const int around = 200, rows = std::clamp(static_cast<int>((deep + least) / 0.0016), 24, 70);
  const std::vector<scene::Vec2> rim = along_outline(outline, around);
  const auto cavity = [&](double u, const scene::Vec2& p, double& z, double& angle) {
    const double s = 1.16 * std::sqrt(std::max(0.0, 1 - u * u));
    z = outline.z_m + s * p.x;
    angle = outline.angle + s * p.y / frame.radius;
    return wall - 0.0015 + deep * u;
  };
  add_patch(soil, rows + 1, around, true, [&](int row, int column) {
    double z = 0, angle = 0;
    // Even steps of arc, so that floor and sides get their share of points.
    const double u = std::sin(tau / 4 * row / rows);
    double out = cavity(u, rim[static_cast<std::size_t>(column)], z, angle);
    const scene::Vec3 p = frame.at(z, angle, out);
    const double lump = rough(p, 0.022, seed + 31U, 4);
    const Pebble pebble = pebble_at(p, 0.0075, seed + 50U);
    const double held = std::min(1.0, u * 4);
    out = std::max(wall * 0.25,
                   out + held * (0.40 * deep * lump - 0.0022 * std::sqrt(std::max(0.0, pebble.inside))));
    Rgb colour = soil_colour(p, seed + 60U);
    if (pebble.inside > 0.12) {
      static const Rgb tints[] = {linear_from_srgb(150, 142, 130), linear_from_srgb(120, 110, 98),
                                  linear_from_srgb(168, 146, 112), linear_from_srgb(98, 90, 84)};
      colour = blend(colour, tints[pebble.id & 3U], 0.8F);
    }
    // Hollows lie deep in the ground's own shade.
    const auto shade = static_cast<float>(std::clamp(0.62 - 0.75 * lump, 0.16, 0.95));
    return PatchPoint{frame.at(z, angle, out), shade * colour};
  });
  if (!stones) return {std::move(edge), std::move(soil)};

  Mesh rubble;
  rubble.grain = Grain::stone;
  rubble.gloss = 0.10F;
  base::Random random(seed64 ^ 0x57u);
  const double big = std::clamp(0.15 * least, 0.005, 0.020);
  struct Lying {
    scene::Vec3 at;
    double r;
  };
  std::vector<Lying> lying;
  const int tries = std::clamp(static_cast<int>(14 * matter::area_m2(outline) / (big * big)), 60, 400);
  for (int k = 0; k < tries; ++k) {
    // Sunk in the ground by a third or more, each clear of the others.
    const double share = 1.08 * std::sqrt(random.uniform());
    const scene::Vec2 p = share * rim[random.below(around)];
    const double r = big * (k < tries / 4 ? random.uniform(0.95, 1.3) : random.uniform(0.35, 0.9));
    const double turn = random.uniform(0, tau), sunk = random.uniform(-0.1, 0.35);
    const scene::Vec3 shape{random.uniform(0.85, 1.0), random.uniform(0.65, 0.9), random.uniform(0.85, 1.0)};
    const auto stone_seed = static_cast<std::uint32_t>(random.next());
    const double u = std::sqrt(std::max(0.0, 1 - share * share / (1.16 * 1.16)));
    const double out = std::max(wall + 0.5 * r, wall - 0.0015 + deep * u + sunk * r - 0.3 * r);
    const scene::Vec3 at = frame.at(outline.z_m + p.x, outline.angle + p.y / frame.radius, out);
    if (std::any_of(lying.begin(), lying.end(),
                    [&](const Lying& other) { return scene::length(other.at - at) < 0.97 * (other.r + r); }))
      continue;
    lying.push_back({at, r});
    static const Rgb tints[] = {linear_from_srgb(112, 106, 96), linear_from_srgb(88, 84, 78),
                                linear_from_srgb(126, 114, 94), linear_from_srgb(72, 67, 60),
                                linear_from_srgb(114, 94, 72)};
    const Rgb tint = static_cast<float>(0.75 + 0.3 * (stone_seed % 100) / 100.0) * tints[stone_seed % 5];
    add_stone(rubble, at, r * shape, turn, stone_seed, false, tint, 14);
  }
  for (Rgb& c : soil.albedo) c = 0.45F * c;
  return {std::move(edge), std::move(soil), std::move(rubble)};
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
    const double away = size * t * (1 + 0.45 * rough(round, 1.6, seed + 90U, 3));
    // Along the joint more than away from it.
    const double z = foot.z + 0.55 * away * std::cos(turn),
                 a = angle + 1.3 * away * std::sin(turn) / frame.radius;
    const scene::Vec3 on = frame.at(z, a, 0);
    const double lump = rough(on, 0.006, seed + 91U, 3);
    const double up = high * std::max(0.0, 1 - t * t) * (0.75 + 0.7 * lump) - (row == 14 ? 0.0012 : 0.0002);
    return PatchPoint{frame.at(z, a, -up), static_cast<float>(std::clamp(0.60 + 0.6 * lump, 0.25, 1.0)) *
                                               soil_colour(on, seed + 92U)};
  });
  return {std::move(soil)};
}

bool moves(const scene::FaultKind& kind) { return std::holds_alternative<scene::Infiltration>(kind); }

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
  if (moves(kind)) return {};  // made anew for each picture
  for (Mesh& mesh : solid_meshes(scene, fault_number, 0)) meshes.push_back(std::move(mesh));
  for (Mesh& mesh : meshes) mesh.fault = static_cast<std::uint16_t>(fault_number);
  return meshes;
}

}  // namespace haunch::render
