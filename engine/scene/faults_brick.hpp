// SPDX-License-Identifier: Apache-2.0
// What is wrong with brickwork. Measures and clocks as fault.hpp has them.
#pragma once

#include "base/clock.hpp"

namespace haunch::scene {

enum class BrickForm { displaced, missing, invert_dropped, collapsed };
/// What shows where bricks are missing.
enum class BehindBricks { course, nothing };

/// Whole bricks of the wall: those whose middles lie in the stretch and the arc, one at least.
struct BrickDamage {
  BrickForm form = BrickForm::displaced;
  double from_m = 0, to_m = 0;
  base::ClockArc arc;  ///< never the whole way round
  /// Displaced: how far the brick that moved most stands in. Invert dropped: by how much. Else 0.
  double moved_mm = 0;
  BehindBricks behind = BehindBricks::course;  ///< of missing ones
  double takes_percent = 0;                    ///< of the bore's area by what has collapsed
};

}  // namespace haunch::scene
