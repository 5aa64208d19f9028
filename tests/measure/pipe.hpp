// SPDX-License-Identifier: Apache-2.0
// Rays against the bare bore of a run, from scene's own numbers: closed form where it is round, halving where
// it is pressed. Joints are taken as closed; where a unit stands in, its end is met.
#pragma once

#include <optional>

#include "measure/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::measure {

struct WallPlace {
  double distance_m = 0;
  double z_m = 0;
  double angle = 0;     ///< clockwise from the crown looking downstream, radians, -pi .. pi
  bool end_of = false;  ///< the end of a unit that stands in, not its bore
};
/// Nothing where the ray leaves by an open end.
std::optional<WallPlace> meet_wall(const scene::Scene& scene, const Ray& ray);

/// Where a point lies from the bore's middle: angle as above, radius m.
struct Round {
  double z_m = 0, angle = 0, radius_m = 0;
};
Round round_of(const scene::Scene& scene, scene::Vec3 point);

}  // namespace haunch::measure
