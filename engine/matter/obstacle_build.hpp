// SPDX-License-Identifier: Apache-2.0
// What every obstacle is made from. Inside this room.
#pragma once

#include "matter/solid_build.hpp"

namespace haunch::matter {

struct ObstacleMaker {
  const scene::Scene& scene;
  const scene::Obstacle& obstacle;
  std::uint64_t seed = 0;
  double radius = 0, share = 0;  ///< of the bore; share of its area to be taken
  double wall_m = 0;
  std::uint32_t s = 0;  ///< the seed as noise takes it

  Solid fit(const std::function<Solid(double)>& made, double low, double high) const {
    return of_share(made, low, high, share, radius);
  }
};

Solid lying_solid(const ObstacleMaker& maker);
Solid standing_solid(const ObstacleMaker& maker);

}  // namespace haunch::matter
