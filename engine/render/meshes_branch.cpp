// SPDX-License-Identifier: Apache-2.0
// Connections: the barrel that runs off into the dark, and the end of a pipe, put together with the hole it
// comes in by and what closes it.
#include "render/meshes_branch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/noise.hpp"
#include "render/marks.hpp"

namespace haunch::render {
namespace {

constexpr double tau = 2 * std::numbers::pi;

float within(float v) { return std::clamp(v, 0.0F, 1.0F); }

/// The lamp stands in the run: it lights the mouth's own edge, and further in ever less.
float light_inside(double beyond, double bore_radius_m) {
  if (beyond < 0.0026) return 1.5F;
  const double in = beyond - 0.0026;
  return static_cast<float>(0.40 * std::exp(-in / (0.060 * bore_radius_m)) + 0.052 * std::exp(-in / 0.13));
}

/// How dark its own joints make it there, 0 .. 1.
float joint_at(double beyond) {
  const double off = std::min(std::abs(beyond - 0.085), std::abs(beyond - 0.31));
  return within(static_cast<float>(1.7 - off / 0.0022));
}

/// What later pipes are made of: usually plastic whatever the run is made of.
Rgb later_ware(const scene::Section& section, std::uint32_t seed) {
  const bool run_is_red = section.material == scene::Material::pvc && section.colour != "grey";
  return run_is_red || (seed & 1U) != 0 ? linear_from_srgb(120, 121, 118) : linear_from_srgb(150, 84, 52);
}

Rgb ware_of(const scene::Connection& connection, const scene::Section& section, std::uint32_t seed) {
  if (connection.fitting == scene::Fitting::hose) {
    static const Rgb tints[] = {linear_from_srgb(44, 46, 48), linear_from_srgb(168, 142, 62),
                                linear_from_srgb(70, 84, 104), linear_from_srgb(92, 96, 88)};
    return tints[(seed >> 3U) % 4];
  }
  if (connection.fitting != scene::Fitting::branch) return later_ware(section, seed);
  return section.material == scene::Material::cast_iron ? 0.22F * whole_ware(section) : whole_ware(section);
}

/// A hose is ribbed.
double ribs_m(const scene::Connection& connection, double out) {
  return connection.fitting == scene::Fitting::hose ? 0.0011 * std::sin(tau * out / 0.007) : 0;
}

}  // namespace

float branch_noise(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves) {
  return matter::layered_noise(static_cast<float>(p.x / size_m), static_cast<float>(p.y / size_m),
                               static_cast<float>(p.z / size_m), seed, octaves);
}

scene::Vec3 BranchFrame::at(double turn, double away, double out) const {
  return middle + out * out_way + scene::Vec3{0, 0, away * std::cos(turn)} + (away * std::sin(turn)) * side;
}
double BranchFrame::wall(double turn, double away) const {
  const double across = std::min(away * std::abs(std::sin(turn)), run_radius * 0.9999);
  return std::sqrt(run_radius * run_radius - across * across);
}

double BranchBuilder::end_at(double turn, double away) const {
  if (shape.set_back_m > 0) return end_out + at_turn(shape.broken_m, turn);
  const double whole = std::min(end_out, frame.wall(turn, away));
  return shape.own_end ? whole + at_turn(shape.broken_m, turn) : whole;
}

Rgb BranchBuilder::grimed(const Rgb& clean, const scene::Vec3& p, float most) const {
  const float blotch = 0.58F + 0.95F * branch_noise(p, 0.028, seed + 51U, 4),
              speck = branch_noise(p, 0.006, seed + 53U, 3);
  const Rgb film = linear_from_srgb(98, 80, 58), dark = linear_from_srgb(52, 42, 31);
  Rgb c = blend(clean, film, most * within(blotch + 0.25F * speck));
  c = blend(c, dark,
            0.85F * most * within(2.0F * branch_noise(p, 0.04, seed + 55U, 4) - 0.02F + 0.6F * speck));
  return (1 + 0.20F * branch_noise(p, 0.013, seed + 57U, 3)) * c;
}

void BranchBuilder::barrel(Mesh& mesh) const {
  const double last = frame.run_radius + shape.barrel_m;
  const int rows = connection.fitting == scene::Fitting::hose ? 300 : 110;
  add_patch(mesh, rows + 1, branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / branch_round_steps;
    // The run's wall where it is broken away leaves none of the mouth standing.
    const double gone = shape.own_end ? 0 : at_turn(shape.broken_m, turn);
    const double start = end_at(turn, shape.bore_radius_m) - 0.0004 + (gone > 0 ? run_wall_m() : 0.0);
    // Close steps at the mouth, where the light falls off.
    const double t = static_cast<double>(row) / rows;
    const double out = start + (last - start) * t * (0.03 + 0.97 * t);
    const double beyond = std::max(0.0, out - start);
    const scene::Vec3 p = frame.at(turn, shape.bore_radius_m + ribs_m(connection, out), out);
    const scene::Vec3 outward = scene::Vec3{0, 0, std::cos(turn)} + std::sin(turn) * frame.side;
    // Wet dirt runs along the lowest line of the branch.
    const float low =
        within(static_cast<float>(-outward.y - 0.55) * 3.0F + 0.5F * branch_noise(p, 0.02, seed + 3U, 2));
    Rgb c = blend(grimed(ware, p, beyond < 0.0026 ? 0.3F : 0.7F), linear_from_srgb(48, 37, 26), 0.80F * low);
    // Its own joints.
    if (connection.fitting != scene::Fitting::hose) c = (1 - 0.88F * joint_at(beyond)) * c;
    return PatchPoint{p, light_inside(beyond + shape.set_back_m, shape.bore_radius_m) * c};
  });
  // Beyond lies the dark.
  add_patch(mesh, 2, branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / branch_round_steps;
    return PatchPoint{frame.at(turn, shape.bore_radius_m * (row == 0 ? 1.01 : 1e-3), last),
                      {0.0005F, 0.0005F, 0.0005F}};
  });
}

