// SPDX-License-Identifier: Apache-2.0
// What is wrong where units meet. Measures and clocks as fault.hpp has them.
#pragma once

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

}  // namespace haunch::scene
