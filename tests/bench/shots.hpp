// SPDX-License-Identifier: Apache-2.0
// Runs and lenses in them, for timing: a view of each kind.
#pragma once

#include <string>
#include <vector>

#include "scene/camera.hpp"

namespace haunch::bench {

struct Shot {
  scene::Scene run;
  scene::CameraPose pose;
};
/// By name; an unknown one is the plain pipe.
Shot make_shot(const std::string& what);
const std::vector<std::string>& all_shots();

/// 100 m of pipe with something every few metres.
scene::Scene long_run();

}  // namespace haunch::bench
