// SPDX-License-Identifier: Apache-2.0
// What is asked about something, and what may be answered. Inside this room.
#pragma once

#include "base/random.hpp"
#include "drills/item.hpp"
#include "grading/grade.hpp"

namespace haunch::drills {

/// Codes that are mixed up with one, likeliest first; only of those that pictures show.
std::vector<std::string> mixed_up_with(const std::string& code);
/// Is there an answer to the question that is wanted in what is there?
bool can_be_asked(const Item& item, const grading::Scheme& scheme);
/// Question, options, unit, right answer, chance of guessing.
void ask(Item& item, const grading::Scheme& scheme, base::Random& random);

}  // namespace haunch::drills
