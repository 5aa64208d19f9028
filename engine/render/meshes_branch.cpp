// SPDX-License-Identifier: Apache-2.0
// Connections: the barrel that runs off into the dark, the saddle's rim, the hacked hole and its
// mortar, the cap, and the end of a pipe that reaches in too far.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "render/marks.hpp"
#include "render/meshes_build.hpp"
#include "scene/matter_noise.hpp"

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
  return scene::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                              static_cast<float>(p.z / size_m), seed, octaves);
}
float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

constexpr int round_steps = 96;

struct Builder {
  const BranchFrame& frame;
  const scene::BranchShape& shape;
  std::uint32_t seed;

  /// The branch ends in the plane `end_out`, or where the run's wall is if that comes first.
  double end_at(double turn, double away, double end_out) const {
    return std::min(end_out, frame.wall(turn, away));
  }

  /// Wet dirt runs along the lowest line of the branch.
  Rgb inside_colour(const Rgb& ware, const scene::Vec3& p, double turn, double beyond) const {
    const scene::Vec3 way = {0, 0, std::cos(turn)};
    const scene::Vec3 outward = way + std::sin(turn) * frame.side;
    const float low =
        within(static_cast<float>(-outward.y - 0.55) * 3.0F + 0.5F * rough(p, 0.02, seed + 3U, 2));
    Rgb c = blend(ware, linear_from_srgb(60, 46, 32), 0.75F * low);
    c = (1 + 0.25F * rough(p, 0.03, seed + 7U, 3)) * c;
    // Its first own joint.
    const double joint = std::abs(beyond - 0.085);
    if (joint < 0.0025) c = 0.12F * c;
    return static_cast<float>(std::clamp(1.0 - beyond / 0.30, 0.03, 1.0)) * c;
  }

  void barrel(Mesh& mesh, const Rgb& ware, double end_out) const {
    const double last = frame.run_radius + shape.barrel_m;
    const int rows = 60;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps;
      const double start = end_at(turn, shape.bore_radius_m, end_out) - 0.0004;
      const double t = static_cast<double>(row) / rows;
      const double out = start + (last - start) * t * (0.35 + 0.65 * t);
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

  /// A plug: a rim and a dished face with a bar across it.
  void cap(Mesh& mesh, double out) const {
    const Rgb plastic = linear_from_srgb(74, 76, 80);
    const int rows = 36;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps, share = 1 - static_cast<double>(row) / rows * 0.998;
      const double away = shape.bore_radius_m * share;
      double lift = share > 0.90 ? -0.004 : share > 0.84 ? 0.003 : 0.0015 * share * share;
      const double bar = std::abs(away * std::cos(turn + 0.6));
      if (share < 0.80 && bar < 0.10 * shape.bore_radius_m) lift = -0.0035;
      const scene::Vec3 p = frame.at(turn, away, out + lift);
      return PatchPoint{
          p, (1 + 0.3F * rough(p, 0.015, seed + 11U, 3)) * (share > 0.93 ? 0.4F * plastic : plastic)};
    });
  }

  /// The stub: its outside, its sawn end.
  void stub(Mesh& mesh, const Rgb& ware, double end_out) const {
    const double outer = shape.bore_radius_m + shape.wall_m;
    const int rows = 24;
    const Rgb dirt = linear_from_srgb(92, 76, 56);
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps, t = static_cast<double>(row) / rows;
      const double foot = frame.wall(turn, outer) + 0.004;
      const scene::Vec3 p =
          frame.at(turn, outer, end_at(turn, outer, end_out) + (foot - end_at(turn, outer, end_out)) * t);
      return PatchPoint{
          p, blend(ware, dirt,
                   within(0.15F + 0.8F * rough(p, 0.025, seed + 15U, 4) + 0.3F * static_cast<float>(t)))};
    });
    add_patch(mesh, 4, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps;
      const double away = shape.bore_radius_m + shape.wall_m * row / 3.0;
      // Edges are a little rounded; the saw left it rough.
      const double chamfer = row == 0 || row == 3 ? 0.0004 : 0;
      const scene::Vec3 p = frame.at(turn, away, end_at(turn, outer, end_out) + chamfer);
      return PatchPoint{p, (1.25F + 0.25F * rough(p, 0.004, seed + 18U, 3)) * ware};
    });
  }

  /// A rim that lies on the run's wall.
  void saddle(Mesh& mesh, const Rgb& ware) const {
    const int rows = 12;
    add_patch(mesh, rows + 1, round_steps, true, [&](int row, int column) {
      const double turn = tau * column / round_steps, t = static_cast<double>(row) / rows;
      const double away = shape.bore_radius_m + shape.rim_m * t;
      const double proud =
          0.0035 * std::sqrt(std::clamp((1 - t) * 5.0, 0.0, 1.0)) - (row == rows ? 0.0006 : 0.0);
      const scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away) - proud);
      return PatchPoint{p, (t > 0.85 ? 0.45F : 1.0F) * (1 + 0.2F * rough(p, 0.02, seed + 21U, 3)) * ware};
    });
  }

  /// Mortar smeared round a pipe where it comes through.
  void mortar(Mesh& mesh, double inner, double width, double height) const {
    const Rgb grey = linear_from_srgb(142, 136, 124), dark = linear_from_srgb(86, 78, 66);
    const int rows = 14;
    add_patch(mesh, rows + 1, round_steps * 2, true, [&](int row, int column) {
      const double turn = tau * column / (2 * round_steps), t = static_cast<double>(row) / rows;
      const scene::Vec3 near = frame.at(turn, inner, frame.wall(turn, inner));
      const double reach = width * (0.75 + 0.55 * static_cast<double>(rough(near, 0.016, seed + 25U, 3)));
      const double away = inner + std::max(0.002, reach) * t;
      scene::Vec3 p = frame.at(turn, away, frame.wall(turn, away));
      const double lump = 0.75 + 0.6 * static_cast<double>(rough(p, 0.009, seed + 27U, 3));
      const double proud =
          t > 0.99 ? -0.0008 : std::max(0.0003, height * (1 - t) * (1 - t) * lump + 0.0008 * (1 - t));
      p = frame.at(turn, away, frame.wall(turn, away) - proud);
      return PatchPoint{p, blend(dark, grey, within(0.6F + 0.9F * rough(p, 0.011, seed + 29U, 4)))};
    });
  }
};

}  // namespace

