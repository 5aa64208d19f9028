// SPDX-License-Identifier: Apache-2.0
// Steam and stirred silt: what they take of the light behind them, and what they throw back of the lamps'
// own. Goes over a batch of rays from the lens that has met everything else. Room-internal header.
#pragma once

#include <vector>

#include "render/samples.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

inline constexpr double haze_cell_m = 0.02;

/// Along the pipe: how thick it is (per metre of way, there and back) and the sum of that from the beginning,
/// both at the beginnings of the cells; which fault it is, and what it looks like.
struct HazeTable {
  std::vector<float> thick, sum;
  std::vector<std::int32_t> fault;
  Rgb colour;  ///< of what it throws back
  float seed = 0;
  bool any() const { return !thick.empty(); }
  /// Is there any within sight of a lens at z? What lies farther is dark anyway.
  bool near(double z_m) const;
};
HazeTable haze_table(const scene::Scene& scene, scene::HazeKind kind);

void go_through_haze(const HazeTable& haze, double time_s, Samples& samples);

}  // namespace haunch::render
