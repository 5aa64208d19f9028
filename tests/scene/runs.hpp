// SPDX-License-Identifier: Apache-2.0
// Small runs that tests are made of.
#pragma once

#include <string>
#include <vector>

#include "scene/scene.hpp"

namespace haunch::scene {

/// One straight section without faults or water.
inline Scenario plain_run(double length_m = 10, double bore_mm = 100, Material material = Material::clay) {
  Scenario scenario;
  scenario.length_m = length_m;
  scenario.gradient_percent = 1;
  Section section;
  section.to_m = length_m;
  section.material = material;
  section.bore_mm = bore_mm;
  section.unit_length_m = 1;
  scenario.sections = {section};
  return scenario;
}

/// A level run under a given depth of water everywhere.
inline Scene run_under_water(double bore_mm, double depth_mm, double length_m = 4) {
  Scenario scenario = plain_run(length_m, bore_mm);
  scenario.gradient_percent = 0;
  Scene scene = build_scene(scenario);
  const double level = invert_at(scene, 0) + depth_mm / 1000.0;
  scene.water.reaches = {{0, length_m, level, level, true}};
  return scene;
}

inline void add(Scenario& scenario, FaultKind kind) {
  scenario.faults.push_back({std::move(kind), "/faults/" + std::to_string(scenario.faults.size())});
}

}  // namespace haunch::scene
