// SPDX-License-Identifier: Apache-2.0
// A line of the truth before it has a distance, a direction and a stretch number. Inside the room.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/observation.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {

struct Finding {
  coding::Observation line;     ///< codes, numbers, remark and reason; clocks as seen looking downstream
  int fault = 0;                ///< 1-based number in the scenario, 0 for what is not a fault
  double from_m = 0, to_m = 0;  ///< scene chainage
  bool continuous = false;
  std::string hidden;  ///< why no careful drive could show it; empty when it could
};

/// The codes of one fault; none when it is too small to record.
std::vector<Finding> findings_of_fault(const scene::Scene& scene, int number, const Rules& rules);

/// Water level, loss of vision, changes of material and bore: what is there whatever is wrong.
std::vector<Finding> findings_of_water(const scene::Scene& scene, const std::vector<scene::Stretch>& blind,
                                       const Rules& rules);
std::vector<Finding> findings_of_changes(const scene::Scene& scene, const Rules& rules);

/// Stretches of lens positions at which the head is wholly under water.
std::vector<scene::Stretch> blind_stretches(const scene::Scene& scene);

/// Why a fault cannot be seen by any careful drive, or empty.
std::string why_hidden(const scene::Scene& scene, int number, const std::vector<scene::Stretch>& blind,
                       const Rules& rules);

/// EN 13508-2 letters.
std::string material_code(scene::Material material);
std::string node_code(scene::NodeKind kind);

/// Numbers in sentences: to a tenth.
std::string show(double value);
/// Lengths in sentences: to a centimetre.
std::string show_metres(double value);

}  // namespace haunch::truth
