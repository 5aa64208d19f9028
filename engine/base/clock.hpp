// SPDX-License-Identifier: Apache-2.0
// Clock positions round a pipe: 12 at the crown, clockwise looking the way the camera looks.
// Hours are real numbers in (0, 12] unless said otherwise; the record keeps whole hours 1..12.
#pragma once

namespace haunch::base {

/// An arc round the wall, clockwise from `from_h` to `to_h`. from == to means the whole way round
/// when `whole` is set, otherwise a single place.
struct ClockArc {
  double from_h = 12;
  double to_h = 12;
  bool whole = false;
  bool operator==(const ClockArc&) const = default;
};

/// Brings any number of hours into (0, 12].
double wrap_hours(double hours);

/// Whole hour 1..12 nearest to `hours` (half hours go up).
int nearest_hour(double hours);

/// The shorter way round between two places, 0..6 hours.
double hours_apart(double a_h, double b_h);

/// Width of the arc going clockwise, 0..12 hours; 12 when whole.
double arc_width_h(const ClockArc& arc);

bool arc_contains(const ClockArc& arc, double hour_h);

/// Hours that two arcs share.
double arc_overlap_h(const ClockArc& a, const ClockArc& b);

/// The same place seen looking the other way: h becomes 12 - h, and an arc changes its ends.
double mirrored(double hour_h);
ClockArc mirrored(const ClockArc& arc);

/// Degrees clockwise from the crown, [0, 360).
double degrees_from_crown(double hour_h);
double hours_from_degrees(double degrees);

/// What the screen shows for a true hour under camera roll (roll clockwise seen along travel):
/// on-screen hour = true hour - roll / 30 degrees. Source: geometry.
double on_screen_hour(double true_hour_h, double roll_deg);

}  // namespace haunch::base