void BranchBuilder::stub(Mesh& mesh) const {
  const double outer = outer_m();
  const bool open_about = !shape.gap_m.empty() || shape.set_back_m > 0;
  const double deep = std::max(0.004, open_about ? run_wall_m() + 0.010 : 0.0);
  const int rows = connection.fitting == scene::Fitting::hose ? 150 : 36;
  add_patch(mesh, rows + 1, branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / branch_round_steps, t = static_cast<double>(row) / rows;
    const double top = end_at(turn, outer);
    const double wall = frame.wall(turn, outer), foot = std::max(wall + deep, top + 0.004);
    const double out = top + (foot - top) * t;
    const scene::Vec3 p = frame.at(turn, outer + ribs_m(connection, out), out);
    // Slime gathers at its foot, where the pipe's own wall shades it.
    const auto to_foot = static_cast<float>(wall + 0.004 - out);
    const float low = within(1 - to_foot / 0.016F + 0.9F * branch_noise(p, 0.012, seed + 15U, 3));
    // Runs of dirt down its sides, as from all that drips.
    const float drip = within(1.6F * branch_noise({p.x, p.y / 5, p.z}, 0.009, seed + 16U, 3) + 0.15F);
    // Behind the wall little light reaches it.
    const auto behind = static_cast<float>(std::exp(-std::max(0.0, out - wall) / 0.006));
    return PatchPoint{p, behind * (1 - 0.72F * low) * (1 - 0.45F * drip) * grimed(ware, p, 1.0F)};
  });
  const Rgb broken = blend(broken_ware(run.section), ware, 0.7F);
  add_patch(mesh, 4, 2 * branch_round_steps, true, [&](int row, int column) {
    const double turn = tau * column / (2 * branch_round_steps);
    const double away = shape.bore_radius_m + shape.wall_m * row / 3.0;
    // Edges are a little rounded; the saw left it rough.
    const double chamfer = row == 0 || row == 3 ? 0.0004 : 0;
    const double gone = at_turn(shape.broken_m, turn);
    const scene::Vec3 p = frame.at(turn, away, end_at(turn, outer) + chamfer);
    // What has broken is clean yet.
    if (gone > 0.0008)
      return PatchPoint{p, (1.2F + 0.4F * branch_noise(p, 0.003, seed + 19U, 3)) * grimed(broken, p, 0.2F)};
    return PatchPoint{p, (1.1F + 0.3F * branch_noise(p, 0.004, seed + 18U, 3)) * grimed(ware, p, 0.5F)};
  });
}

