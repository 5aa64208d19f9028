// SPDX-License-Identifier: Apache-2.0
// A marked exercise as a row of the store.
#pragma once

#include <string>

#include "play/exercise.hpp"
#include "scores/store.hpp"

namespace haunch::play {

/// Unique: the time and 64 random bits.
std::string new_attempt_id();
/// "2026-03-02T09:40:00Z"
std::string utc_now();

/// `record_json` is exercise.record() as the exchange room writes it; `program` the version. Throws
/// std::logic_error when the exercise is not marked yet.
scores::Attempt attempt_from(const Exercise& exercise, const std::string& trainee,
                             const std::string& record_json, const std::string& program);

}  // namespace haunch::play
