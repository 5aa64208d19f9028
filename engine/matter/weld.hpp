// SPDX-License-Identifier: Apache-2.0
// A weld that has opened: the gap, and the bead of the weld on either side of it.
#pragma once

#include "matter/coat.hpp"
#include "matter/wall.hpp"
#include "scene/scene.hpp"

namespace haunch::matter {

/// The middle of the gap, nearly straight: a weld goes where a machine laid it. Its widest place gapes as far
/// as is stated.
CrackLine weld_gap(const scene::Scene& scene, const scene::FailedWeld& weld, std::uint64_t seed);

/// The gap with its torn lips (of the fault), and what is seen of the weld itself: round the pipe the bead
/// where it has opened, else the seam from end to end of the length of pipe (no fault).
Coat weld_coat(const scene::Scene& scene, const scene::FailedWeld& weld, int number);

}  // namespace haunch::matter
