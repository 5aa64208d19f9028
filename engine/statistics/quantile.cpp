// SPDX-License-Identifier: Apache-2.0
#include "statistics/quantile.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace haunch::statistics {

double quantile_of_sorted(const std::vector<double>& values, double share) {
  assert(!values.empty() && share >= 0 && share <= 1);
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(std::floor(at));
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (at - std::floor(at)) * (values[above] - values[below]);
}

double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return quantile_of_sorted(values, share);
}

}  // namespace haunch::statistics
