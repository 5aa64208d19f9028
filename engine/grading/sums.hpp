// SPDX-License-Identifier: Apache-2.0
// What the scores of one goal come to, for procedure "mean score and worst". Inside this room.
#pragma once

#include <string>
#include <vector>

#include "grading/close_by.hpp"
#include "grading/work.hpp"

namespace haunch::grading {

/// Without the noise of sums of decimal fractions, which must not lift a number over a bound.
double tidy(double value);
/// To four decimals.
std::string show_score(double value);

/// What one goal comes to.
struct Sum {
  std::vector<Scored> items;
  std::size_t unclassed = 0;  ///< findings that should count and have no class
  bool provisional = false, complete = true;
  bool lengths_complete = true;  ///< false: the length of a run is not known
  std::vector<Compound> parts{};
  double mean = 0, worst = 0;
  double number = 0;  ///< the larger of the two
  double guard = 0;   ///< no less than the number of any choice of the findings
  std::string mean_words{};
};

/// Writes down what is not known of places.
Sum sum_up(Work& work, std::size_t goal, const MeanAndWorst& rule);

}  // namespace haunch::grading
