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
  /// By attempt: the truths within reach of it.
  std::vector<std::vector<std::size_t>> truths_near;
};

/// By truth, the attempts for which there is a nearness. Only what lies near along the pipe is looked at,
/// so the work grows with how crowded a place is, and not with the square of the whole.
std::vector<std::vector<std::size_t>> within_reach(const std::vector<Finding>& truths,
                                                   const std::vector<Finding>& attempts,
                                                   const Rules::Inside& rules, const coding::CodeList& list);

/// More pairs within reach of each other than this are no inspection, and are not paired (ours).
inline constexpr std::size_t most_pairs_in_reach = 1000000;

/// Most pairs with the right code first, then most pairs, then most credit, then nearest places.
/// `weights` are the tenths that each truth weighs. Throws std::runtime_error past most_pairs_in_reach.
Pairing pair_up(const std::vector<Finding>& truths, const std::vector<Finding>& attempts,
                const std::vector<int>& weights, const Rules::Inside& rules, const coding::CodeList& list);

}  // namespace haunch::marking
