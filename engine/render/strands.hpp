// SPDX-License-Identifier: Apache-2.0
// Root hair as tapering round strands, met by rays without a mesh: thin ones by the share of the
// pixel they cover, so that they do not break into dots.
// Room-internal header.
#pragma once

#include <cstdint>
#include <vector>

#include "render/passes.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// One straight tapering link of a strand.
struct Link {
  float ax, ay, az;  // start
  float ex, ey, ez;  // unit vector along
  float length;
  float r0, slope;  // radius at the start, its change per metre
};
/// What a link looks like; kept apart, since few links met are seen.
struct LinkLook {
  Rgb start, end;  // albedo at its ends
  float gloss = 0;
  std::uint16_t fault = 0;
};

/// A ball around links or around other balls, for leaving out what a bundle of rays cannot meet.
struct Ball {
  float x, y, z, radius;
  std::int32_t first;  // link, or first child (children follow each other)
  std::int32_t count;  // links; 0: two children
};

struct Strands {
  std::vector<Link> links;
  std::vector<LinkLook> looks;
  std::vector<Ball> balls;  // the root is the first
};

Strands make_strands(const scene::Scene& scene);
void meet_strands(const Strands& strands, const Batch& batch, Samples& samples);

}  // namespace haunch::render
