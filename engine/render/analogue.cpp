// SPDX-License-Identifier: Apache-2.0
#include "render/analogue.hpp"

#include <algorithm>
#include <vector>

#include "base/random.hpp"

namespace haunch::render {

void make_analogue(std::uint8_t* rgb, int width, int row, std::uint32_t seed) {
  // Whole numbers throughout, a 64th of a tone each.
  static thread_local std::vector<int> light, red, blue;
  const auto many = static_cast<std::size_t>(width);
  for (auto* line : {&light, &red, &blue}) line->assign(many, 0);
  for (std::size_t x = 0; x < many; ++x) {
    const int r = rgb[3 * x], g = rgb[3 * x + 1], b = rgb[3 * x + 2];
    light[x] = 19 * r + 38 * g + 7 * b;
    red[x] = 64 * r - light[x];
    blue[x] = 64 * b - light[x];
  }
  base::Random chance(base::mix((static_cast<std::uint64_t>(seed) << 20U) + static_cast<std::uint64_t>(row)));
  // A line starts a little early or late, and is a little lighter or darker along a part of it.
  const int late = static_cast<int>(chance.below(3)) - 1;
  const int level = static_cast<int>(chance.below(160)) - 80;
  const auto from = static_cast<int>(chance.below(static_cast<std::uint32_t>(width)));
  const int streak = chance.below(12) == 0 ? static_cast<int>(chance.below(700)) - 350 : 0;
  // Colour is sharp to about a hundredth of the width and comes a little late (common practice, no source).
  const int half = std::max(1, width / 180), lag = std::max(1, width / 400);
  const auto at = [&](const std::vector<int>& line, int x) {
    return line[static_cast<std::size_t>(std::clamp(x, 0, width - 1))];
  };
  int sum_red = 0, sum_blue = 0;
  for (int k = -half; k <= half; ++k) sum_red += at(red, k - lag), sum_blue += at(blue, k - lag);
  const int span = 2 * half + 1;
  for (int x = 0; x < width; ++x) {
    const int there = x + late;
    const int own = (at(light, there - 1) + 2 * at(light, there) + at(light, there + 1)) / 4;
    const int y = own + level + (x >= from && x < from + width / 6 ? streak : 0);
    const int cr = sum_red / span, cb = sum_blue / span;
    // Light is 19 parts red, 38 green, 7 blue.
    const int r = y + cr, b = y + cb, g = y - (19 * cr + 7 * cb) / 38;
    const auto byte = [](int tone) {
      return static_cast<std::uint8_t>(std::clamp((tone + 32) / 64, 0, 255));
    };
    std::uint8_t* to = rgb + 3 * static_cast<std::size_t>(x);
    to[0] = byte(r), to[1] = byte(g), to[2] = byte(b);
    sum_red += at(red, x + 1 + half - lag) - at(red, x - half - lag);
    sum_blue += at(blue, x + 1 + half - lag) - at(blue, x - half - lag);
  }
}

}  // namespace haunch::render
