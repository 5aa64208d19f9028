// SPDX-License-Identifier: Apache-2.0
// How large the picture is drawn so that it keeps up: whole while the camera stands, smaller while it moves
// where the machine needs that. No clock of its own, so that tests can drive it.
#pragma once

namespace haunch::window {

enum class PictureSize { automatic, whole, half };

class Quality {
 public:
  /// A picture of so many pixels took so long to draw.
  void drawn(long pixels, double seconds);
  /// Share of the width and of the height to draw the next at, for a window whose whole picture has so many
  /// pixels: one of a few steps, so that sizes do not flicker.
  double share(long whole_pixels, bool moving, PictureSize wanted);

 private:
  double seconds_a_pixel_ = 0;  ///< smoothed; 0: nothing is known yet
  double share_ = 1;
};

}  // namespace haunch::window