namespace {

/// A mesh of a look, if anything was put into it.
struct Parts {
  std::vector<Mesh> meshes;
  template <class Build>
  void add(Grain grain, float gloss, Build build) {
    Mesh mesh;
    mesh.grain = grain;
    mesh.gloss = gloss;
    build(mesh);
    if (!mesh.quads.empty()) meshes.push_back(std::move(mesh));
  }
};

void set_in(Parts& parts, const BranchBuilder& build) {
  using scene::Fitting;
  const Fitting fitting = build.connection.fitting;
  const bool stands_in = build.shape.reach_in_m > 0.0005;
  const double outer = build.outer_m(), rim = build.shape.bore_radius_m + build.shape.rim_m;
  const bool hole = !build.shape.hole_m.empty();
  if (hole)
    parts.add(Grain::stone, 0, [&](Mesh& mesh) {
      if (build.shape.ragged || fitting == Fitting::hose)
        add_broken_edge(mesh, build.run, build.shape.broken_edge, build.run_wall_m(), build.seed);
      else
        build.drilled_face(mesh);
    });
  if (build.shape.set_back_m > 0)
    parts.add(Grain::soil, 0, [&](Mesh& mesh) { build.cavity(mesh); });
  else if (hole)
    parts.add(Grain::soil, 0, [&](Mesh& mesh) { build.bedding(mesh); });
  if (fitting == Fitting::bricked_in)
    parts.add(Grain::stone, 0, [&](Mesh& mesh) { build.bricks_about(mesh); });
  if (build.shape.set_back_m > 0) return;
  parts.add(Grain::stone, 0, [&](Mesh& mesh) {
    if (fitting == Fitting::cut_in)
      build.mortar(mesh, outer - 0.001, 0.022, 0.0075, 0.45);
    else if (fitting == Fitting::saddle_chiselled)
      build.mortar(mesh, rim - 0.001, 0.026, 0.0080, 0.30);
    else if (fitting == Fitting::saddle && (stands_in || !is_plastic(build.run.section.material)))
      build.mortar(mesh, rim - 0.001, 0.007, stands_in ? 0.007 : 0.0025, 0.3);
    else if (fitting == Fitting::branch && stands_in)
      build.mortar(mesh, outer - 0.001, 0.012, 0.007, 0.3);
  });
}

void close(Parts& parts, const BranchBuilder& build) {
  switch (build.connection.stop) {
    case scene::Stop::cap:
      parts.add(Grain::plain, 0.04F, [&](Mesh& mesh) { build.cap(mesh); });
      return;
    case scene::Stop::plug: {
      Mesh steel;
      steel.grain = Grain::crust;
      steel.gloss = 0.25F;
      parts.add(Grain::plain, 0.10F, [&](Mesh& mesh) { build.plug(mesh, steel); });
      parts.meshes.push_back(std::move(steel));
      return;
    }
    case scene::Stop::bricks:
      parts.add(Grain::stone, 0.04F, [&](Mesh& mesh) { build.brick_stop(mesh); });
      return;
  }
}

Grain grain_of(scene::Filling filling) {
  switch (filling) {
    case scene::Filling::silt:
      return Grain::silt;
    case scene::Filling::rubble:
    case scene::Filling::mortar:
      return Grain::stone;
    case scene::Filling::roots:
      break;
  }
  return Grain::soil;
}

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
  const bool stands_in = shape.reach_in_m > 0.0005;
  const double end = stands_in ? wall.radius - shape.reach_in_m : wall.radius + shape.set_back_m;
  const BranchBuilder build{wall, frame, shape, connection, seed, ware_of(connection, wall.section, seed),
                            end};
  Parts parts;
  if (connection.closed) close(parts, build);
  if (connection.blocked_percent > 0)
    parts.add(grain_of(connection.filling), 0.05F, [&](Mesh& mesh) { build.filling(mesh); });
  // Dull: a highlight deep in the branch would belie the dark there.
  parts.add(Grain::plain, 0, [&](Mesh& mesh) { build.barrel(mesh); });
  parts.add(Grain::plain, 0.12F, [&](Mesh& mesh) {
    if (shape.own_end) build.stub(mesh);
    if (shape.rim_m > 0) build.saddle(mesh);
  });
  set_in(parts, build);
  return std::move(parts.meshes);
}

}  // namespace haunch::render
