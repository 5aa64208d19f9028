// SPDX-License-Identifier: Apache-2.0
// Small helpers for what this room says to a trainee.
#pragma once

#include <string>
#include <utility>

#include "base/result.hpp"

namespace haunch::play {

inline base::Problems say(std::string what, std::string expected) {
  return {base::Problem{{}, base::Severity::error, std::move(what), std::move(expected), {}}};
}

}  // namespace haunch::play
