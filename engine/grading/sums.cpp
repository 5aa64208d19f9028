// SPDX-License-Identifier: Apache-2.0
#include "grading/sums.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/words.hpp"

namespace haunch::grading {

using base::show_number;

double tidy(double value) { return std::round(value * 1e9) / 1e9; }
std::string show_score(double value) { return show_number(std::round(value * 1e4) / 1e4); }

Sum sum_up(Work& work, std::size_t goal, const MeanAndWorst& rule) {
  Sum sum;
  const std::string& name = work.scheme.goals[goal];
  sum.unclassed = work.unclassed(name);
  std::vector<std::size_t> unplaced;
  const double way = work.counts_down ? -1 : 1;
  for (std::size_t i = 0; i < work.findings.size(); ++i) {
    const Finding& finding = work.findings[i];
    const GoalClass& classed = work.grade.observations[i].goals[goal];
    if (!classed.grade || !classed.number) continue;
    if (!finding.from_m || !finding.end_placed) unplaced.push_back(i);
    sum.complete = sum.complete && !classed.least;
    sum.lengths_complete = sum.lengths_complete && finding.extent_known();
    Scored one{0, rule.least_length_m, *classed.number, finding.from_m.has_value()};
    if (one.placed) {
      one.from_m = way * *finding.from_m;
      if (finding.extent_m() > rule.least_length_m)
        std::tie(one.from_m, one.to_m) = std::minmax({one.from_m, way * *finding.to_m});
      else
        one.to_m = one.from_m + rule.least_length_m;
    }
    sum.items.push_back(one);
    sum.provisional = sum.provisional || classed.provisional;
  }
  if (sum.items.size() > 1)
    for (const std::size_t i : unplaced) {
      work.leave_open(work.grade.observations[i].observation, name, true,
                      "where it lies is not given, and findings close to each other count for more");
      sum.complete = false;
    }
  sum.complete = sum.complete && sum.unclassed == 0;
  const Closeness close{rule.together_within_m, rule.close_within_m, rule.close_factor, rule.most_together};
  sum.parts = compounds(sum.items, close);
  // That two are apart is decided by these as well as that they are not.
  if (sum.items.size() > 1)
    sum.provisional =
        sum.provisional || rule.together.provisional || rule.close.provisional || rule.length.provisional;
  double single = 0, near = 0;
  for (const Compound& part : sum.parts) {
    (part.close ? near : single) += part.score;
    sum.worst = std::max(sum.worst, part.score);
  }
  if (!sum.parts.empty())
    sum.mean = tidy((single + rule.close_factor * near) / static_cast<double>(sum.parts.size()));
  sum.number = tidy(std::max(sum.mean, sum.worst));
  sum.guard = tidy(std::max(sum.number, worst_of_any_choice(sum.items, close)));
  if (work.words && !sum.parts.empty())
    sum.mean_words =
        "mean " + show_score(sum.mean) + " = " + (near > 0 ? "(" : "") + show_score(single) +
        (near > 0 ? " + " + show_number(rule.close_factor) + " x " + show_score(near) + ")" : "") + " / " +
        std::to_string(sum.parts.size());
  return sum;
}

}  // namespace haunch::grading
