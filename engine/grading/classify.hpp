// SPDX-License-Identifier: Apache-2.0
// One finding and one goal: which row of the class tables decides, and what the site adds. Inside
// this room.
#pragma once

#include "coding/code_list.hpp"
#include "grading/along.hpp"
#include "grading/scheme_inside.hpp"

namespace haunch::grading {

/// A finding as the procedure sees it: a run's begin, with the larger of the sizes along the run.
struct Finding {
  const coding::Observation* seen = nullptr;
  std::optional<double> q1, q2;
  PipeHere pipe;
};

/// Class, row and reason; the final number is added by `add_points`.
GoalClass classify(const Finding& finding, const std::string& goal, const Scheme::Inside& scheme,
                   const coding::CodeList& list);

/// Number of the class and the boundary points of the same goal (Tables A-3-2, A-3-3), written into
/// `classed` with their reasons.
void add_points(GoalClass& classed, const Finding& finding, const Site& site, const Scheme::Inside& scheme);

}  // namespace haunch::grading
