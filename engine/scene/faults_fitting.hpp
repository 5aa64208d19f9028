// SPDX-License-Identifier: Apache-2.0
// What was built in or joined on later. Measures and clocks as fault.hpp has them.
#pragma once

#include "base/clock.hpp"

namespace haunch::scene {

/// How another pipe was joined on.
enum class Fitting {
  branch,            ///< a made branch piece
  saddle,            ///< a saddle over a drilled hole
  cut_in,            ///< a pipe put into a hole cut by hand
  saddle_chiselled,  ///< a saddle over a hole cut by hand
  drilled_in,        ///< a pipe put into a drilled hole
  bricked_in,        ///< a pipe brought in through bricks and mortar
  hose               ///< a hose put through the wall
};
inline bool has_saddle(Fitting fitting) {
  return fitting == Fitting::saddle || fitting == Fitting::saddle_chiselled;
}
/// Its pipe is no part of a fitting: it can have slid back, or have a gap round it.
inline bool is_loose_pipe(Fitting fitting) { return fitting != Fitting::branch && !has_saddle(fitting); }

enum class Stop { cap, plug, bricks };
enum class Filling { silt, rubble, mortar, roots };

enum class IncomingLook { clear, cloudy, coloured, cloudy_and_coloured };
/// What it carries, where that is known (by dye, or by what floats in it).
enum class Brings { unsaid, foul, surface_water };

/// Hours of its own rim: 12 its place nearest the crown, 3 its downstream side, 9 its upstream side (of one
/// at 12 or 6 itself, 12 is its side farther on round the clock).
struct Connection {
  double at_m = 0;     ///< centre
  double clock_h = 3;  ///< centre
  double bore_mm = 100;
  Fitting fitting = Fitting::branch;
  double intrudes_percent = 0;  ///< how far it reaches in, of the main pipe's bore
  bool closed = false;
  Stop stop = Stop::cap;                 ///< closed by what
  double set_back_mm = 0;                ///< how far its end lies behind the main pipe's bore
  double gap_mm = 0;                     ///< widest open gap between it and the wall
  base::ClockArc gap_arc{12, 12, true};  ///< of its rim
  double broken_mm = 0;                  ///< deepest piece out of its rim
  base::ClockArc broken_arc{12, 12, true};
  double blocked_percent = 0;  ///< of its mouth's area
  Filling filling = Filling::silt;
  bool void_behind = false;  ///< the ground behind a gap is gone
  double flow_l_s = 0;       ///< what runs in by it
  IncomingLook look = IncomingLook::clear;
  Brings brings = Brings::unsaid;
  double gradient_percent = 2;  ///< of its own pipe, which its depth of flow follows from
};

}  // namespace haunch::scene
