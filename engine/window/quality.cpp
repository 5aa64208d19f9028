// SPDX-License-Identifier: Apache-2.0
#include "window/quality.hpp"

#include <array>

namespace haunch::window {
namespace {

constexpr std::array<double, 6> steps = {1, 0.85, 0.7, 0.6, 0.5, 0.4};
constexpr double frame_s = 1.0 / 60;
constexpr double newest_counts = 0.2;  // of one picture against those before it
constexpr double up_only_under = 0.8;  // of the time there is: or it would go up and down for ever

}  // namespace

void Quality::drawn(long pixels, double seconds) {
  if (pixels <= 0 || !(seconds > 0)) return;
  const double one = seconds / static_cast<double>(pixels);
  seconds_a_pixel_ =
      seconds_a_pixel_ == 0 ? one : (1 - newest_counts) * seconds_a_pixel_ + newest_counts * one;
}

double Quality::share(long whole_pixels, bool moving, PictureSize wanted) {
  if (wanted == PictureSize::half) return 0.5;
  if (wanted == PictureSize::whole || !moving) return 1;
  const double whole_s = seconds_a_pixel_ * static_cast<double>(whole_pixels);
  for (const double step : steps) {
    const double would_take_s = whole_s * step * step;
    const double there_is_s = step > share_ ? up_only_under * frame_s : frame_s;
    if (would_take_s <= there_is_s || step == steps.back()) {
      share_ = step;
      break;
    }
  }
  return share_;
}

}  // namespace haunch::window
