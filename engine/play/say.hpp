// SPDX-License-Identifier: Apache-2.0
// Small helpers for what this room says to a trainee.
#pragma once

#include <string>
#include <utility>

#include "base/result.hpp"
#include "base/units.hpp"

namespace haunch::play {

inline base::Problems say(std::string what, std::string expected) {
  return {base::Problem{{}, base::Severity::error, std::move(what), std::move(expected), {}}};
}

inline std::string metres(double value) { return base::show_distance(value, base::LengthUnit::metres); }

}  // namespace haunch::play
