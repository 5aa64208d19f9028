// SPDX-License-Identifier: Apache-2.0
// What is wrong with a pipe, as physical things: where, how wide, how much. No codes here.
// Distances in m from the upstream end; clocks looking downstream.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

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

enum class CrackForm { along, around, branching };
struct Crack {
  double from_m = 0, to_m = 0;  ///< equal for a crack around the pipe
  base::ClockArc arc;           ///< along: a single hour; around and branching: the arc it crosses
  CrackForm form = CrackForm::along;
  double width_mm = 0;          ///< opening; 0 is a hairline that does not open
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

enum class RootForm { tap, fine, mass };
struct Roots {
  double from_m = 0, to_m = 0;   ///< from_m: where they come in; to_m: how far they trail; equal: tuft
  base::ClockArc arc;            ///< where they come through the wall
  RootForm form = RootForm::fine;
  double blocks_percent = 0;     ///< of the bore's area, seen along the axis
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

enum class Fitting { branch, saddle, cut_in };
struct Connection {
  double at_m = 0;       ///< centre
  double clock_h = 3;    ///< centre
  double bore_mm = 100;
  Fitting fitting = Fitting::branch;
  double intrudes_percent = 0;  ///< how far it reaches in, of the main pipe's bore
  bool closed = false;          ///< capped
};

using FaultKind = std::variant<JointGap, JointShift, JointBend, Crack, Hole, Roots, Settled, Attached, Connection>;

struct Fault {
  FaultKind kind;
  std::string pointer;  ///< JSON pointer of its place in the scenario file
};

/// The stretch along the pipe a fault takes up (from <= to); a point has from == to.
struct Stretch {
  double from_m = 0, to_m = 0;
};
Stretch stretch_of(const Fault& fault);
/// "roots", "crack" .. : the word scenario files use.
std::string kind_word(const Fault& fault);

}  // namespace haunch::scene
