// SPDX-License-Identifier: Apache-2.0
// What a thing in the bore leaves open.
#pragma once

#include "matter/solid.hpp"
#include "scene/scene.hpp"

namespace haunch::matter {

/// Diameter of the largest circle that lies in the bore at z and clear of a thing seen along the axis, m; to
/// about a thirtieth of the bore.
double widest_opening_m(const scene::Scene& scene, double z_m, const Solid& solid);

/// What a connection that reaches in stands in the way with, as a flat sheet; no parts where it does not.
Solid standing_in(const scene::Scene& scene, const scene::Connection& connection);

}  // namespace haunch::matter
