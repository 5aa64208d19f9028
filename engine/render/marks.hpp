// SPDX-License-Identifier: Apache-2.0
// What faults leave on the wall itself: cracks, and where the wall is missing.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "matter/branch.hpp"
#include "matter/wall.hpp"
#include "render/marks_patch.hpp"
#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// A short straight piece of crack on the unrolled wall, metres.
struct CrackBit {
  float z0, s0, z1, s1;
  float half0, half1;  // half the opening at its ends
  float faintness;
};

/// A crack cut up into bits, found through a grid of small cells.
struct CrackMark {
  std::uint16_t fault = 0;
  float z0 = 0, z1 = 0;  // chainages it may touch
  float angle0 = 0;      // the grid's first angle
  float radius = 0;
  float cell = 0.008F;
  int cells_z = 0, cells_s = 0;
  std::vector<std::int32_t> first;  // of each cell in bits_in_cell
  std::vector<std::int32_t> bits_in_cell;
  std::vector<CrackBit> bits;
  std::vector<float> damp;  // how far it darkens the wall about it, on a grid of its own
  int damp_columns = 0;
  bool open = false;
  Rgb broken;       // albedo of the broken ware
  float wall = 0;   // thickness, m
  Rgb lime;         // what seeping water has left beside it
  float crust = 0;  // how much of that, 0 .. 1
  std::uint32_t seed = 0;
};

/// Where the wall is missing, with a chipped edge.
struct OpeningMark {
  std::uint16_t fault = 0;
  float z0 = 0, z1 = 0;
  float angle = 0, half_angle = 0;  // what lies outside need not be asked
  float radius = 0;
  bool is_branch = false;
  matter::WallOutline outline;
  // Metres to the outline's edge, negative inside, on a fine grid over (along, round).
  float grid_z = 0, grid_s = 0, grid_step = 0.0006F;
  int grid_columns = 0, grid_rows = 0;
  std::vector<float> grid;
  matter::BranchShape branch;
  bool stands_in = false, moulded = false;
  // The streak below a branch: +1 it falls clockwise, -1 the other way, 0 there is none; metres round
  // the wall from the middle to the mouth's edge; the invert's angle from the middle.
  float falls = 0, mouth = 0, streak_angle = 0, streak_half = 0;
  std::vector<float> streak;
  Rgb broken;
  std::uint32_t seed = 0;
};

struct Marks {
  std::vector<CrackMark> cracks;
  std::vector<OpeningMark> openings;
  std::vector<PatchMark> patches;
};

OpeningMark hole_mark(const scene::Scene& scene, const scene::Hole& hole, int number);
/// Where bricks are out of the wall.
OpeningMark brick_mark(const scene::Scene& scene, const scene::BrickDamage& damage, int number);
OpeningMark branch_mark(const scene::Scene& scene, const scene::Connection& connection, int number);
/// Opens the wall where it is missing, and paints what is about the opening.
void open_wall(const OpeningMark& mark, Samples& samples);

Marks make_marks(const scene::Scene& scene);
void mark_wall(const Marks& marks, Samples& samples);
/// Where mark_wall will hide the bare wall wholly, so that it needs no colour: 1, else 0, for places on the
/// wall (chainage, angle), as many as fill vectors. False: nowhere among them. All lie at addresses for
/// vectors.
bool find_painted_over(const Marks& marks, const float* z, const float* angle, int count, std::int32_t* over);

/// Smooth to the bone: PVC, polyethylene, a liner.
bool is_plastic(scene::Material material);
/// Albedo of a pipe's ware where it is freshly broken.
Rgb broken_ware(const scene::Section& section);
/// Albedo of a pipe's ware where it is whole (plain pipes of connections).
Rgb whole_ware(const scene::Section& section);

}  // namespace haunch::render
