// SPDX-License-Identifier: Apache-2.0
#include "scene/layout.hpp"

#include <cmath>

#include "scene/materials.hpp"

namespace haunch::scene {
namespace {

constexpr double shortest_unit_m = 0.05;
constexpr std::size_t most_joints = 100000;  // a guard for values nobody has checked

/// Sums of lengths such as 3 * 0.1 as a person would write them.
double to_micrometre(double metres) { return std::round(metres * 1e6) / 1e6; }

}  // namespace

std::vector<JointPlace> joint_places(const Scenario& scenario) {
  std::vector<JointPlace> places;
  for (std::size_t i = 0; i < scenario.sections.size(); ++i) {
    const Section& section = scenario.sections[i];
    const int index = static_cast<int>(i);
    const double first =
        section.from_m + (section.first_joint_m > 0 ? section.first_joint_m : section.unit_length_m);
    for (int k = 0; has_joints(section.material) && section.unit_length_m > 0 && places.size() < most_joints;
         ++k) {
      const double at = to_micrometre(first + k * section.unit_length_m);
      if (!(at < section.to_m - shortest_unit_m)) break;
      if (at > section.from_m + shortest_unit_m) places.push_back({at, index, index});
    }
    if (i + 1 < scenario.sections.size()) places.push_back({section.to_m, index, index + 1});
  }
  return places;
}

std::optional<JointPlace> nearest_joint(const std::vector<JointPlace>& places, double z_m) {
  std::optional<JointPlace> best;
  for (const JointPlace& place : places) {
    if (!best || std::abs(place.at_m - z_m) < std::abs(best->at_m - z_m)) best = place;
  }
  return best;
}

int section_at(const Scenario& scenario, double z_m) {
  int index = 0;
  for (std::size_t i = 1; i < scenario.sections.size(); ++i) {
    if (z_m >= scenario.sections[i].from_m) index = static_cast<int>(i);
  }
  return index;
}

}  // namespace haunch::scene
