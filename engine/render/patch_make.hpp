// SPDX-License-Identifier: Apache-2.0
// Lays the grid of a patch; what every kind of patch begins with.
// Room-internal header.
#pragma once

#include <functional>

#include "render/marks_patch.hpp"

namespace haunch::render {

inline constexpr double patch_stained_m = 0.045;  ///< beside a patch

/// A mark of the fault, and the fault's seed.
PatchMark new_patch(const scene::Scene& scene, int number, std::uint64_t& seed);
const scene::Section& section_at(const scene::Scene& scene, double z);

/// The grid over an area and its margin; the cells may carve the area further.
void lay_grid(const scene::Scene& scene, const matter::PatchArea& area,
              const std::function<PatchMark::Cell(double along, double round)>& cell_at, PatchMark& mark,
              double margin_m = patch_stained_m);

/// Noise on the ring itself, -1 .. 1: what goes the whole way round meets its own start.
double ring_noise(const matter::PatchArea& area, double along, double round, double size, std::uint32_t seed);

}  // namespace haunch::render
