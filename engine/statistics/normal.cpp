// SPDX-License-Identifier: Apache-2.0
#include "statistics/normal.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace haunch::statistics {

double normal_cdf(double x) {
  if (std::isinf(x)) return x > 0 ? 1.0 : 0.0;
  return 0.5 * boost::math::erfc(-x / std::numbers::sqrt2);
}

double normal_quantile(double share) {
  assert(share >= 0 && share <= 1);
  // Boost treats the infinities as errors.
  if (share <= 0) return -std::numeric_limits<double>::infinity();
  if (share >= 1) return std::numeric_limits<double>::infinity();
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * share);
}

double two_sided(double confidence) {
  assert(confidence > 0 && confidence < 1);
  // Nearly always asked for, and for many intervals in a row.
  static const double of_95 = normal_quantile(0.975);
  return confidence == 0.95 ? of_95 : normal_quantile(0.5 + confidence / 2);
}

}  // namespace haunch::statistics
