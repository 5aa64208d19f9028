// SPDX-License-Identifier: Apache-2.0
// Single places that were mended without digging, or with, and how that went wrong. Measures and clocks as
// fault.hpp has them.
#pragma once

#include "base/clock.hpp"
#include "scene/faults_lining.hpp"
#include "scene/faults_wall.hpp"

namespace haunch::scene {

enum class RepairForm {
  pipe_replaced,      ///< a section of the run is newer than its neighbours
  mortar_in_joint,    ///< pressed into a joint, some of it on the wall beside
  sealant_in_joint,   ///< the same with a resin that sets
  patch,              ///< mortar over a hole
  connection_lining,  ///< a short tube with a brim in a connection's mouth
  connection_mortar   ///< mortar round a connection's mouth
};
enum class RepairFlaw {
  none,
  wall_missing,  ///< beside the repair the wall is gone still
  poor_patch,
  come_away,     ///< off the pipe
  not_reaching,  ///< a gap is left to what it should lie against
  excess,        ///< too much of it, in the way
  holed,
  cracked
};
struct Repair {
  double from_m = 0, to_m = 0;  ///< equal where it is one place
  RepairForm form = RepairForm::patch;
  base::ClockArc arc;    ///< of a patch one hour; of what is in a joint as far as it shows
  double length_mm = 0;  ///< patch: of the hole it covers, along the pipe
  double width_mm = 0;   ///< patch: of that hole, round the wall
  RepairFlaw flaw = RepairFlaw::none;
  double takes_percent = 0;  ///< excess: of the bore's area
  double crack_mm = 0;       ///< cracked: how wide it is open
  FoldWay way = FoldWay::along;
};
/// The hole a patch covers.
inline Hole mended_hole(const Repair& patch) {
  return {patch.from_m, patch.arc.from_h, patch.length_mm, patch.width_mm, Behind::soil};
}
/// Is the wall open somewhere about the patch?
inline bool leaves_open(const Repair& repair) {
  return repair.form == RepairForm::patch && repair.flaw != RepairFlaw::none &&
         repair.flaw != RepairFlaw::excess && repair.flaw != RepairFlaw::cracked;
}

}  // namespace haunch::scene
