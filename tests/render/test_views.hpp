// SPDX-License-Identifier: Apache-2.0
// Views and counts that several tests of pictures share.
#pragma once

#include <cstdlib>

#include "render/renderer.hpp"
#include "scene/camera.hpp"

namespace haunch::render_test {

/// Along the pipe from its middle, by parallel rays: every length across it shows at one scale.
inline render::View along_the_axis(const scene::Scene& scene, double z, int pixels) {
  render::View view;
  view.pose = scene::pose_at(scene, z);
  const scene::Vec2 here = scene::centre_at(scene, z), there = scene::centre_at(scene, z + 0.5);
  view.pose.lens = {here.x, here.y, z};
  view.pose.forward = scene::normalised({there.x - here.x, there.y - here.y, 0.5});
  view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
  view.lens = render::Lens::parallel;
  view.parallel_height_m = 1.05 * 2 * scene::radius_at(scene, z);
  view.width = view.height = pixels;
  view.lens_effects = view.noise = false;
  return view;
}

/// Of a fault: how many pixels are its own, and how many of them it changes plainly.
struct Shown {
  int pixels = 0, plain = 0;
};
inline Shown shown(const render::Frame& frame, const render::Frame& without, int fault = 1) {
  Shown all;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != fault) continue;
    ++all.pixels;
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k)
      if (std::abs(frame.rgb[k] - without.rgb[k]) > 16) {
        ++all.plain;
        break;
      }
  }
  return all;
}

}  // namespace haunch::render_test
