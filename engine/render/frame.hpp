// SPDX-License-Identifier: Apache-2.0
// A finished picture with, for each pixel, which fault it shows and how far away it is.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace haunch::render {

struct Frame {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgb;      ///< 3 bytes a pixel, sRGB, top row first
  std::vector<std::uint16_t> fault;   ///< fault number, 0 none; before lens droplets and noise
  std::vector<float> depth_m;         ///< distance along the ray; infinity where nothing was hit
};

/// PNG bytes: colour (8 bit RGB) and fault numbers (16 bit grey).
std::string colour_png(const Frame& frame);
std::string fault_png(const Frame& frame);

}  // namespace haunch::render
