// SPDX-License-Identifier: Apache-2.0
// What is wrong with the wall itself. Measures and clocks as fault.hpp has them.
#pragma once

#include "base/clock.hpp"

namespace haunch::scene {

enum class CrackForm { along, around, branching, spiral, star };
struct Crack {
  double from_m = 0, to_m = 0;  ///< equal for a crack around the pipe and for a star
  base::ClockArc arc;           ///< along: a single hour; else the arc it crosses (a star: from its middle)
  CrackForm form = CrackForm::along;
  double width_mm = 0;  ///< opening; 0 is a hairline that does not open
};

enum class Behind { soil, stone, nothing };
/// Wall missing.
struct Hole {
  double at_m = 0;       ///< centre
  double clock_h = 12;   ///< centre
  double length_mm = 0;  ///< along the pipe
  double width_mm = 0;   ///< round the wall, on the curve
  Behind behind = Behind::soil;
};

enum class DamageForm {
  rougher,
  spalled,
  stones_showing,
  stones_out,
  stones_gone,
  steel_showing,
  steel_out,
  steel_corroded,
  wall_gone,
  rust,
  blister,
  dent
};
enum class DamageCause { worn, chemical, chemical_above, chemical_below, unclear };
/// The wall's own surface is worn, eaten away, flaked or rusted.
struct SurfaceDamage {
  double from_m = 0, to_m = 0;
  base::ClockArc arc;
  DamageForm form = DamageForm::rougher;
  DamageCause cause = DamageCause::unclear;
  double depth_mm = 0;  ///< at its deepest (of rust and blisters: height); 0 as is usual for its form
};
/// Mortar has come out of a joint; in brickwork, out of all joints between bricks over a stretch.
struct MissingMortar {
  double at_m = 0;
  base::ClockArc arc;
  double depth_mm = 0;  ///< how deep the joint is empty
  double length_m = 0;  ///< of brickwork, along the pipe, about at_m; 0: a joint between two units
};
/// Full of pores that water comes through.
struct PorousWall {
  double from_m = 0, to_m = 0;
  base::ClockArc arc;
};
/// Ground water sweats through: damp and beads, nothing drips.
struct SweatingWall {
  double from_m = 0, to_m = 0;
  base::ClockArc arc;
};
enum class WeldWay { along, around, spiral };
/// A weld that has not held: open along part of it. Welds round a pipe stand where two lengths meet; along it
/// or winding round it goes the seam of a pipe that was rolled from sheet or wound from a strip.
struct FailedWeld {
  double from_m = 0, to_m = 0;  ///< equal round the pipe
  base::ClockArc arc;           ///< along: one hour; round: how far; winding: from the upstream end to the other
  WeldWay way = WeldWay::around;
  double gap_mm = 0;  ///< how far it gapes
};
/// What is usual: depth_mm where it is stated, else by form; never through the wall but where it is gone.
/// Ours.
double depth_m_of(const SurfaceDamage& damage, double wall_m);
/// Wall that has broken into pieces. All of them are there, but out of place; or it has fallen in.
struct BrokenWall {
  double at_m = 0;           ///< centre
  double clock_h = 12;       ///< centre
  double length_mm = 0;      ///< along the pipe
  double width_mm = 0;       ///< round the wall, on the curve
  double moved_mm = 0;       ///< how far the piece that moved most stands in
  bool fallen_in = false;    ///< its pieces and the ground above lie in the bore
  double takes_percent = 0;  ///< of the bore's area by what has fallen in
};

}  // namespace haunch::scene
