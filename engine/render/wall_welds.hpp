// SPDX-License-Identifier: Apache-2.0
// Where two lengths of polyethylene are welded end to end a bead stands into the bore on each side.
// Room-internal header.
#pragma once

#include <functional>
#include <vector>

#include "render/wall.hpp"

namespace haunch::render {

/// Both rolls of the bead together, along the pipe, m. Ours, by eye: about three times as wide as it is high.
inline constexpr double weld_width_m = 0.016;

bool is_weld(const scene::Scene& scene, const scene::Joint& joint);
/// Highest that the bead of a weld stands in, m: 2 to 3 mm (ours, from memory of what is usual for small
/// pipe).
double bead_m(const scene::Scene& scene, const scene::Joint& joint);
/// The bead as a row of short cones; `bore` makes the plain wall of a piece from z to z.
std::vector<Stretch> weld_stretches(
    const scene::Scene& scene, const scene::Joint& joint,
    const std::function<Stretch(const scene::Piece& piece, double z0, double z1)>& bore);

}  // namespace haunch::render
