// SPDX-License-Identifier: Apache-2.0
#include "scene/camera.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"

namespace haunch::scene {
namespace {

constexpr double radians = std::numbers::pi / 180.0;
constexpr double half_body_m = 0.05;  // a camera rests on about 10 cm of pipe: steps are ridden over

/// Point on the line of the camera's resting place, smoothed over the camera's length.
Vec3 resting_point(const Scene& scene, double z) {
  const double half = std::min({half_body_m, z, scene.length_m() - z});
  constexpr int samples = 8;
  Vec2 sum{};
  for (int i = 0; i < samples; ++i) {
    const double at = z + half * ((2.0 * i + 1.0) / samples - 1.0);
    const Vec2 centre = centre_at(scene, at);
    sum = sum + Vec2{centre.x, centre.y - bore_at(scene, at).half_height_m};
  }
  return {sum.x / samples, sum.y / samples, z};
}

/// Twist of the rod at z: slow waves whose places come from the seed, never more than the most.
double roll_at(const Scene& scene, double z) {
  const CameraRig& rig = scene.scenario.camera;
  if (rig.kind != CameraKind::push || rig.roll_deg == 0) return 0;
  base::Random random(base::mix(scene.scenario.seed ^ 0x726f6c6cULL));
  const double phase_a = random.uniform(0, 2 * std::numbers::pi);
  const double phase_b = random.uniform(0, 2 * std::numbers::pi);
  const double wave = 0.65 * std::sin(2 * std::numbers::pi * z / 7.3 + phase_a) +
                      0.35 * std::sin(2 * std::numbers::pi * z / 2.9 + phase_b);
  return rig.roll_deg * wave;
}

/// A camera is rigged once for the whole run: for the narrowest bore it must pass.
double narrowest_bore_mm(const Scenario& scenario) {
  double bore = scenario.sections.front().bore_mm;
  for (const Section& section : scenario.sections)
    bore = std::min({bore, section.bore_mm, clear_height_mm(section)});
  return bore;
}

}  // namespace

bool head_turns(const Scenario& scenario) { return scenario.camera.kind == CameraKind::crawler; }

double skid_mm(double head_mm, double bore_mm) {
  return std::min(std::max(0.62 * bore_mm, head_mm + 6.0), std::max(0.9 * bore_mm, head_mm));
}

double lens_height_mm(const CameraRig& rig, double bore_mm) {
  if (rig.height_mm > 0) return rig.height_mm;
  return rig.kind == CameraKind::push ? skid_mm(rig.head_mm, bore_mm) / 2.0 : bore_mm / 2.0;
}

CameraPose pose_at(const Scene& scene, double lens_z_m) {
  const double length_m = scene.length_m();
  const double z = std::clamp(lens_z_m, 0.0, length_m);
  CameraPose pose;
  pose.travel = travel(scene.scenario);
  pose.field_deg = scene.scenario.camera.field_deg;
  const Vec3 rest = resting_point(scene, z);
  const double height = lens_height_mm(scene.scenario.camera, narrowest_bore_mm(scene.scenario)) / 1000.0;
  pose.lens = {rest.x, rest.y + height, rest.z};
  const double a = std::max(0.0, z - half_body_m), b = std::min(length_m, z + half_body_m);
  const Vec3 along = resting_point(scene, b) - resting_point(scene, a);
  pose.forward = static_cast<double>(pose.travel) * normalised(along);
  pose.roll_deg = roll_at(scene, z);
  return pose;
}

double submerged_share(const Scene& scene, const CameraPose& pose) {
  const double head = scene.scenario.camera.head_mm / 1000.0;
  const double level = level_at(scene.water, pose.lens.z);
  const double bottom = pose.lens.y - head / 2.0;
  return std::clamp((level - bottom) / head, 0.0, 1.0);
}

bool lens_wetted(const Scene& scene, const CameraPose& pose) {
  if (level_at(scene.water, pose.lens.z) > pose.lens.y) return true;
  for (const Fault& fault : scene.scenario.faults) {
    const auto* water = std::get_if<Infiltration>(&fault.kind);
    if (!water) continue;
    // Drops fall straight; what gushes splashes all about (ours).
    const bool gushes = water->rate == WaterRate::gushes;
    const double hour = water->arc.from_h, reach_m = gushes ? 0.08 : 0.02;
    if (std::abs(water->at_m - pose.lens.z) > reach_m) continue;
    if (gushes || hour >= 11 || hour <= 1) return true;
  }
  return false;
}

double nearest_wall_ahead_m(double radius_m, double field_deg) {
  return radius_m / std::tan(field_deg / 2.0 * radians);
}

double reference_ring_ahead_m(double radius_m) { return nearest_wall_ahead_m(radius_m, 70); }

}  // namespace haunch::scene
