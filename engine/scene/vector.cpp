// SPDX-License-Identifier: Apache-2.0
// Clock hours as directions in the plane across the pipe.
#include "scene/vector.hpp"

#include <numbers>

#include "base/clock.hpp"

namespace haunch::scene {

Vec2 toward_clock(double hour_h) {
  const double angle = hour_h * std::numbers::pi / 6.0;
  return {std::sin(angle), std::cos(angle)};
}

double clock_of(Vec2 direction) {
  if (direction.x == 0 && direction.y == 0) return 12;
  return base::wrap_hours(std::atan2(direction.x, direction.y) * 6.0 / std::numbers::pi);
}

}  // namespace haunch::scene
