// SPDX-License-Identifier: Apache-2.0
// The inner loop of meeting strands: sixteen rays against many links, on the machine's best vectors.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "render/strands.hpp"

namespace haunch::render {

inline constexpr int group_size = 16;

/// Rays that start near one place and go about the same way.
struct Cone {
  float ox = 0, oy = 0, oz = 0, spread = 0;  // the starts lie within `spread` of this place
  float ax = 0, ay = 0, az = 0;              // mean direction
  float cosine = 1, sine = 0;                // of the widest ray from it
  float far = 0;                             // the farthest any ray goes
  bool all_round = false;                    // wider than a half space: leave nothing out
};

/// The same rays between four planes, closer than a cone: at `z` along the axis they lie from
/// low_u + z * low_slope_u to high_u + z * high_slope_u across it, and so for v.
struct Beam {
  float ox, oy, oz;  // mean start
  float ax, ay, az, ux, uy, uz, vx, vy, vz;
  float low_u, high_u, low_v, high_v;
  float low_slope_u, high_slope_u, low_slope_v, high_slope_v;
  float far;
  bool all_round;
};

/// What one ray meets of one link.
struct Met {
  float depth, cover, along, across;  // across: 0 over the strand's middle .. 1 at its side
  std::int32_t link;
};
inline constexpr int most_met = 24;

/// Sixteen rays that follow each other in a batch; lanes that hold none repeat another ray and have
/// limit 0.
struct RayGroup {
  const float *ox, *oy, *oz, *dx, *dy, *dz, *lamp, *travelled;
  alignas(64) float limit[group_size];  // nothing beyond can be seen
  float half_pixel = 0;                 // at unit distance
  bool parallel = false;
  int count[group_size];
  Met met[group_size][most_met];
};

/// The links of a tile from the front, roughly; in step, a multiple of 16 long.
struct TileLinks {
  int count = 0;
  std::vector<float> ax, ay, az, ex, ey, ez, length, radius;
  std::vector<float> nearest;  // no link from here on is nearer to the rays' mean start
  float spread = 0;            // how far from it they start
  std::vector<std::int32_t> link;
};

/// What is seen of links by a group's rays: each with its share of the pixel; a multiple of 16 long.
struct SeenLinks {
  static constexpr int most = group_size * most_met;
  int count = 0;
  std::int32_t ray[most], link[most];
  alignas(64) float depth[most], along[most], across[most], share[most];
  alignas(64) float bark[most];                          // factor on its colour
  alignas(64) float red[most], green[most], blue[most];  // comes back: its light, as much as it shares
};
inline constexpr float bark_radius_m = 0.0016F;  // thicker ones show their bark
void shade_seen(const Strands& strands, const RayGroup& group, SeenLinks& seen);

/// The cone around a batch's rays and the pixels beside theirs.
Cone cone_of(const Samples& samples);

/// Fills in what the rays meet; `first` is the group's first in the batch.
void meet_group(const std::vector<Link>& links, const TileLinks& tile, const Samples& samples, int first,
                RayGroup& group);

}  // namespace haunch::render
