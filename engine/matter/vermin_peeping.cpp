// SPDX-License-Identifier: Apache-2.0
// Animals that look out of a connection or an open joint.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "matter/branch.hpp"
#include "matter/vermin_build.hpp"

namespace haunch::matter {
namespace {

using scene::Vec3;

constexpr double tau = 2 * std::numbers::pi;

/// The connection that an animal looks out of.
const scene::Connection* mouth_at(const scene::Scene& scene, double at_m, int& number) {
  const scene::Connection* best = nullptr;
  for (std::size_t i = 0; i < scene.scenario.faults.size(); ++i)
    if (const auto* c = std::get_if<scene::Connection>(&scene.scenario.faults[i].kind))
      if (best == nullptr || std::abs(c->at_m - at_m) < std::abs(best->at_m - at_m))
        best = c, number = static_cast<int>(i) + 1;
  return best;
}

/// Rats look out of its lowest line, one behind another's shoulder; cockroaches sit on its edge.
Solid in_connection(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed64) {
  const double radius = scene::radius_at(scene, vermin.at_m);
  int number = 1;
  const scene::Connection* by = mouth_at(scene, vermin.at_m, number);
  if (by == nullptr) return {};
  const BranchShape shape = branch_shape(*by, radius, scene::fault_seed(scene.scenario, number));
  const Vec3 out_way{std::sin(shape.angle), std::cos(shape.angle), 0},
      round{std::cos(shape.angle), -std::sin(shape.angle), 0};
  const double r = shape.bore_radius_m, z = by->at_m - vermin.at_m;
  base::Random random(seed64 ^ 0x7eU);
  Solid all;
  for (int i = 0; i < static_cast<int>(vermin.count); ++i) {
    const auto seed_i = static_cast<std::uint32_t>(seed64) + 61U * static_cast<std::uint32_t>(i);
    const bool is_rat = vermin.kind == scene::VerminKind::rat;
    const double turn =
        is_rat ? lowest_turn(shape) + random.uniform(-0.35, 0.35) * std::min(i, 1) : random.uniform(0, tau);
    const Vec3 foot = std::sin(turn) * round + Vec3{0, 0, std::cos(turn)};
    const double across = std::min(0.999 * radius, r * std::abs(std::sin(turn)));
    const double lip = shape.reach_in_m > 0.0005
                           ? radius - shape.reach_in_m
                           : std::sqrt(radius * radius - across * across) + shape.set_back_m;
    const double long_m =
        is_rat ? std::min({random.uniform(0.15, 0.22), 4.2 * r, 2.3 * radius}) : random.uniform(0.022, 0.032);
    Solid one = is_rat ? rat(long_m, seed_i, random) : cockroach(long_m, seed_i, random);
    // Head and shoulders show; an insect may sit any way round.
    const double in = is_rat ? (0.27 + 0.22 * std::min(i, 2)) * long_m : random.uniform(0.2, 0.9) * long_m;
    if (!is_rat) move(one, turned(0, 0, random.uniform(0, tau)), {});
    move(one, along_y(-1.0 * foot, -1.0 * out_way),
         (lip + in) * out_way + (r - 0.001) * foot + Vec3{0, 0, z});
    add(all, std::move(one));
  }
  return all;
}

/// Heads first out of the gap, anywhere above the flow.
Solid in_open_joint(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed64) {
  double gap_m = 0.02, at_m = vermin.at_m, off = 1e9;
  for (const scene::Joint& joint : scene.joints)
    if (joint.open && std::abs(joint.at_m - vermin.at_m) < off)
      off = std::abs(joint.at_m - vermin.at_m), gap_m = joint.gap_m, at_m = joint.at_m;
  const double radius = scene::radius_at(scene, at_m);
  base::Random random(seed64 ^ 0x7eU);
  Solid all;
  for (int i = 0; i < static_cast<int>(vermin.count); ++i) {
    const auto seed_i = static_cast<std::uint32_t>(seed64) + 61U * static_cast<std::uint32_t>(i);
    const bool is_rat = vermin.kind == scene::VerminKind::rat;
    const double hour = is_rat ? random.uniform(-2.5, 2.5) : random.uniform(-4.2, 4.2);
    const double long_m = is_rat ? std::min(0.16, gap_m / 0.30) : random.uniform(0.022, 0.032);
    Solid one = is_rat ? rat(long_m, seed_i, random) : cockroach(long_m, seed_i, random);
    const Vec3 wall = on_wall(radius, hour, 0, 0);
    const Vec3 inward = scene::normalised({-wall.x, -wall.y, 0});
    // Its feet are on one unit's end, its back to the other's.
    const double in = is_rat ? 0.22 * long_m : random.uniform(-0.1, 0.3) * long_m;
    move(one, along_y({0, 0, 1}, inward),
         wall - in * inward + Vec3{0, 0, at_m - vermin.at_m - (is_rat ? 0.46 : 0.30) * gap_m});
    add(all, std::move(one));
  }
  return all;
}

}  // namespace

Solid peeping_solid(const scene::Scene& scene, const scene::Vermin& vermin, std::uint64_t seed) {
  return vermin.place == scene::VerminPlace::connection ? in_connection(scene, vermin, seed)
                                                        : in_open_joint(scene, vermin, seed);
}

}  // namespace haunch::matter
