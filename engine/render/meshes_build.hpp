// SPDX-License-Identifier: Apache-2.0
// Helpers that turn shapes on a pipe's wall into meshes.
// Room-internal header.
#pragma once

#include <functional>

#include "matter/deposit.hpp"
#include "matter/wall.hpp"
#include "render/meshes.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

struct PatchPoint {
  scene::Vec3 at;
  Rgb albedo;
};
/// Adds a sheet of rows x columns points; `closed` joins the last column to the first. Normals come
/// from the sheet itself.
void add_patch(Mesh& mesh, int rows, int columns, bool closed,
               const std::function<PatchPoint(int, int)>& point);

/// A stone with broken faces (angular) or water-worn (round). Half axes in metres.
void add_stone(Mesh& mesh, const scene::Vec3& centre, const scene::Vec3& half, double turn,
               std::uint32_t seed, bool angular, const Rgb& albedo, int detail);

/// Places on and about the wall around z: of the straight piece there, or of the curve it is part of.
struct WallFrame {
  scene::Piece piece;
  scene::Section section;
  const scene::Scene* scene = nullptr;
  double radius = 0;  ///< of the wall there
  /// Chainage, angle clockwise from the crown, metres outward from the wall.
  scene::Vec3 at(double z, double angle, double out) const;
};
WallFrame wall_frame(const scene::Scene& scene, double z, double clock_h);

/// The faces of the wall's own thickness along a broken outline.
void add_broken_edge(Mesh& mesh, const WallFrame& frame, const matter::WallOutline& outline, double thick_m,
                     std::uint32_t seed);
/// Points evenly along an outline.
std::vector<scene::Vec2> along_outline(const matter::WallOutline& outline, int count);

/// Noise in octaves, -1 .. 1, features of about `size_m`.
double uneven_at(const scene::Vec3& p, double size_m, std::uint32_t seed, int octaves);
/// Pebbles in space: how near the middle of one a place is (0 .. 1) and which one.
struct Pebble {
  double inside = 0;
  std::uint32_t id = 0;
};
Pebble pebble_at(const scene::Vec3& p, double cell_m, std::uint32_t seed);
Rgb soil_colour(const scene::Vec3& p, std::uint32_t seed);

std::vector<Mesh> hole_meshes(const scene::Scene& scene, const scene::Hole& hole, std::uint64_t seed);
std::vector<Mesh> brick_meshes(const scene::Scene& scene, const scene::BrickDamage& damage,
                               std::uint64_t seed);
std::vector<Mesh> branch_meshes(const scene::Scene& scene, const scene::Connection& connection,
                                std::uint64_t seed);
std::vector<Mesh> settled_meshes(const scene::Scene& scene, const scene::Settled& settled,
                                 std::uint64_t seed);
std::vector<Mesh> attached_meshes(const scene::Scene& scene, const scene::Attached& attached,
                                  std::uint64_t seed);
/// A lining and what is wrong with it, or a repair: each mesh has the number of the fault it shows.
std::vector<Mesh> coat_meshes(const scene::Scene& scene, int fault_number);
/// Things in the bore, as they are at a moment.
std::vector<Mesh> solid_meshes(const scene::Scene& scene, int fault_number, double time_s);

}  // namespace haunch::render
