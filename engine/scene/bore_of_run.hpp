// SPDX-License-Identifier: Apache-2.0
// Which section the bore has along a run: round but where a fault has pressed it. Inside this room.
#pragma once

#include <vector>

#include "scene/bore.hpp"
#include "scene/scenario.hpp"

namespace haunch::scene {

/// At z, in a section of the run that reaches there.
Bore bore_of_run(const Scenario& scenario, const Section& section, double z_m);

/// Where straight pieces must end so that they follow the bore's changes closely, between from and to.
std::vector<double> bore_cuts(const Scenario& scenario, double from_m, double to_m);
/// Does the bore change between two places?
bool bore_changes(const Scenario& scenario, double from_m, double to_m);

}  // namespace haunch::scene
