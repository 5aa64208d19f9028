// SPDX-License-Identifier: Apache-2.0
#include "statistics/proportion.hpp"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cassert>
#include <cmath>

#include "statistics/normal.hpp"

namespace haunch::statistics {

Interval wilson(int right, int of, double confidence) {
  assert(right >= 0 && right <= of);
  if (of == 0) return {0, 1};
  const double n = of;
  const double share = right / n;
  const double z = two_sided(confidence);
  const double whole = 1 + z * z / n;
  const double middle = (share + z * z / (2 * n)) / whole;
  const double half = z * std::sqrt(share * (1 - share) / n + z * z / (4 * n * n)) / whole;
  // At the ends rounding would leave the bound a hair beside 0 or 1.
  return {right == 0 ? 0.0 : std::max(0.0, middle - half), right == of ? 1.0 : std::min(1.0, middle + half)};
}

Interval exact(int right, int of, double confidence) {
  assert(right >= 0 && right <= of);
  assert(confidence > 0 && confidence < 1);
  if (of == 0) return {0, 1};
  const double outside = (1 - confidence) / 2;
  const double k = right;
  const double n = of;
  return {right == 0 ? 0.0 : boost::math::ibeta_inv(k, n - k + 1, outside),
          right == of ? 1.0 : boost::math::ibeta_inv(k + 1, n - k, 1 - outside)};
}

}  // namespace haunch::statistics
