// SPDX-License-Identifier: Apache-2.0
// One finding and one goal: which row of the class tables decides. Inside this room.
#pragma once

#include "grading/work.hpp"

namespace haunch::grading {

/// Class, row and reason; numbers are the procedure's. `rows` are those of the finding's code and the goal.
GoalClass classify(Work& work, const Finding& finding, const std::string& goal,
                   const std::vector<std::size_t>& rows);

}  // namespace haunch::grading
