// SPDX-License-Identifier: Apache-2.0
// Where bends within units take the line. Inside this room.
#pragma once

#include <vector>

#include "scene/scenario.hpp"
#include "scene/vector.hpp"

namespace haunch::scene {

/// How far all bends before and at z have taken the line from the straight.
Vec2 bent_aside(const Scenario& scenario, double z_m);
/// Where straight pieces must end so that a bend looks smooth, between from and to.
std::vector<double> bend_cuts(const Scenario& scenario, double from_m, double to_m);
/// Does the line swing anywhere between two places?
bool bends_between(const Scenario& scenario, double from_m, double to_m);

}  // namespace haunch::scene
