// SPDX-License-Identifier: Apache-2.0
// What the verdicts say of the person, skill by skill, and the counts. Inside this room.
#pragma once

#include <vector>

#include "marking/mark.hpp"

namespace haunch::marking {

/// Always the same six, in the same order, so that attempts can be held against each other.
std::vector<Skill> skills_of(const Marking& marking);

Summary summary_of(const Marking& marking, double inspected_m, base::LengthUnit unit);

}  // namespace haunch::marking
