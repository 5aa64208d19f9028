// SPDX-License-Identifier: Apache-2.0
// Looking up codes by what is in the line: a code, part of a name, a trade word.
#pragma once

#include <string>
#include <vector>

#include "coding/code_list.hpp"

namespace haunch::window {

/// What to look up a code by, best first: all of them for nothing typed. A word fits where it begins a word
/// of the code's name, its letters' meanings or its note; trade words go to the code they mean.
std::vector<const coding::CodeEntry*> look_up(const std::string& typed, const coding::CodeList& list);

/// What the list says of a code, a line at a time: letters, sizes, clock, note.
std::vector<std::string> entry_lines(const coding::CodeEntry& entry);

}  // namespace haunch::window
