// SPDX-License-Identifier: Apache-2.0
// An observation as a trainee would type it, so that what was logged can be changed in the line.
#pragma once

#include <optional>
#include <string>

#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/observation.hpp"

namespace haunch::play {

/// "BAJ B 14 mm 10-2", without its distance, which stays as it is; nothing where no line says just this (an
/// observation from a file may hold what cannot be typed). `read_entry` of it gives the observation back.
std::optional<std::string> written(const coding::Observation& observation, const coding::CodeList& list,
                                   base::LengthUnit unit);

}  // namespace haunch::play
