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

enum class ObstacleForm {
  brick,
  pipe_pieces,
  bottle,
  rag,
  ball,
  timber,
  through_wall,
  in_joint,
  from_connection,
  crossing,  ///< a pipe or cable that is no part of the drain
  built_in,
  jammed,  ///< a rod stuck aslant
};
/// A thing in the bore that belongs neither to the pipe nor to what flows through it.
struct Obstacle {
  double at_m = 0;  ///< its middle, or where it comes in
  ObstacleForm form = ObstacleForm::brick;
  base::ClockArc arc;        ///< where it comes in, one hour; of what crosses: where it comes in and goes out
  double takes_percent = 0;  ///< of the bore's area, seen along the axis
};
inline bool lies_on_invert(ObstacleForm form) { return form <= ObstacleForm::timber; }

enum class SoilKind { sand, peat, fine, gravel };
/// Ground that has come in where the pipe is open, and lies below that place.
struct SoilIngress {
  double at_m = 0;
  base::ClockArc arc;  ///< where it comes in, one hour
  SoilKind kind = SoilKind::fine;
  double takes_percent = 0;  ///< of the bore's area, seen along the axis
};

enum class WaterRate { drips, flows, gushes };
/// Ground water that comes in where the pipe is open.
struct Infiltration {
  double at_m = 0;
  base::ClockArc arc;  ///< where it comes in, one hour
  WaterRate rate = WaterRate::drips;
};

/// Water that leaves the pipe where it is open below: the stream is the less for it from there on.
struct Exfiltration {
  double at_m = 0;
  base::ClockArc arc;        ///< where it goes out, one hour
  double loses_percent = 0;  ///< of what arrives
};

enum class VerminKind { rat, cockroach };
enum class VerminPlace { pipe, connection, open_joint };
struct Vermin {
  double at_m = 0;
  VerminKind kind = VerminKind::rat;
  double count = 1;
  VerminPlace place = VerminPlace::pipe;  ///< in the bore; looking out of a connection or an open joint
};

}  // namespace haunch::scene
