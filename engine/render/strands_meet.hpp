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

/// What one ray meets of one link.
struct Met {
  float depth, cover, along, across;  // across: 0 over the strand's middle .. 1 at its side
  std::int32_t link;
};
inline constexpr int most_met = 24;
struct RayMet {
  Met met[most_met];
  int count = 0;
};

/// Sixteen rays; lanes that hold none repeat another ray and have limit 0.
struct RayGroup {
  alignas(64) float ox[group_size], oy[group_size], oz[group_size], dx[group_size], dy[group_size],
      dz[group_size];
  alignas(64) float limit[group_size];  // nothing beyond can be seen
  float half_pixel = 0;                 // at unit distance
  bool parallel = false;
  RayMet met[group_size];
};

/// The links of a tile from the front, roughly; in step, a multiple of 16 long.
struct TileLinks {
  int count = 0;
  std::vector<float> ax, ay, az, ex, ey, ez, length, radius;
  std::vector<float> nearest;  // no link from here on is nearer to the cone's start
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
struct GroupLight {
  alignas(64) float lamp[group_size], travelled[group_size];
};
inline constexpr float bark_radius_m = 0.0016F;  // thicker ones show their bark
void shade_seen(const Strands& strands, const RayGroup& group, const GroupLight& light, SeenLinks& seen);

/// The cone around a group's rays.
Cone cone_of_group(const RayGroup& group);

/// Fills in what the rays meet.
void meet_group(const std::vector<Link>& links, const TileLinks& tile, const Cone& cone, RayGroup& group);

}  // namespace haunch::render
