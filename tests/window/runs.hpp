// SPDX-License-Identifier: Apache-2.0
// A short made-up run, and a session on it.
#pragma once

#include <stdexcept>
#include <string>

#include "scenario/read.hpp"
#include "scene/scenario.hpp"
#include "scene/scene.hpp"
#include "window/session.hpp"

namespace haunch::window::test {

/// Three metres of clay: an open joint at 1 m, roots at 2 m.
inline const char* const short_run = R"({
  "kind": "scenario", "edition": 1, "title": "Three metres of clay",
  "pipe": { "bore_mm": 150, "length_m": 3, "gradient_percent": 1.5,
            "sections": [ { "to_m": 3, "material": "vitrified clay", "unit_length_m": 1 } ] },
  "start": { "kind": "inspection chamber", "name": "A1" }, "finish": { "kind": "manhole", "name": "A2" },
  "faults": [ { "kind": "joint gap", "at_m": 1, "gap_mm": 20 },
              { "kind": "roots", "at_m": 2, "form": "fine", "clock": [10, 2], "blocks_percent": 6 } ],
  "camera": { "kind": "crawler" },
  "inspection": { "from": "start", "distance_zero": "start" }
}
)";

inline scene::Scene short_scene(scene::CameraKind camera = scene::CameraKind::crawler) {
  auto scenario = scenario::scenario_from_json(short_run, "short-run.json");
  if (!scenario) throw std::runtime_error(base::to_line(scenario.problems().front()));
  scenario.value().camera.kind = camera;
  return scene::build_scene(std::move(scenario).value());
}

inline void type_words(Session& session, const std::string& words) {
  for (const char letter : words) session.type(std::string(1, letter));
}
inline void press(Session& session, Key key, bool ctrl = false, bool shift = false) {
  session.press({key, ctrl, shift});
}
inline void wait(Session& session, double seconds) {
  for (int i = 0; i < static_cast<int>(seconds * 60); ++i) session.tick(1.0 / 60);
}

}  // namespace haunch::window::test
