// SPDX-License-Identifier: Apache-2.0
// One run on the screen, from its start card to its review. Inside this room.
#pragma once

#include "scene/scene.hpp"
#include "window/stage.hpp"
#include "window/window.hpp"

namespace haunch::window {

/// What the person wants after it.
enum class After { start_page, leave };

/// `who`: whose it is; changed where somebody else says a name.
After run_exercise(Stage& stage, scene::Scene scene, const Options& options, std::string& who);

}  // namespace haunch::window
