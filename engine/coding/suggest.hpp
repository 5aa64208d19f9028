// SPDX-License-Identifier: Apache-2.0
// The valid code that was most likely meant. Only where one candidate is nearer than all others: a guess
// that is no better than another helps nobody.
#pragma once

#include <string>

#include "coding/code_list.hpp"
#include "coding/observation.hpp"

namespace haunch::coding {

/// For a main code that is not known: "BAN" for "BNA", "BAB" for "bab", "BAB B A" for "BABBA".
std::string suggest_code(const Observation& one, const CodeList& list);
/// For letters that do not go with a known code: "BAB B A" for B and A changed round or written together,
/// "BBB Z" for what only one kin code can be. Empty when nothing is near.
std::string suggest_letters(const Observation& one, const CodeEntry& entry, const CodeList& list);

}  // namespace haunch::coding
