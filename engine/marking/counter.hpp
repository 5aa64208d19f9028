// SPDX-License-Identifier: Apache-2.0
// Did the counter itself run off? A counter that did not start at zero, or that counts long or short, moves
// every mark alike: one error, not one for each mark. Inside this room.
#pragma once

#include <optional>
#include <vector>

#include "marking/finding.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

/// What was counted = zero_m + scale x what is true.
struct CounterRun {
  double zero_m = 0, scale = 1;
  int agree = 0;   ///< marks that lie where this puts them, within `Rules::Inside::counter_agree_m`
  int common = 0;  ///< of so many whose code is in both records
  /// How far the zero alone, the scale alone and both move the marks that agree, at most, m.
  double zero_moves_m = 0, scale_moves_m = 0, moves_m = 0;
  double true_m(double counted_m) const { return (counted_m - zero_m) / scale; }
};

/// The simplest error that puts clearly more marks right than none does, or nothing. Only marks that have
/// their right main code speak for it; the order of either list never matters.
std::optional<CounterRun> counter_run(const std::vector<Finding>& truths,
                                      const std::vector<Finding>& attempts, const Rules::Inside& rules);

/// The attempt's findings with it taken off; what was written stays in `counted_from_m` and `counted_to_m`.
/// A mark that stands righter as it was written stays (a counter that was set back on the way).
std::vector<Finding> with_counter_set_right(const std::vector<Finding>& truths, std::vector<Finding> attempts,
                                            const CounterRun& run, const Rules::Inside& rules);

/// In words, for the person: the zero and the scale each once, where either is worth telling.
CounterError told(const CounterRun& run, const Rules::Inside& rules, base::LengthUnit unit);

}  // namespace haunch::marking
