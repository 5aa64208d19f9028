// SPDX-License-Identifier: Apache-2.0
// Connections: the barrel that runs off into the dark, the saddle's rim, the hacked hole and its
// mortar, the cap, and the end of a pipe that reaches in too far.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "render/marks.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

/// About the branch's axis: `turn` round it, `away` from it, `out` along it from the run's axis.
struct BranchFrame {
  scene::Vec3 middle, out_way, side;
  double run_radius = 0;
  scene::Vec3 at(double turn, double away, double out) const {
    return middle + out * out_way + scene::Vec3{0, 0, away * std::cos(turn)} + (away * std::sin(turn)) * side;
  }
  /// How far along the axis the run's wall lies there.
  double wall(double turn, double away) const {
    const double across = std::min(away * std::abs(std::sin(turn)), run_radius * 0.9999);
    return std::sqrt(run_radius * run_radius - across * across);
  }
};

float rough(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

constexpr int round_steps = 120;

struct Builder {
  const BranchFrame& frame;
  const matter::BranchShape& shape;
  std::uint32_t seed;

  /// The branch ends in the plane `end_out`, or where the run's wall is if that comes first.
  double end_at(double turn, double away, double end_out) const {
    return std::min(end_out, frame.wall(turn, away));
  }

  /// What years of flow leave on anything: blotches of dirt, more on what looks up and at the foot.
  Rgb grimed(const Rgb& ware, const scene::Vec3& p, float most) const {
    const float blotch = 0.58F + 0.95F * rough(p, 0.028, seed + 51U, 4),
                speck = rough(p, 0.006, seed + 53U, 3);
    const Rgb film = linear_from_srgb(98, 80, 58), dark = linear_from_srgb(52, 42, 31);
    Rgb c = blend(ware, film, most * within(blotch + 0.25F * speck));
    c = blend(c, dark, 0.85F * most * within(2.0F * rough(p, 0.04, seed + 55U, 4) - 0.02F + 0.6F * speck));
    return (1 + 0.20F * rough(p, 0.013, seed + 57U, 3)) * c;
  }

  /// The lamp stands in the run: it lights the mouth's own edge, and further in ever less.
  float light(double beyond) const {
    if (beyond < 0.0026) return 1.5F;
    const double in = beyond - 0.0026;
    return static_cast<float>(0.40 * std::exp(-in / (0.060 * shape.bore_radius_m)) +
                              0.024 * std::exp(-in / 0.16));
  }

  Rgb inside_colour(const Rgb& ware, const scene::Vec3& p, double turn, double beyond) const {
    const scene::Vec3 way = {0, 0, std::cos(turn)};
    const scene::Vec3 outward = way + std::sin(turn) * frame.side;
    // Wet dirt runs along the lowest line of the branch.
    const float low =
        within(static_cast<float>(-outward.y - 0.55) * 3.0F + 0.5F * rough(p, 0.02, seed + 3U, 2));
    Rgb c = blend(grimed(ware, p, beyond < 0.0026 ? 0.3F : 0.7F), linear_from_srgb(48, 37, 26), 0.80F * low);
    // Its first own joint.
    if (std::abs(beyond - 0.085) < 0.0025) c = 0.12F * c;
    return light(beyond) * c;
  }

  void barrel(Mesh& mesh, const Rgb& ware, double end_out) const {
    const double last = frame.run_radius + shape.barrel_m;
    const int rows = 72;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps;
      const double start = end_at(turn, shape.bore_radius_m, end_out) - 0.0004;
      // Close steps at the mouth, where the light falls off.
      const double t = static_cast<double>(row) / rows;
      const double out = start + (last - start) * t * (0.03 + 0.97 * t);
      const scene::Vec3 p = frame.at(turn, shape.bore_radius_m, out);
      return PatchPoint{p, inside_colour(ware, p, turn, std::max(0.0, out - start))};
    });
    // Beyond lies the dark.
    disc(mesh, last, shape.bore_radius_m * 1.01, {0.0005F, 0.0005F, 0.0005F});
  }

  void disc(Mesh& mesh, double out, double radius, const Rgb& colour) const {
    add_patch(mesh, 2, round_steps, true, [&](int row, int column) {
      return PatchPoint{frame.at(tau * column / round_steps, row == 0 ? radius : radius * 1e-3, out), colour};
    });
  }

  /// A plug that fills the mouth: a rim against the ware, and a face sunk a little behind it, dull with
  /// what has dried on it. Where the mouth lies in the run's wall the plug is dished as that wall is.
  void cap(Mesh& mesh, double out, bool dished) const {
    const Rgb plastic = linear_from_srgb(158, 146, 126), dirt = linear_from_srgb(58, 46, 34);
    const int rows = 48;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps, share = 1 - static_cast<double>(row) / rows * 0.998;
      const double away = shape.bore_radius_m * share;
      const double face = dished ? frame.wall(turn, away) + 0.0022 : out;
      // Outwards is away from the run: the rim stands nearest, the face lies behind it.
      const double rim = share > 0.985  ? 0.0012
                         : share > 0.86 ? 0.0
                                        : 0.0050 * std::min(1.0, (0.86 - share) / 0.05);
      const scene::Vec3 flat = frame.at(turn, away, face + rim);
      const double bump = 0.0006 * static_cast<double>(rough(flat, 0.010, seed + 71U, 2));
      const scene::Vec3 p = flat + bump * frame.out_way;
      // A dark seam outside the rim, and dirt that lies in the corner behind it and has run down.
      const float corner = share > 0.975  ? 0.16F
                           : share > 0.90 ? 1.15F
                           : share > 0.72 ? static_cast<float>(0.35 + 0.55 * (0.86 - share) / 0.14)
                                          : 0.9F;
      const float run = within(1.3F * rough({p.x, p.y / 5, p.z}, 0.011, seed + 72U, 3) + 0.25F);
      return PatchPoint{p,
                        std::clamp(corner, 0.14F, 1.15F) * blend(grimed(plastic, p, 0.8F), dirt, 0.6F * run)};
    });
  }

  /// The stub: its outside, its sawn end.
  void stub(Mesh& mesh, const Rgb& ware, double end_out) const {
    const double outer = shape.bore_radius_m + shape.wall_m;
    const int rows = 36;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps, t = static_cast<double>(row) / rows;
      const double foot = frame.wall(turn, outer) + 0.004;
      const double top = end_at(turn, outer, end_out);
      const scene::Vec3 p = frame.at(turn, outer, top + (foot - top) * t);
      // Slime gathers at its foot, where the pipe's own wall shades it.
      const auto to_foot = static_cast<float>((foot - top) * (1 - t));
      const float low = within(1 - to_foot / 0.016F + 0.9F * rough(p, 0.012, seed + 15U, 3));
      // Runs of dirt down its sides, as from all that drips.
      const float run = within(1.6F * rough({p.x, p.y / 5, p.z}, 0.009, seed + 16U, 3) + 0.15F);
      return PatchPoint{p, (1 - 0.72F * low) * (1 - 0.45F * run) * grimed(ware, p, 1.0F)};
    });
    add_patch(mesh, 4, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps;
      const double away = shape.bore_radius_m + shape.wall_m * row / 3.0;
      // Edges are a little rounded; the saw left it rough.
      const double chamfer = row == 0 || row == 3 ? 0.0004 : 0;
      const scene::Vec3 p = frame.at(turn, away, end_at(turn, outer, end_out) + chamfer);
      return PatchPoint{p, (1.1F + 0.3F * rough(p, 0.004, seed + 18U, 3)) * grimed(ware, p, 0.5F)};
    });
  }

  /// A collar that lies on the run's wall: a hub round the mouth, and a flange that ends in a step.
  void saddle(Mesh& mesh, const Rgb& ware) const {
    const int rows = 26;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      // Its first row is the hub's inner face.
      const double turn = tau * column / round_steps, t = std::max(0.0, (row - 1.0) / (rows - 1));
      const double away = shape.bore_radius_m + shape.rim_m * t - (row == 0 ? 0.0003 : 0.0);
      const double hub = 0.0026 * (t < 0.22 ? 1 : std::max(0.0, 1 - (t - 0.22) / 0.10));
      const double flange = 0.0030 * std::sqrt(std::clamp((1 - t) * 9.0, 0.0, 1.0));
      const double proud = hub + flange - (row == rows ? 0.0006 : row == 0 ? 0.0080 : 0.0);
      const scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away) - proud);
      // Dirt lies against the hub and along the flange's edge.
      const float corner = t > 0.22 && t < 0.42 ? 0.45F : t > 0.93 ? 0.30F : 1.0F;
      return PatchPoint{p, corner * grimed(ware, p, 0.6F)};
    });
  }

  /// Mortar smeared round a pipe where it comes through; `gaps` 0 .. 1: how much of it has fallen out.
  void mortar(Mesh& mesh, double inner, double width, double height, double gaps) const {
    const Rgb grey = linear_from_srgb(126, 120, 108), dark = linear_from_srgb(66, 58, 48);
    const int rows = 26;
    add_patch(mesh, rows + 1, round_steps * 2, true, [&](int row, int column) {
      const double turn = tau * column / (2 * round_steps), t = static_cast<double>(row) / rows;
      const scene::Vec3 near = frame.at(turn, inner, frame.wall(turn, inner));
      const double ragged = static_cast<double>(rough(near, 0.030, seed + 25U, 4));
      const double reach = width * std::max(0.30, 0.85 + 0.7 * ragged);
      const double away = inner + std::max(0.002, reach) * t;
      scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away));
      const auto lump = static_cast<double>(rough(p, 0.011, seed + 27U, 4));
      const double lost =
          gaps * std::clamp(2.4 * (static_cast<double>(rough(near, 0.036, seed + 61U, 3)) - 0.02), 0.0, 1.0);
      // Thick lumps that end in a rounded edge of their own.
      const double round = std::sqrt(std::max(0.0, 1 - t * t));
      double proud = height * round * std::max(0.12, 0.62 + 1.3 * lump) * (1 - 0.45 * t);
      proud -= lost * (proud + 0.007);
      if (row == rows) proud = -0.0012;
      p = frame.at(turn, away, frame.wall(turn, away) - proud);
      // Hollows and the foot lie in shade.
      const auto shade =
          static_cast<float>(std::clamp(0.85 + 1.2 * lump - 0.7 * lost - 0.45 * t * t, 0.12, 1.25));
      return PatchPoint{p, shade * blend(dark, grey, within(0.55F + 0.9F * rough(p, 0.016, seed + 29U, 4)))};
    });
  }
};

}  // namespace

