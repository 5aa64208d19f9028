// SPDX-License-Identifier: Apache-2.0
// What was built in or joined on later. Measures and clocks as fault.hpp has them.
#pragma once

namespace haunch::scene {

enum class Fitting { branch, saddle, cut_in };
struct Connection {
  double at_m = 0;     ///< centre
  double clock_h = 3;  ///< centre
  double bore_mm = 100;
  Fitting fitting = Fitting::branch;
  double intrudes_percent = 0;  ///< how far it reaches in, of the main pipe's bore
  bool closed = false;          ///< capped
};

}  // namespace haunch::scene
