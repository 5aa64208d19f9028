// SPDX-License-Identifier: Apache-2.0
// The study over many learners, summed up.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "learners/study.hpp"
#include "statistics/interval.hpp"

namespace haunch::learners {

/// A mean over learners and its 95 % interval, learners drawn again.
struct Mean {
  double value = 0;
  statistics::Interval interval;
};
struct Row {
  std::string kind;
  Order order = Order::ours;
  int learners = 0;
  int reached = 0;
  Mean trials, days, retention;
  /// What our order saves of this one's trials, as a share of them, and keeps more 30 days later; learner by
  /// learner. 0 in its own row.
  Mean saved, kept_more;
  Mean kept_more_of_as_many;       ///< the same, where ours goes on for as many trials as this one took
  std::array<double, 5> by_why{};  ///< mean trials by learning::Why; our order only
  double coverage = 0;             ///< of the 95 % intervals; our order only
};

/// The same learners (seeds from 1) in every order. On `threads` threads; the same rows for any number of
/// them.
std::vector<Row> table_of(const Kind& kind, int learners, const learning::Model& model,
                          const std::vector<Order>& orders, const StudyRules& rules = {}, int threads = 1);

}  // namespace haunch::learners
