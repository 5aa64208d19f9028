// SPDX-License-Identifier: Apache-2.0
// Where something opens the wall: matter that sticks to the wall ends there, in the picture as in the
// truth.
#pragma once

#include <vector>

#include "matter/branch.hpp"
#include "matter/wall.hpp"
#include "scene/scene.hpp"

namespace haunch::matter {

/// A hole, or where a connection comes in.
struct Opening {
  double z_m = 0, angle = 0;
  double half_length_m = 0;  ///< along the run
  bool is_branch = false;
  WallOutline outline;  ///< of a hole, or of the hacked edge of a pipe put in by hand; else no corners
  BranchShape branch;
};
/// Those that reach into a stretch of the run.
std::vector<Opening> openings_in(const scene::Scene& scene, const scene::Stretch& stretch);
/// Metres on the wall to the opening's edge: negative inside. Far from it: any large number.
double edge_distance_m(const Opening& opening, double run_radius_m, double z_m, double angle);

/// How far a fault has opened or stepped a joint, m; 0 where it is as built. Thinner matter breaks there.
double displaced_m(const scene::Joint& joint);

}  // namespace haunch::matter
