// SPDX-License-Identifier: Apache-2.0
// A patch of wall on which something is wrong: its ragged outline, for whoever draws it and for the truth.
#pragma once

#include <cstdint>

#include "scene/scene.hpp"

namespace haunch::matter {

/// A stretch of wall between two chainages and two angles, metres on the curve.
struct PatchArea {
  double from_m = 0, length_m = 0;
  double from_angle = 0;  ///< radians clockwise from the crown looking downstream
  double round_m = 0;     ///< round the wall; the whole way round where `whole`
  double radius_m = 0;
  bool whole = false;
  double ragged_m = 0;  ///< how far its edge may fall short of the stated one
  std::uint32_t seed = 0;
};
PatchArea patch_area(const scene::Scene& scene, double from_m, double to_m, const base::ClockArc& arc,
                     std::uint64_t seed);
PatchArea damaged_area(const scene::Scene& scene, const scene::SurfaceDamage& damage, std::uint64_t seed);

/// The joint nearest to it, as wide as its mortar shows; in brickwork the stretch.
PatchArea mortar_area(const scene::Scene& scene, const scene::MissingMortar& mortar, std::uint64_t seed);

/// Metres from a place (along, round, from the area's first corner) to the ragged edge; negative
/// outside. The patch touches its stated extents and never leaves them.
double inside_m(const PatchArea& area, double along_m, double round_m);

}  // namespace haunch::matter
