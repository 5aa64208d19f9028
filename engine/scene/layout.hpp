// SPDX-License-Identifier: Apache-2.0
// Where units meet, before anything is built: the reader checks joint faults against it, the scene
// is built on it.
#pragma once

#include <optional>
#include <vector>

#include "scene/scenario.hpp"

namespace haunch::scene {

struct JointPlace {
  double at_m = 0;
  int section_before = 0, section_after = 0;
};

/// Units begin anew at each section (brickwork and liners have none); a last piece shorter than 5 cm is no
/// unit of its own (ours).
std::vector<JointPlace> joint_places(const Scenario& scenario);
/// The place nearest to z, or nothing in a run of a single unit.
std::optional<JointPlace> nearest_joint(const std::vector<JointPlace>& places, double z_m);
/// Index of the section at z, the downstream one at a boundary.
int section_at(const Scenario& scenario, double z_m);

/// How far an author may be off with the place of a joint, m. Ours: half a short socket.
inline constexpr double joint_reach_m = 0.05;

}  // namespace haunch::scene
