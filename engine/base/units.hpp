// SPDX-License-Identifier: Apache-2.0
// SI inside; feet and inches only at the edges.
#pragma once

#include <string>

namespace haunch::base {

/// Exact: the international foot and inch (1959 agreement).
inline constexpr double metres_per_foot = 0.3048;
inline constexpr double mm_per_inch = 25.4;

enum class LengthUnit { metres, feet };

double from_metres(double metres, LengthUnit unit);
double to_metres(double value, LengthUnit unit);

/// Whole centimetres: what a counter shows and an inspector writes.
double to_centimetre(double metres);

/// "12.40 m" or "40.7 ft": two decimals in metres, tenths in feet.
std::string show_distance(double metres, LengthUnit unit);

}  // namespace haunch::base
