// SPDX-License-Identifier: Apache-2.0
// Which mark stands for which true finding. Inside this room.
#pragma once

#include <utility>
#include <vector>

#include "marking/compare.hpp"

namespace haunch::marking {

struct Pairing {
  /// truth, attempt: indices of the findings given.
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
};

/// Most pairs with the right code first, then most pairs, then most credit, then nearest places.
/// `weights` are the tenths that each truth weighs.
Pairing pair_up(const std::vector<Finding>& truths, const std::vector<Finding>& attempts,
                const std::vector<int>& weights, const Rules::Inside& rules, const coding::CodeList& list);

}  // namespace haunch::marking
