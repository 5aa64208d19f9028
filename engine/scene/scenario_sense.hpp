// SPDX-License-Identifier: Apache-2.0
// Could this run lie in the ground? Checks no schema can make. Inside the room; others read
// scenarios through scenario.hpp.
#pragma once

#include "base/json_document.hpp"
#include "base/result.hpp"
#include "scene/scenario.hpp"

namespace haunch::scene {

/// Every problem, at its place in the file. Values that are NaN, and those that `already` (what the
/// schema found) stands at, were wrong by themselves: nothing is measured by them.
base::Problems problems_of_sense(const Scenario& scenario, const base::JsonDocument& document,
                                 const base::Problems& already);

/// A warning when a sound run stands full of water: seldom what its author meant.
base::Problems remarks_on_water(const Scenario& scenario, const base::JsonDocument& document);

}  // namespace haunch::scene
