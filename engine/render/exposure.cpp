// SPDX-License-Identifier: Apache-2.0
#include "render/exposure.hpp"

#include <cmath>

namespace haunch::render {

double eased_exposure(double now, double wanted, double seconds) {
  if (now <= 0 || wanted <= 0) return wanted;
  // In stops: equal steps of brightness take equal time whichever way.
  const double share = 1 - std::exp(-seconds / exposure_lag_s);
  return now * std::pow(wanted / now, share);
}

bool AutoExposure::settled() const {
  constexpr double settled_stops = 0.01;  // nobody sees a seventieth of the light more or less; ours
  return wanted_ <= 0 || std::abs(std::log2(gain_ / wanted_)) < settled_stops;
}

}  // namespace haunch::render
