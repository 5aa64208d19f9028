// SPDX-License-Identifier: Apache-2.0
#include "scene/brickwork.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haunch::scene {
namespace {

constexpr double tau = 2 * std::numbers::pi;
constexpr double four_courses_m = 0.300;

/// Odd courses lie half a brick on.
double lag(int course) { return course % 2 == 0 ? 0 : 0.5; }

}  // namespace

int brick_courses(double bore_mm) {
  return 4 * static_cast<int>(std::max(1.0, std::round(std::numbers::pi * bore_mm / 1000 / four_courses_m)));
}

Brick brick_at(double bore_mm, double z_m, double angle) {
  const int courses = brick_courses(bore_mm);
  const double turn = angle / tau - std::floor(angle / tau);
  const int course = std::min(courses - 1, static_cast<int>(turn * courses));
  return {course, static_cast<int>(std::floor(z_m / brick_pitch_m - lag(course)))};
}

BrickPlace place_of(double bore_mm, const Brick& brick) {
  const int courses = brick_courses(bore_mm);
  return {(brick.row + 0.5 + lag(brick.course)) * brick_pitch_m, (brick.course + 0.5) * tau / courses,
          brick_pitch_m, std::numbers::pi * bore_mm / 1000 / courses};
}

}  // namespace haunch::scene
