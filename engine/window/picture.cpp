// SPDX-License-Identifier: Apache-2.0
// The drawing thread.
#include "window/picture.hpp"

#include <chrono>
#include <cmath>
#include <utility>

namespace haunch::window {

namespace {
constexpr double exposure_lag_s = 0.4;
}

double eased_exposure(double now, double wanted, double seconds) {
  if (now <= 0 || wanted <= 0) return wanted;
  // In stops: equal steps of brightness take equal time whichever way.
  const double share = 1 - std::exp(-seconds / exposure_lag_s);
  return now * std::pow(wanted / now, share);
}

Picture::Picture(const scene::Scene& scene, int threads)
    : renderer_(scene, threads), thread_([this] { run(); }) {}

Picture::~Picture() {
  {
    const std::lock_guard lock(guard_);
    stop_ = true;
  }
  wished_.notify_one();
  thread_.join();
}

void Picture::want(const Look& look, int width, int height) {
  {
    const std::lock_guard lock(guard_);
    wish_ = Wish{look, width, height};
  }
  wished_.notify_one();
}

bool Picture::take(Image& image) {
  const std::lock_guard lock(guard_);
  if (failure_) std::rethrow_exception(std::exchange(failure_, nullptr));
  if (!fresh_) return false;
  std::swap(image, finished_);
  fresh_ = false;
  return true;
}

void Picture::run() {
  using Clock = std::chrono::steady_clock;
  render::Frame frame;
  Image image;
  double exposure = 0;
  auto last = Clock::now();
  try {
    for (;;) {
      Wish wish;
      {
        std::unique_lock lock(guard_);
        wished_.wait(lock, [this] { return stop_ || wish_.has_value(); });
        if (stop_) return;
        wish = *std::exchange(wish_, std::nullopt);
      }
      render::View view;
      view.pose = wish.look.pose;
      view.width = wish.width;
      view.height = wish.height;
      view.time_s = wish.look.time_s;
      view.exposure = exposure;
      view.highlight_fault = wish.look.highlight_fault;
      renderer_.draw(view, frame);
      const auto now = Clock::now();
      exposure = eased_exposure(exposure, renderer_.wanted_exposure(),
                                std::chrono::duration<double>(now - last).count());
      last = now;

      image.width = frame.width;
      image.height = frame.height;
      const std::size_t pixels =
          static_cast<std::size_t>(frame.width) * static_cast<std::size_t>(frame.height);
      image.rgba.resize(pixels * 4);
      for (std::size_t i = 0; i < pixels; ++i) {
        image.rgba[4 * i] = frame.rgb[3 * i];
        image.rgba[4 * i + 1] = frame.rgb[3 * i + 1];
        image.rgba[4 * i + 2] = frame.rgb[3 * i + 2];
        image.rgba[4 * i + 3] = 255;
      }
      const std::lock_guard lock(guard_);
      std::swap(image, finished_);
      fresh_ = true;
    }
  } catch (...) {
    const std::lock_guard lock(guard_);
    failure_ = std::current_exception();
  }
}

}  // namespace haunch::window
