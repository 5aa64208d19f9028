// SPDX-License-Identifier: Apache-2.0
// What is wrong with the shape of the bore, and of the line it follows. Measures as fault.hpp has them.
#pragma once

namespace haunch::scene {

/// Pressed out of round. Flexible pipe becomes an ellipse and keeps its perimeter; rigid pipe breaks into
/// four quarters hinged on one another. It grows and fades smoothly within the stretch.
struct Squashed {
  double from_m = 0, to_m = 0;
  bool vertical = true;  ///< the height is reduced; else the width
  double percent = 0;    ///< of the round bore, where it is worst
};

/// The line swings into a new direction within the stretch, evenly, and goes on in it. No joint bends.
struct Bend {
  double from_m = 0, to_m = 0;
  double angle_deg = 0;
  double toward_clock_h = 3;
};

}  // namespace haunch::scene
