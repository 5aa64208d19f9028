// SPDX-License-Identifier: Apache-2.0
// The camera once more, from what scene::CameraPose says of itself and from geometry: nothing here comes from
// the renderer, so that the picture is measured with a rule of our own. Double precision throughout.
#pragma once

#include <cmath>
#include <numbers>

#include "scene/camera.hpp"

namespace haunch::measure {

struct Pixel {
  double x = 0, y = 0;
};
struct Ray {
  scene::Vec3 from, way;  // way: unit
};

/// Perspective by the pose's field, or rays side by side when `parallel_height_m` is above 0.
class Camera {
 public:
  Camera(const scene::CameraPose& pose, int width, int height, double parallel_height_m = 0)
      : lens_(pose.lens), ahead_(scene::normalised(pose.forward)), middle_{width / 2.0, height / 2.0} {
    // x lies to the right and y up looking along z: right is up x ahead.
    right_ = scene::normalised(scene::cross({0, 1, 0}, ahead_));
    up_ = scene::cross(ahead_, right_);
    turn(ahead_, right_, pose.yaw_deg);
    turn(ahead_, up_, pose.pitch_deg);
    turn(up_, right_, pose.roll_deg);  // clockwise seen along travel: its top leans to the right
    parallel_ = parallel_height_m > 0;
    per_pixel_ = parallel_ ? parallel_height_m / height
                           : std::tan(pose.field_deg * std::numbers::pi / 360) / middle_.x;
  }

  /// Through a place of the picture: x right, y down, the middle of the first pixel at 0.5.
  Ray through(double x, double y) const {
    const scene::Vec3 aside = per_pixel_ * (x - middle_.x) * right_ - per_pixel_ * (y - middle_.y) * up_;
    if (parallel_) return {lens_ + aside, ahead_};
    return {lens_, scene::normalised(ahead_ + aside)};
  }
  /// Where a point shows; it must lie before the lens.
  Pixel show(scene::Vec3 point) const {
    const scene::Vec3 off = point - lens_;
    const double away = parallel_ ? 1 : scene::dot(off, ahead_);
    return {middle_.x + scene::dot(off, right_) / away / per_pixel_,
            middle_.y - scene::dot(off, up_) / away / per_pixel_};
  }
  /// How wide a pixel in the middle is at a distance along its ray, m.
  double pixel_m(double distance_m) const { return parallel_ ? per_pixel_ : per_pixel_ * distance_m; }

 private:
  /// Turns `from` towards `to`, which stays square on it.
  static void turn(scene::Vec3& from, scene::Vec3& to, double degrees) {
    const double c = std::cos(degrees * std::numbers::pi / 180),
                 s = std::sin(degrees * std::numbers::pi / 180);
    const scene::Vec3 old = from;
    from = c * from + s * to;
    to = c * to - s * old;
  }

  scene::Vec3 lens_, ahead_, right_, up_;
  Pixel middle_;
  double per_pixel_ = 0;
  bool parallel_ = false;
};

}  // namespace haunch::measure
