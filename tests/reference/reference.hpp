// SPDX-License-Identifier: Apache-2.0
// A slow, plain picture: one ray through the middle of each pixel against triangles, and sixteen where there
// is hair. It knows numbers and distances, no light.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "measure/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::reference {

struct Answer {
  std::uint16_t fault = 0;
  std::uint16_t or_else = 0;  ///< .. or this one, where `either`
  bool either = false;        ///< the edge of something that is drawn in tatters
  bool skipped = false;  ///< beyond the surface of water that is not still and clear, or too far for the lamp
  bool depth_known = false;  ///< not within openings and joints
  double depth_m = 0;
  bool through_water = false;  ///< seen bent, through still clear water
};

class Reference {
 public:
  explicit Reference(const scene::Scene& scene, double time_s = 0);
  ~Reference();
  Reference(const Reference&) = delete;
  Reference& operator=(const Reference&) = delete;
  /// Row after row.
  std::vector<Answer> picture(const measure::Camera& camera, int width, int height) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::reference
