// SPDX-License-Identifier: Apache-2.0
#include "coding/clock_arc.hpp"

namespace haunch::coding {

std::optional<base::ClockArc> clock_arc(const Observation& observation) {
  const auto is_hour = [](const std::optional<int>& hour) { return hour && *hour >= 1 && *hour <= 12; };
  if (!is_hour(observation.clock_from)) return std::nullopt;
  base::ClockArc arc;
  arc.from_h = arc.to_h = *observation.clock_from;
  if (is_hour(observation.clock_to)) {
    arc.to_h = *observation.clock_to;
    arc.whole = *observation.clock_from == 12 && *observation.clock_to == 12;
  }
  return arc;
}

}  // namespace haunch::coding
