// SPDX-License-Identifier: Apache-2.0
// The water: a surface that mirrors, bends and hides, seen from above, from below, or across the
// camera's window when the head is half under. Works on a batch of rays that has met the solids.
// Room-internal header.
#pragma once

#include <functional>
#include <vector>

#include "render/passes.hpp"

namespace haunch::render {

inline constexpr double water_cell_m = 0.01;
/// The window of the camera stands this far ahead of the point the rays come from: where a ray
/// passes the window above the surface it starts in air, below it in water (common practice, no
/// source, for the size of a small head).
inline constexpr double window_ahead_m = 0.010;
/// Of what lies under water this share of its light must come through to count as seen (ours).
inline constexpr float seen_through = 0.12F;

struct WaterTable {
  bool any = false;
  float start_m = 0;
  float top = -1e6F;                ///< no water stands higher
  std::vector<float> level, slope;  ///< of each cell: elevation in its middle, m per m; dry: far below
  std::vector<float> liveliness;    ///< 0 a still pond .. 1 quick shallow flow
  float black_beyond = 0;           ///< what lies this far off in it cannot be seen, m
  float dim[3] = {};                ///< what a metre of way through it takes, there and back
  Rgb murk;                         ///< colour of what is stirred up in it
  float bits = 0;  ///< share of 16 mm squares of the surface with a bit of paper or the like in it
  float seed = 0;
};
WaterTable water_table(const scene::Scene& scene);

struct WaterScratch {
  Samples mirrored, bent;
  std::vector<float> surface, mirror_share, lively;
  std::vector<std::int32_t> kind, index, mirrored_at, bent_at;
};

/// Is the whole window under water?
bool lens_under(const WaterTable& water, const RayCamera& camera);

/// Before the wall is lit: which rays from the lens meet the surface, and where. Wall that lies
/// beyond it needs no colour (Samples::unseen).
void find_water(const WaterTable& water, const RayCamera& camera, Samples& samples, WaterScratch& scratch);

/// After the solids: what the water mirrors, bends and hides. `meet_solids` draws further rays.
using MeetSolids = std::function<void(Samples&)>;
void meet_water(const WaterTable& water, double time_s, Samples& samples, WaterScratch& scratch,
                const MeetSolids& meet_solids);

}  // namespace haunch::render
