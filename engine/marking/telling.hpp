// SPDX-License-Identifier: Apache-2.0
// What is told with a miss, in plain sentences. Inside this room.
#pragma once

#include <string>

#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "marking/finding.hpp"
#include "marking/mark.hpp"

namespace haunch::marking {

/// What the code and its letters mean; that a run begins here is said by where it goes.
std::string meaning_of(const Finding& finding, const coding::CodeList& list);

/// "It was in view for 4.2 s, plainly for 3 s of them, and changed up to 2.1 % of the picture."
std::string view_words(const InView& view);

/// Do both belong in the record at one place of the wall? Within a centimetre, and at hours that meet where
/// both have hours.
bool at_one_place(const Finding& a, const Finding& b);

/// "BAG at 3.20 m stands at the same place and was found; this belongs in the record beside it."
std::string beside_words(const Finding& found, base::LengthUnit unit);

}  // namespace haunch::marking
