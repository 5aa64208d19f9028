// SPDX-License-Identifier: Apache-2.0
// What is wrong where units meet. Measures and clocks as fault.hpp has them.
#pragma once

#include "base/clock.hpp"

namespace haunch::scene {

/// Two units pulled apart at a joint.
struct JointGap {
  double at_m = 0;
  double gap_mm = 0;
};
/// The downstream unit, and all after it, shifted sideways at a joint.
struct JointShift {
  double at_m = 0;
  double offset_mm = 0;
  double toward_clock_h = 6;
};
/// The line bends at a joint and goes on in the new direction.
struct JointBend {
  double at_m = 0;
  double angle_deg = 0;
  double toward_clock_h = 12;
};

/// The sealing ring of a joint, out of its place.
struct SealingRing {
  double at_m = 0;
  base::ClockArc arc;   ///< where it has come out; it hangs from the two ends of this
  double hangs_mm = 0;  ///< farthest from the wall it has left; 0: it shows but does not reach in
  bool torn = false;
};

}  // namespace haunch::scene
