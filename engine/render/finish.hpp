// SPDX-License-Identifier: Apache-2.0
// From linear light to a picture: exposure, a film-like curve, then the lens as a warp of the
// finished frame (so that measuring and marking see straight geometry).
// Room-internal header.
#pragma once

#include <cstdint>
#include "render/lens.hpp"
#include "render/samples.hpp"

namespace haunch::render {

/// Brightness of a row of linear light (PackLight's words); reads and writes up to 15 more than count.
void brightness(const std::uint32_t* light, int count, float* luma);

/// Which of `count` pixels of a row lie on an edge of something: a fault begins, the depth jumps or
/// bends sharply, or the light changes by nearly a factor of two. `above` and `below` are the
/// neighbouring rows (the row itself at the frame's edge). Reads one pixel past either end.
struct EdgeRow {
  const float *luma, *luma_above, *luma_below;
  const float *depth, *depth_above, *depth_below;
  const std::uint16_t *fault, *fault_above, *fault_below;
};
void find_edges(const EdgeRow& row, int count, float dark, std::uint8_t* edge);

/// Linear light times gain through the curve to sRGB, three times ten bits a word; count as above.
void tone(const std::uint32_t* light, int count, float gain, std::uint32_t* out);
/// One pixel of the mean of several rays.
std::uint32_t tone_one(Rgb light, float gain);

/// One row of the finished frame as bytes; map null: no lens; glow (Glow::row) null: nothing lies on the
/// window. grain 0: no sensor noise. Returns nothing else than pixels, so rows may be made in any order.
void develop_row(const std::uint32_t* toned, int width, int height, int row, const LensMap* map,
                 const float* glow, float grain, std::uint32_t grain_seed, std::uint8_t* rgb);

}  // namespace haunch::render
