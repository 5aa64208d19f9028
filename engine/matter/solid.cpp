// SPDX-License-Identifier: Apache-2.0
#include "matter/solid.hpp"

#include <algorithm>
#include <cmath>

#include "matter/brick_damage.hpp"
#include "matter/noise.hpp"
#include "matter/obstacle_build.hpp"

namespace haunch::matter {
namespace {

struct Grown {
  const scene::Scene& scene;
  std::uint64_t seed;
  double time_s;
  Solid operator()(const scene::SoilIngress& soil) const { return soil_solid(scene, soil, seed); }
  Solid operator()(const scene::Infiltration& water) const { return water_solid(scene, water, seed, time_s); }
  Solid operator()(const scene::Exfiltration& water) const { return loss_solid(scene, water, seed); }
  Solid operator()(const scene::Vermin& vermin) const { return vermin_solid(scene, vermin, seed); }
  Solid operator()(const scene::BrokenWall& broken) const { return broken_solid(scene, broken, seed); }
  Solid operator()(const scene::BrickDamage& damage) const { return brick_solid(scene, damage, seed); }
  Solid operator()(const scene::SealingRing& ring) const { return ring_solid(scene, ring, seed); }
  Solid operator()(const scene::Obstacle& obstacle) const { return obstacle_solid(scene, obstacle, seed); }
  template <class NoSolid>
  Solid operator()(const NoSolid&) const {
    return {};
  }
};

}  // namespace

Solid solid_of(const scene::Scene& scene, int fault_number, double time_s) {
  return std::visit(Grown{scene, scene::fault_seed(scene.scenario, fault_number), time_s},
                    scene.scenario.faults[static_cast<std::size_t>(fault_number - 1)].kind);
}

double share_of_bore(const scene::Scene& scene, const Solid& solid) {
  if (solid.parts.empty()) return 0;
  Solid flat = solid;
  double radius = 0;
  for (SolidPart& part : flat.parts)
    for (SolidPoint& p : part.points) {
      const scene::Vec2 centre = scene::centre_at(scene, p.at.z);
      radius = scene::radius_at(scene, p.at.z);
      p.at = {p.at.x - centre.x, p.at.y - centre.y, 0};
    }
  return share_hidden(flat, radius);
}

double top_above_invert_m(const scene::Scene& scene, const Solid& solid) {
  double top = 0;
  for (const SolidPart& part : solid.parts)
    for (const SolidPoint& p : part.points) top = std::max(top, p.at.y - scene::invert_at(scene, p.at.z));
  return top;
}

double joint_near_m(const scene::Scene& scene, double z) {
  double best = z, off = 1e9;
  for (const scene::Joint& joint : scene.joints)
    if (std::abs(joint.at_m - z) < off) off = std::abs(joint.at_m - z), best = joint.at_m;
  return best;
}

double lowest_above_axis_m(const scene::Scene& scene, const Solid& solid) {
  double low = 1e9;
  for (const SolidPart& part : solid.parts)
    for (const SolidPoint& p : part.points) low = std::min(low, p.at.y - scene::centre_at(scene, p.at.z).y);
  return low;
}

Solid obstacle_solid(const scene::Scene& scene, const scene::Obstacle& obstacle, std::uint64_t seed) {
  const scene::Piece& piece = scene.pieces[static_cast<std::size_t>(scene::piece_at(scene, obstacle.at_m))];
  const scene::Section& section = scene.scenario.sections[static_cast<std::size_t>(piece.section)];
  const ObstacleMaker maker{scene,
                            obstacle,
                            seed,
                            piece.radius_m,
                            obstacle.takes_percent / 100,
                            section.wall_mm / 1000,
                            static_cast<std::uint32_t>(seed)};
  const bool lies = scene::lies_on_invert(obstacle.form);
  Solid solid = lies ? lying_solid(maker) : standing_solid(maker);
  if (lies) solid.arc = arc_on_wall(solid, piece.radius_m, 0.06 * piece.radius_m);
  const double z =
      obstacle.form == scene::ObstacleForm::in_joint ? joint_near_m(scene, obstacle.at_m) : obstacle.at_m;
  return into_scene(scene, z, std::move(solid));
}

}  // namespace haunch::matter
