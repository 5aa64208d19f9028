// SPDX-License-Identifier: Apache-2.0
// Short made-up runs for exercises.
#pragma once

#include <stdexcept>
#include <string>

#include "base/result.hpp"
#include "scenario/read.hpp"
#include "scene/scenario.hpp"
#include "scene/scene.hpp"

namespace haunch::play::test {

inline scene::Scene scene_from(const std::string& text) {
  auto scenario = scenario::scenario_from_json(text, "made-up");
  if (!scenario) throw std::runtime_error(base::to_line(scenario.problems().front()));
  return scene::build_scene(std::move(scenario).value());
}

/// Six metres of clay with an open joint at 2 m and roots at 4 m.
inline scene::Scene small_scene(const std::string& from = "start", const std::string& zero = "start") {
  return scene_from(R"({"kind": "scenario", "edition": 1, "title": "Six metres of clay",
    "pipe": {"bore_mm": 150, "length_m": 6, "gradient_percent": 1.5,
             "sections": [{"to_m": 6, "material": "vitrified clay", "unit_length_m": 1}]},
    "start": {"kind": "inspection chamber", "name": "A1"}, "finish": {"kind": "manhole", "name": "A2"},
    "faults": [{"kind": "joint gap", "at_m": 2, "gap_mm": 20},
               {"kind": "roots", "at_m": 4, "form": "fine", "clock": [10, 2], "blocks_percent": 6}],
    "camera": {"kind": "crawler"},
    "inspection": {"from": ")" +
                    from + R"(", "distance_zero": ")" + zero + "\"}}");
}

}  // namespace haunch::play::test
