// SPDX-License-Identifier: Apache-2.0
// Simulated people's practice as rows of a store: to look at pages with, and to load a store.
#pragma once

#include <filesystem>

namespace haunch::learners {

/// So many people, one of each kind of learner in turn, `days` days up to the date of `last_day` (days since
/// 1970), each a set of questions in our order. Codes "learner-01" ..; they are none of anybody's.
void store_practice(const std::filesystem::path& file, int people, int days, double last_day);

}  // namespace haunch::learners
