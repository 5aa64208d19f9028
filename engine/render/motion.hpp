// SPDX-License-Identifier: Apache-2.0
// What moves while the shutter is open is drawn out: each pixel along its own way, which the distance to what
// it shows and the camera's way tell. Over the finished frame; fault numbers and distances stay sharp.
// Room-internal header.
#pragma once

#include <cstdint>

#include "render/passes.hpp"

namespace haunch::render {

struct Motion {
  float right = 0, up = 0, ahead = 0;  ///< the camera's own way, m, in the picture's axes
  float turn = 0;                      ///< clockwise, radians
  float half_width = 1, half_height = 1;
  float shift = 0;  ///< the whole picture as it was so many such ways later (half pictures); 0: none
  bool any() const { return right != 0 || up != 0 || ahead != 0 || turn != 0; }
};
/// Over `seconds`, at a speed along travel (m/s) and a turn of the camera (degrees a second, clockwise).
Motion motion_of(const RayCamera& camera, const scene::CameraPose& pose, double speed_m_s, double roll_deg_s,
                 double seconds);

/// One row of the toned picture, drawn out; reads up to 16 words after the row.
void draw_out(const Motion& motion, const std::uint32_t* toned, const float* depth, int width, int height,
              int row, std::uint32_t* out);

}  // namespace haunch::render
