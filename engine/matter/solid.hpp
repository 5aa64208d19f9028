// SPDX-License-Identifier: Apache-2.0
// Things with a body that lie in the bore or stand into it: what a fault's numbers and seed grow into.
#pragma once

#include <cstdint>
#include <vector>

#include "base/clock.hpp"
#include "scene/scene.hpp"

namespace haunch::matter {

/// What a part is made of: how it looks, never what it is called.
enum class Stuff {
  brick,
  mortar,
  ware,    ///< the pipe's own, whole face
  broken,  ///< the pipe's own, where it broke
  glass,
  cloth,
  paper,
  plastic,  ///< smooth, of the colour `tint` picks
  wood,
  steel,
  rubber,
  stone,
  concrete,
  sand,
  peat,
  earth,
  fur,
  skin,   ///< bare, an animal's
  shell,  ///< an insect's
  eye,
  hollow,  ///< where no light comes back from
  wet,     ///< a film of water on the wall
  stream,  ///< water in the air, clear
  foam,    ///< water broken up
};

struct SolidPoint {
  scene::Vec3 at;   ///< scene coordinates, m
  scene::Vec3 own;  ///< place on the thing itself, m: its grain goes with it
};
/// A sheet of rows x columns points.
struct SolidPart {
  Stuff stuff = Stuff::stone;
  std::uint32_t tint = 0;  ///< picks one of the colours this stuff comes in
  int rows = 0, columns = 0;
  bool closed = false;  ///< the last column joins the first
  std::vector<SolidPoint> points;
};
struct Solid {
  std::vector<SolidPart> parts;
  base::ClockArc arc;  ///< where it stands or lies on the wall, hours looking downstream, from < to clockwise
};

/// The solid a fault grows into; no parts for kinds that are none. Water that comes in moves with time.
Solid solid_of(const scene::Scene& scene, int fault_number, double time_s = 0);

/// Share of the bore's area that a solid hides seen along the axis, 0 .. 1.
double share_of_bore(const scene::Scene& scene, const Solid& solid);
/// Its highest point above the invert there, m.
double top_above_invert_m(const scene::Scene& scene, const Solid& solid);

Solid obstacle_solid(const scene::Scene& scene, const scene::Obstacle& obstacle, std::uint64_t seed);
Solid soil_solid(const scene::Scene& scene, const scene::SoilIngress& soil, std::uint64_t seed);
Solid water_solid(const scene::Scene& scene, const scene::Infiltration& water, std::uint64_t seed,
                  double time_s);
/// Foam that turns over the place where water leaves; nothing where none runs.
Solid loss_solid(const scene::Scene& scene, const scene::Exfiltration& water, std::uint64_t seed);
/// What runs in by a connection, as it is at a moment; no parts where nothing does.
Solid incoming_solid(const scene::Scene& scene, const scene::Connection& connection, std::uint64_t seed,
                     double time_s);
Solid vermin_solid(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed);
/// The pieces of a broken wall in their places, or what has fallen in.
Solid broken_solid(const scene::Scene& scene, const scene::BrokenWall& broken, std::uint64_t seed);
Solid ring_solid(const scene::Scene& scene, const scene::SealingRing& ring, std::uint64_t seed);
/// Where the wall is open round the pieces.
scene::Hole hole_of(const scene::BrokenWall& broken);
/// Where the joint nearest to z is, or z in a run of one unit.
double joint_near_m(const scene::Scene& scene, double z_m);
/// Height of its lowest point above the bore's axis, m.
double lowest_above_axis_m(const scene::Scene& scene, const Solid& solid);

}  // namespace haunch::matter
