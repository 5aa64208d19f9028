// SPDX-License-Identifier: Apache-2.0
// What is wrong with the wall itself. Measures and clocks as fault.hpp has them.
#pragma once

#include "base/clock.hpp"

namespace haunch::scene {

enum class CrackForm { along, around, branching };
struct Crack {
  double from_m = 0, to_m = 0;  ///< equal for a crack around the pipe
  base::ClockArc arc;           ///< along: a single hour; around and branching: the arc it crosses
  CrackForm form = CrackForm::along;
  double width_mm = 0;  ///< opening; 0 is a hairline that does not open
};

enum class Behind { soil, stone };
/// Wall missing.
struct Hole {
  double at_m = 0;       ///< centre
  double clock_h = 12;   ///< centre
  double length_mm = 0;  ///< along the pipe
  double width_mm = 0;   ///< round the wall, on the curve
  Behind behind = Behind::soil;
};

}  // namespace haunch::scene
