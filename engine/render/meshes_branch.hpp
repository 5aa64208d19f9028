// SPDX-License-Identifier: Apache-2.0
// What connections are built of. Room-internal header.
#pragma once

#include <cstdint>

#include "matter/branch.hpp"
#include "render/meshes_build.hpp"

namespace haunch::render {

using matter::at_turn;
using matter::lowest_turn;

/// About the branch's axis: `turn` round it, `away` from it, `out` along it from the run's axis.
struct BranchFrame {
  scene::Vec3 middle, out_way, side;
  double run_radius = 0;
  scene::Vec3 at(double turn, double away, double out) const;
  /// How far along the axis the run's wall lies there.
  double wall(double turn, double away) const;
};

/// Adds the parts of one connection to meshes.
struct BranchBuilder {
  const WallFrame& run;
  const BranchFrame& frame;
  const matter::BranchShape& shape;
  const scene::Connection& connection;
  std::uint32_t seed;
  Rgb ware;
  double end_out;  ///< of its own pipe, or of the run's wall

  double run_wall_m() const { return run.section.wall_mm / 1000; }
  double outer_m() const { return shape.bore_radius_m + shape.wall_m; }
  /// The end of the branch's pipe lies in a plane, or where the run's wall is if that comes first; less
  /// where it is broken out.
  double end_at(double turn, double away) const;
  /// What years of flow leave on anything: blotches of dirt, more on what looks up and at the foot.
  Rgb grimed(const Rgb& clean, const scene::Vec3& p, float most) const;

  // The pipe (meshes_branch.cpp).
  void barrel(Mesh& mesh) const;
  void stub(Mesh& mesh) const;

  // The hole it comes in by and what it is set in (meshes_branch_rim.cpp).
  void saddle(Mesh& mesh) const;
  /// Mortar smeared round a pipe where it comes through; `gaps` 0 .. 1: how much of it has fallen out.
  void mortar(Mesh& mesh, double inner, double width, double height, double gaps) const;
  /// The faces of the run's wall in a drilled hole.
  void drilled_face(Mesh& mesh) const;
  /// Behind the gap between hole and pipe: poor mortar, and ground where it is open.
  void bedding(Mesh& mesh) const;
  /// From the hole back to the end of a pipe that lies behind the wall.
  void cavity(Mesh& mesh) const;
  void bricks_about(Mesh& mesh) const;

  // What closes it (meshes_branch_stop.cpp).
  void cap(Mesh& mesh) const;
  void plug(Mesh& rubber, Mesh& steel) const;
  void brick_stop(Mesh& mesh) const;
  void filling(Mesh& mesh) const;
};

inline constexpr int branch_round_steps = 120;

/// Noise of a size in space, about -1 .. 1.
float branch_noise(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves);

}  // namespace haunch::render
