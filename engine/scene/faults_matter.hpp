// SPDX-License-Identifier: Apache-2.0
// What is in the bore that should not be. Measures and clocks as fault.hpp has them.
#pragma once

#include "base/clock.hpp"

namespace haunch::scene {

enum class RootForm { tap, fine, mass };
struct Roots {
  double from_m = 0, to_m = 0;  ///< from_m: where they come in; to_m: how far they trail; equal: tuft
  base::ClockArc arc;           ///< where they come through the wall
  RootForm form = RootForm::fine;
  double blocks_percent = 0;  ///< of the bore's area, seen along the axis
};

enum class SettledKind { fine, coarse, hard };
/// Lies on the invert with a level top.
struct Settled {
  double from_m = 0, to_m = 0;
  SettledKind kind = SettledKind::fine;
  double depth_percent = 0;  ///< of the bore's height, in the middle; the ends taper
};

enum class AttachedKind { grease, scale, fouling };
/// Stuck to the wall.
struct Attached {
  double from_m = 0, to_m = 0;
  base::ClockArc arc;
  AttachedKind kind = AttachedKind::grease;
  double covers_percent = 0;  ///< of the bore's area, in the middle; the ends taper
};

}  // namespace haunch::scene
