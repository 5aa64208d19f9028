// SPDX-License-Identifier: Apache-2.0
// What stands at the two ends of a run: the chamber, bend, shaft, pipe or daylight that one looks into. It is
// there whatever is wrong with the run, and carries no fault number.
// Room-internal header.
#pragma once

#include <vector>

#include "render/meshes.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

/// The outside of one end of the bore: w metres outwards along the run's line, x and y from its middle as in
/// the scene. What stands there is laid out about a round bore; `at` draws it to the shape of the bore that
/// is there, the less the farther from its edge.
struct EndFrame {
  scene::Vec2 middle, lean;  ///< lean: of the line, per metre outwards
  double z_m = 0;
  double way = 1;  ///< +1 at the downstream end
  scene::Bore bore;
  double radius_m = 0;  ///< of a round bore of the same area
  double water_m = -1;  ///< surface, from the middle up; below the invert: dry
  scene::Section section;
  std::uint32_t seed = 0;
  scene::Vec3 at(double x, double y, double w) const {
    const double k = drawn_to_shape(x, y);
    return as_it_is(k * x, k * y, w);
  }
  /// Where nothing is to be drawn to shape: a surface of water, what has been already.
  scene::Vec3 as_it_is(double x, double y, double w) const {
    return {middle.x + lean.x * w + x, middle.y + lean.y * w + y, z_m + way * w};
  }
  /// Towards `turn` from the crown, the bore in radii of the round one.
  double share_of_round(double turn) const;

 private:
  double drawn_to_shape(double x, double y) const;
};
EndFrame end_frame(const scene::Scene& scene, bool upstream);

std::vector<Mesh> end_meshes(const EndFrame& end, scene::NodeKind kind);
std::vector<Mesh> chamber_meshes(const EndFrame& end, bool manhole);

class Ends {
 public:
  explicit Ends(const scene::Scene& scene);
  /// Which of the ends is near enough to be asked for, once for each picture.
  void begin_picture(double lens_z_m);
  void meet(const Batch& batch, Samples& samples) const;

 private:
  struct Daylight {
    bool open = false, near = false;
    EndFrame end;
  };
  void shine(const Daylight& daylight, Samples& samples) const;
  Meshes meshes_;
  Daylight daylight_[2];
  double length_m_;
  bool near_ = false;
};

}  // namespace haunch::render
