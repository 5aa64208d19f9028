// SPDX-License-Identifier: Apache-2.0
#include "base/clock.hpp"

#include <algorithm>
#include <cmath>

namespace haunch::base {

double wrap_hours(double hours) {
  double wrapped = std::fmod(hours, 12.0);
  if (wrapped <= 0) wrapped += 12.0;
  return wrapped;
}

int nearest_hour(double hours) {
  const int hour = static_cast<int>(std::floor(wrap_hours(hours) + 0.5));
  return hour == 0 ? 12 : (hour > 12 ? hour - 12 : hour);
}

double hours_apart(double a_h, double b_h) {
  const double apart = std::fmod(std::abs(a_h - b_h), 12.0);
  return std::min(apart, 12.0 - apart);
}

double arc_width_h(const ClockArc& arc) {
  if (arc.whole) return 12;
  double width = std::fmod(arc.to_h - arc.from_h, 12.0);
  if (width < 0) width += 12.0;
  return width;
}

bool arc_contains(const ClockArc& arc, double hour_h) {
  if (arc.whole) return true;
  double past = std::fmod(hour_h - arc.from_h, 12.0);
  if (past < 0) past += 12.0;
  return past <= arc_width_h(arc) + 1e-9 || past >= 12.0 - 1e-9;
}

double arc_overlap_h(const ClockArc& a, const ClockArc& b) {
  if (a.whole) return arc_width_h(b);
  if (b.whole) return arc_width_h(a);
  // Unroll b from where a begins; it may reach a at its head, after one turn, or both.
  const double a_width = arc_width_h(a);
  const double b_width = arc_width_h(b);
  double b_from = std::fmod(b.from_h - a.from_h, 12.0);
  if (b_from < 0) b_from += 12.0;
  double shared = std::max(0.0, std::min(a_width, b_from + b_width) - b_from);
  shared += std::max(0.0, std::min(a_width, b_from + b_width - 12.0));
  return shared;
}

double mirrored(double hour_h) { return wrap_hours(12.0 - hour_h); }

ClockArc mirrored(const ClockArc& arc) { return {mirrored(arc.to_h), mirrored(arc.from_h), arc.whole}; }

double degrees_from_crown(double hour_h) { return std::fmod(wrap_hours(hour_h) * 30.0, 360.0); }

double hours_from_degrees(double degrees) { return wrap_hours(degrees / 30.0); }

double on_screen_hour(double true_hour_h, double roll_deg) {
  return wrap_hours(true_hour_h - roll_deg / 30.0);
}

}  // namespace haunch::base
