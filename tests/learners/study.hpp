// SPDX-License-Identifier: Apache-2.0
// The study: how many trials until 40 codes are mastered, and what is left 30 days later, by the order in
// which they are shown. All orders stop by the same rule (every code mastered, learning/mastery.hpp), leave a
// mastered code out, and let a code rest for the day after as many right answers; only "every code" does
// neither.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "learners/learner.hpp"
#include "learning/model.hpp"

namespace haunch::learners {

enum class Order { ours, random_left, spaced_left, random_all, spaced_all };
inline constexpr Order all_orders[] = {Order::ours, Order::random_left, Order::spaced_left, Order::random_all,
                                       Order::spaced_all};
std::string show(Order order);

struct StudyRules {
  std::size_t codes = 40;
  int trials_a_day = 60;  ///< half an hour
  double seconds_a_trial = 25;
  int most_trials = 6000;
  double retention_after_days = 30;
  int least_trials = 0;  ///< our order goes on so long even when all is mastered
};

struct Outcome {
  int trials = 0, days = 0;
  bool reached = false;  ///< all mastered within most_trials
  double retention = 0;  ///< mean chance of finding and naming an average picture, days later
  /// Of the estimates of naming at the end of each day, so many were made, and so many 95 % intervals held
  /// what was true. Only for our order.
  int estimates = 0, held = 0;
  std::array<int, 5> by_why{};  ///< trials by learning::Why; only of our order
};
Outcome study(const Kind& kind, Order order, std::uint64_t seed, const learning::Model& model,
              const StudyRules& rules = {});

}  // namespace haunch::learners
