// SPDX-License-Identifier: Apache-2.0
// A percentile bootstrap (Efron 1979) that draws whole clusters again: pipe runs with all their coders,
// people with all their answers. What lies within a cluster hangs together; drawn one by one it would make
// the interval too narrow.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "statistics/interval.hpp"

namespace haunch::statistics {

/// Fewer clusters than this give no interval worth showing (ours).
inline constexpr int fewest_clusters = 20;

struct Resampling {
  std::uint64_t seed = 1;
  int replicates = 2000;  ///< at least 2000
  double confidence = 0.95;
};

struct Bootstrapped {
  std::optional<Interval> interval;  ///< nothing where no replicate had a value
  int undefined = 0;                 ///< replicates without a value: left out, to be told
  std::vector<double> replicates;    ///< sorted: the share of them below a bound is how sure one may be of it
};

/// The statistic of a sample: it gets the clusters drawn (0 to clusters - 1, with repeats, as many as there
/// are) and gives a finite number, or nothing where it is not defined.
using Statistic = std::function<std::optional<double>(const std::vector<int>& drawn)>;

/// Same seed, same interval. clusters >= 1.
Bootstrapped bootstrap(int clusters, const Statistic& statistic, const Resampling& how = {});
/// Of the mean of one value a cluster.
Interval bootstrap_mean(const std::vector<double>& values, const Resampling& how = {});

}  // namespace haunch::statistics
