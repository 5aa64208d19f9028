// SPDX-License-Identifier: Apache-2.0
// The look of an old camera on a long cable: soft colour that lags behind, lines that are never quite alike.
// Room-internal header.
#pragma once

#include <cstdint>

namespace haunch::render {

/// One finished row of `width` pixels, three bytes each; the same for the same seed.
void make_analogue(std::uint8_t* rgb, int width, int row, std::uint32_t seed);

/// Between the two half pictures of which a picture's even and odd lines are made, s (fifty a second).
inline constexpr double half_picture_s = 0.02;

}  // namespace haunch::render
