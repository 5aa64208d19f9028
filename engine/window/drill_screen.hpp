// SPDX-License-Identifier: Apache-2.0
// A set of questions on the screen, made one ahead so that nobody waits. Inside this room.
#pragma once

#include "play/drill_set.hpp"
#include "window/run_exercise.hpp"
#include "window/stage.hpp"

namespace haunch::window {

/// `finished`: whether the set came to its end.
After run_drills(Stage& stage, play::DrillSet set, const std::string& who, int threads,
                 bool* finished = nullptr);

}  // namespace haunch::window
