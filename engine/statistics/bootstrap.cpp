// SPDX-License-Identifier: Apache-2.0
#include "statistics/bootstrap.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "base/random.hpp"
#include "statistics/quantile.hpp"

namespace haunch::statistics {

Bootstrapped bootstrap(int clusters, const Statistic& statistic, const Resampling& how) {
  assert(clusters >= 1 && how.replicates >= 2000 && how.confidence > 0 && how.confidence < 1);
  base::Random random(how.seed);
  Bootstrapped result;
  std::vector<int> drawn(static_cast<std::size_t>(clusters));
  for (int i = 0; i < how.replicates; ++i) {
    for (int& cluster : drawn) cluster = static_cast<int>(random.below(static_cast<std::uint32_t>(clusters)));
    const std::optional<double> value = statistic(drawn);
    if (value && std::isfinite(*value)) {
      result.replicates.push_back(*value);
    } else {
      ++result.undefined;
    }
  }
  std::sort(result.replicates.begin(), result.replicates.end());
  if (result.replicates.empty()) return result;
  const double outside = (1 - how.confidence) / 2;
  result.interval = Interval{quantile_of_sorted(result.replicates, outside),
                             quantile_of_sorted(result.replicates, 1 - outside)};
  return result;
}

Interval bootstrap_mean(const std::vector<double>& values, const Resampling& how) {
  assert(!values.empty());
  const auto mean = [&values](const std::vector<int>& drawn) {
    double sum = 0;
    for (const int i : drawn) sum += values[static_cast<std::size_t>(i)];
    return std::optional<double>(sum / static_cast<double>(drawn.size()));
  };
  return bootstrap(static_cast<int>(values.size()), mean, how).interval.value_or(Interval{});
}

}  // namespace haunch::statistics
