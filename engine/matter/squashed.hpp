// SPDX-License-Identifier: Apache-2.0
// What a squashed pipe's wall does.
#pragma once

#include <vector>

#include "scene/scene.hpp"

namespace haunch::matter {

/// Flexible pipe has none. Rigid pipe cracks along at crown, springings and invert; the quarters turn on
/// the edges that are pressed together, so inside the bore the cracks gape, twice the turn times the
/// wall wide, where the pipe is flattened and stay shut where it is bent more sharply (geometry; that it
/// breaks in just these four places: ring under load from above and below).
std::vector<scene::Crack> cracks_of(const scene::Scene& scene, const scene::Squashed& squashed);

/// Radius of the wall towards a clock hour.
double wall_radius_m(const scene::Scene& scene, double z_m, double clock_h);
/// Radius of the wall a crack lies on.
double wall_radius_m(const scene::Scene& scene, const scene::Crack& crack);

}  // namespace haunch::matter
