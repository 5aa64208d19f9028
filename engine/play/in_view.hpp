// SPDX-License-Identifier: Apache-2.0
// How what an attempt missed was in view on its own drive, and whether a careful one shows it at all.
// Pictures are drawn for it, so it takes seconds: the marking, which reads none, gets the outcome as plain
// data (Exercise::was_in_view, Exercise::set_aside).
#pragma once

#include <atomic>
#include <vector>

#include "marking/mark.hpp"
#include "play/exercise.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::play {

/// One for each missed row that is a fault of the scene. Measured on some dozens of small pictures of the
/// places the drive stayed at. `stop`, once true, ends it early with nothing.
std::vector<marking::InView> in_view(const scene::Scene& scene, const truth::Truth& truth,
                                     const std::vector<Exercise::Stand>& driven,
                                     const std::vector<marking::Missed>& missed, int threads = 0,
                                     const std::atomic<bool>* stop = nullptr);

/// Of these rows that are faults of the scene those that a careful drive shows nowhere plainly, each with
/// why: nobody is held to what nobody could see. What plainly shows in a few looks is told apart within a
/// second or two; for the rest the whole way by it is looked at. `stop`, once true, ends it early with
/// nothing.
std::vector<coding::NotVisible> not_plain(const scene::Scene& scene, const truth::Truth& truth,
                                          const std::vector<std::string>& rows, int threads = 0,
                                          const std::atomic<bool>* stop = nullptr);
/// What points were lost on: what was missed, and what was found and is not all right. All of it is looked
/// for, as whoever notices what nobody could see must not lose by it.
std::vector<std::string> lost_on(const marking::Marking& marking);

}  // namespace haunch::play
