// SPDX-License-Identifier: Apache-2.0
// Numbered marks of findings in lanes, the most urgent nearest to the pipe. Inside this room.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "report/advice.hpp"

namespace haunch::report {

inline constexpr double mark_lane_height = 27;

struct PlacedMark {
  const RankedFinding* finding = nullptr;
  double x = 0, x_end = 0;  ///< on the page, x <= x_end for points and stretches alike
  int lane = -1;            ///< 0 next to the pipe; -1: no room for a number
  std::string title;
};

/// Gives lanes so that no two marks lie on one another; the most urgent choose first.
void give_lanes(std::vector<PlacedMark>& marks, int most_lanes);
int lanes_used(const std::vector<PlacedMark>& marks);

/// `bottom_y`: where lane 0 ends; `crown_y`: the pipe's upper edge at a place on the page.
std::string marks_svg(const std::vector<PlacedMark>& marks, double bottom_y,
                      const std::function<double(double)>& crown_y);

/// The shape of a step about a centre, with the label in it.
std::string step_shape(std::size_t next, double x, double y, const std::string& label);

}  // namespace haunch::report
