// SPDX-License-Identifier: Apache-2.0
// Root hair, tap roots and root masses as chains of tapering round strands, grown from the
// scenario's numbers so that, seen along the pipe, they cover the stated share of its bore.
#pragma once

#include <cstdint>
#include <vector>

#include "scene/scene.hpp"

namespace haunch::matter {

struct StrandNode {
  scene::Vec3 at;  ///< scene coordinates, m
  double radius_m = 0;
};
struct Strand {
  int first = 0, count = 0;  ///< nodes
  float age = 0;             ///< 0 young and pale .. 1 old, brown and barky
};
struct RootShape {
  std::vector<StrandNode> nodes;
  std::vector<Strand> strands;
  double covered_share = 0;  ///< of the bore's area, measured on the strands as they are
};
RootShape root_shape(const scene::Scene& scene, const scene::Roots& roots, std::uint64_t seed);

/// Share of the bore at `z_m` that the strands hide seen along the axis, by drawing their outlines
/// into a fine grid.
double silhouette_share(const scene::Scene& scene, const RootShape& shape, double z_m);

}  // namespace haunch::matter
