// SPDX-License-Identifier: Apache-2.0
// Small runs for the picture's tests, and test-only projection: where a point of the scene shows.
// Nothing here calls the renderer.
#pragma once

#include <cmath>
#include <numbers>

#include "scene/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::render_test {

inline scene::Scenario straight_run(scene::Material material = scene::Material::clay, double bore_mm = 150) {
  scene::Scenario s;
  s.seed = 7;
  s.length_m = 8;
  s.gradient_percent = 1;
  scene::Section section;
  section.to_m = 8;
  section.material = material;
  section.unit_length_m = 1;
  section.bore_mm = bore_mm;
  section.wall_mm = 16;
  s.sections = {section};
  s.camera.kind = scene::CameraKind::crawler;
  return s;
}

inline scene::Scene with(scene::Scenario scenario, scene::FaultKind fault) {
  scenario.faults.push_back({std::move(fault), ""});
  return scene::build_scene(std::move(scenario));
}

struct Pixel {
  double x = 0, y = 0;
};

/// A pinhole: rows run down, the field spans the width, roll turns the camera clockwise seen along
/// travel (geometry).
struct Pinhole {
  scene::Vec3 lens, right, up, ahead;
  double per_unit = 0, middle_x = 0, middle_y = 0;

  Pinhole(const scene::CameraPose& pose, int width, int height) {
    const double degree = std::numbers::pi / 180;
    lens = pose.lens;
    ahead = scene::normalised(pose.forward);
    const scene::Vec3 side = scene::normalised(scene::cross({0, 1, 0}, ahead));
    const scene::Vec3 over = scene::cross(ahead, side);
    const double roll = pose.roll_deg * degree;
    right = std::cos(roll) * side - std::sin(roll) * over;
    up = std::cos(roll) * over + std::sin(roll) * side;
    middle_x = width / 2.0;
    middle_y = height / 2.0;
    per_unit = middle_x / std::tan(pose.field_deg * degree / 2);
  }
  Pixel show(scene::Vec3 point) const {
    const scene::Vec3 away = point - lens;
    const double depth = scene::dot(away, ahead);
    return {middle_x + per_unit * scene::dot(away, right) / depth,
            middle_y - per_unit * scene::dot(away, up) / depth};
  }
  scene::Vec3 direction(double px, double py) const {
    return scene::normalised(ahead + (px - middle_x) / per_unit * right - (py - middle_y) / per_unit * up);
  }
};

/// Distance to the bore's wall along a ray, by walking and halving; joints are taken as closed.
inline double wall_distance(const scene::Scene& run, scene::Vec3 from, scene::Vec3 direction) {
  const auto inside = [&](double t) {
    const scene::Vec3 p = from + t * direction;
    const scene::Vec2 c = scene::centre_at(run, p.z);
    return scene::inside(scene::bore_at(run, p.z), {p.x - c.x, p.y - c.y});
  };
  double t = 0;
  while (inside(t + 0.002) && t < 20) t += 0.002;
  double low = t, high = t + 0.002;
  for (int i = 0; i < 40; ++i) (inside((low + high) / 2) ? low : high) = (low + high) / 2;
  return low;
}

}  // namespace haunch::render_test
