// SPDX-License-Identifier: Apache-2.0
// How well somebody tells what is there from what is not, from how sure they were of each mark: figures of
// merit for free marking (Chakraborty: AFROC and weighted AFROC). Runs without a fault are needed.
#pragma once

#include <optional>
#include <vector>

namespace haunch::marking {

/// One run as marked. Any scale of sureness does, if more is surer and it is the same for all runs.
struct RatedRun {
  std::vector<double> false_marks;              ///< how sure of each mark on nothing
  std::vector<std::optional<double>> findings;  ///< how sure of each thing that is there; nothing: not marked
  std::vector<double> weights;                  ///< of each, summing to 1 in a run; none: all alike
};

/// Throws std::invalid_argument where weights are given and are not one for each finding, or do not sum to 1
/// within 1e-6; a sureness that is no number throws too.
///
/// The share of pairs (a clean run, a thing that is there) in which the thing was marked more surely than
/// anything on the clean run; alike counts half. Nothing where there is no clean run or nothing to find.
std::optional<double> figure_of_merit(const std::vector<RatedRun>& runs);
/// The same with each run counting once, and what is there by its weight within its run.
std::optional<double> weighted_figure_of_merit(const std::vector<RatedRun>& runs);

}  // namespace haunch::marking
