// SPDX-License-Identifier: Apache-2.0
// One-to-one pairing with the largest total gain. Whoever is in no pair stays alone.
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace haunch::marking {

/// A pair that may be made and what it is worth (more than 0).
struct PossiblePair {
  std::size_t left = 0, right = 0;
  std::int64_t gain = 1;
};

/// Pairs (left, right), by left. Where several choices gain the same, the same input gives the same
/// choice: callers that want no order to matter sort both sides first.
std::vector<std::pair<std::size_t, std::size_t>> best_pairs(std::size_t lefts, std::size_t rights,
                                                            const std::vector<PossiblePair>& possible);

}  // namespace haunch::marking