std::vector<Mesh> branch_meshes(const scene::Scene& scene, const scene::Connection& connection,
                                std::uint64_t seed64) {
  const WallFrame wall = wall_frame(scene, connection.at_m);
  const scene::BranchShape shape = scene::branch_shape(connection, wall.radius, seed64);
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
      run_is_red || (seed & 1U) != 0 ? linear_from_srgb(158, 160, 160) : linear_from_srgb(182, 104, 62);
  const Rgb ware = later ? plastic : whole_ware(wall.section);
  const bool stands_in = shape.reach_in_m > 0.0005;
  const double end_out = wall.radius - shape.reach_in_m;

  Mesh pipe;
  pipe.grain = Grain::plain;
  pipe.gloss = 0.18F;
  const bool own_end = stands_in || connection.fitting == scene::Fitting::cut_in;
  const double end = stands_in ? end_out : wall.radius;
  if (connection.closed) {
    Mesh lid;
    lid.gloss = 0.15F;
    build.barrel(pipe, ware, end);
    build.cap(lid, own_end ? end + 0.006 : wall.radius + 0.006);
    std::vector<Mesh> meshes;
    meshes.push_back(std::move(lid));
    if (own_end) build.stub(pipe, ware, end);
    if (shape.rim_m > 0) build.saddle(pipe, ware);
    meshes.push_back(std::move(pipe));
    return meshes;
  }
  build.barrel(pipe, ware, end);
  if (own_end) build.stub(pipe, ware, end);
  if (shape.rim_m > 0) build.saddle(pipe, ware);
  std::vector<Mesh> meshes;
  meshes.push_back(std::move(pipe));
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
  } else if (stands_in || later) {
    Mesh collar;
    collar.grain = Grain::crust;
    const double inner = shape.rim_m > 0 ? shape.bore_radius_m + shape.rim_m : outer;
    build.mortar(collar, inner - 0.001, 0.010, stands_in ? 0.007 : 0.002);
    meshes.push_back(std::move(collar));
  }
  return meshes;
}

}  // namespace haunch::render
