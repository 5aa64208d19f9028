// SPDX-License-Identifier: Apache-2.0
// What the verdicts say of the person, skill by skill, and the counts. Inside this room.
#pragma once

#include <vector>

#include "marking/mark.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

/// Always the same seven, in the same order, so that attempts can be held against each other.
std::vector<Skill> skills_of(const Marking& marking, const std::vector<PlumbMark>& plumbs,
                             const Rules::Inside& rules);

/// "2 hints were taken, at 3.20 m and 5.00 m; 1 told the code.", or empty.
std::string help_words(const std::vector<HintTaken>& hints, base::LengthUnit unit);

Summary summary_of(const Marking& marking, double inspected_m, base::LengthUnit unit);

}  // namespace haunch::marking