std::vector<Mesh> branch_meshes(const scene::Scene& scene, const scene::Connection& connection,
                                std::uint64_t seed64) {
  const WallFrame wall = wall_frame(scene, connection.at_m, connection.clock_h);
  const matter::BranchShape shape = matter::branch_shape(connection, wall.radius, seed64);
  const auto seed = static_cast<std::uint32_t>(seed64);
  BranchFrame frame;
  const scene::Vec2 centre = scene::centre_at(wall.piece, shape.z_m);
  frame.middle = {centre.x, centre.y, shape.z_m};
  frame.out_way = {std::sin(shape.angle), std::cos(shape.angle), 0};
  frame.side = {std::cos(shape.angle), -std::sin(shape.angle), 0};
  frame.run_radius = wall.radius;
  const Builder build{frame, shape, seed};

  // A later connection is usually plastic whatever the run is made of.
  const bool later = connection.fitting != scene::Fitting::branch;
  const bool run_is_red = wall.section.material == scene::Material::pvc && wall.section.colour != "grey";
  const Rgb plastic =
      run_is_red || (seed & 1U) != 0 ? linear_from_srgb(120, 121, 118) : linear_from_srgb(150, 84, 52);
  const Rgb ware = later                                                 ? plastic
                   : wall.section.material == scene::Material::cast_iron ? 0.22F * whole_ware(wall.section)
                                                                         : whole_ware(wall.section);
  const bool stands_in = shape.reach_in_m > 0.0005;
  const double end_out = wall.radius - shape.reach_in_m;

  // Dull: a highlight deep in the branch would belie the dark there.
  Mesh throat;
  Mesh pipe;
  pipe.grain = Grain::plain;
  pipe.gloss = 0.12F;
  const bool own_end = stands_in || connection.fitting == scene::Fitting::cut_in;
  const double end = stands_in ? end_out : wall.radius;
  if (connection.closed) {
    Mesh lid;
    lid.gloss = 0.04F;
    build.barrel(throat, ware, end);
    build.cap(lid, end + 0.004, !own_end);
    std::vector<Mesh> meshes;
    meshes.push_back(std::move(lid));
    if (own_end) build.stub(pipe, ware, end);
    if (shape.rim_m > 0) build.saddle(pipe, ware);
    meshes.push_back(std::move(pipe));
    meshes.push_back(std::move(throat));
    return meshes;
  }
  build.barrel(throat, ware, end);
  if (own_end) build.stub(pipe, ware, end);
  if (shape.rim_m > 0) build.saddle(pipe, ware);
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(throat));
  if (!pipe.quads.empty()) meshes.push_back(std::move(pipe));
  const double outer = shape.bore_radius_m + shape.wall_m;
  if (connection.fitting == scene::Fitting::cut_in) {
    Mesh edge;
    edge.grain = Grain::stone;
    add_broken_edge(edge, wall, shape.broken_edge, wall.section.wall_mm / 1000, seed);
    meshes.push_back(std::move(edge));
    // Behind the gap: poor mortar and soil.
    Mesh fill;
    fill.grain = Grain::soil;
    const int rows = 12;
    const double back = std::min(0.008, 0.6 * wall.section.wall_mm / 1000);
    add_patch(fill, rows + 1, 2 * round_steps, true, [&](int row, int column) {
      const double turn = tau * column / (2 * round_steps), t = static_cast<double>(row) / rows;
      const double away = outer - 0.001 + 0.022 * t;
      scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away) + back);
      const float lump = rough(p, 0.010, seed + 41U, 3);
      p = p + (0.004 * static_cast<double>(lump)) * frame.out_way;
      const Rgb mortar = linear_from_srgb(150, 144, 130);
      return PatchPoint{p,
                        (0.75F - 0.5F * lump) * blend(mortar, soil_colour(p, seed + 44U),
                                                      within(0.5F + 1.6F * rough(p, 0.03, seed + 45U, 2)))};
    });
    meshes.push_back(std::move(fill));
    Mesh patching;
    patching.grain = Grain::stone;
    build.mortar(patching, outer - 0.001, 0.022, 0.0075, 1.0);
    meshes.push_back(std::move(patching));
  } else if (stands_in || (later && wall.section.material != scene::Material::pvc)) {
    Mesh collar;
    collar.grain = Grain::stone;
    const double inner = shape.rim_m > 0 ? shape.bore_radius_m + shape.rim_m : outer;
    build.mortar(collar, inner - 0.001, shape.rim_m > 0 ? 0.007 : 0.012, stands_in ? 0.007 : 0.0025, 0.3);
    meshes.push_back(std::move(collar));
  }
  return meshes;
}

}  // namespace haunch::render
