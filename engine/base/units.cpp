// SPDX-License-Identifier: Apache-2.0
#include "base/units.hpp"

#include <cmath>
#include <cstdio>

namespace haunch::base {

double from_metres(double metres, LengthUnit unit) {
  return unit == LengthUnit::feet ? metres / metres_per_foot : metres;
}

double to_metres(double value, LengthUnit unit) {
  return unit == LengthUnit::feet ? value * metres_per_foot : value;
}

double to_centimetre(double metres) { return std::round(metres * 100.0) / 100.0; }

std::string show_distance(double metres, LengthUnit unit) {
  char text[48];
  if (unit == LengthUnit::feet) {
    std::snprintf(text, sizeof text, "%.1f ft", from_metres(metres, unit));
  } else {
    std::snprintf(text, sizeof text, "%.2f m", metres);
  }
  return text;
}

}  // namespace haunch::base
