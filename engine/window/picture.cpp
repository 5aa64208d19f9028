// SPDX-License-Identifier: Apache-2.0
// The drawing thread.
#include "window/picture.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "base/clock.hpp"
#include "render/exposure.hpp"

namespace haunch::window {

namespace {
constexpr double drop_s = 0.04;         // how often drops that run off the lens are drawn anew
constexpr double longest_step_s = 0.1;  // after standing still it goes on easing from where it was
constexpr double radians = 3.14159265358979323846 / 180;
bool same_view(const Look& a, const Look& b) {
  const auto &p = a.pose, &q = b.pose;
  return p.lens == q.lens && p.forward == q.forward && p.travel == q.travel && p.roll_deg == q.roll_deg &&
         p.yaw_deg == q.yaw_deg && p.pitch_deg == q.pitch_deg && p.field_deg == q.field_deg &&
         a.speed_m_s == b.speed_m_s && a.highlight_fault == b.highlight_fault && a.ring_z_m == b.ring_z_m;
}

}  // namespace

std::optional<Place> place_in_picture(const scene::CameraPose& pose, scene::Vec3 point, int width,
                                      int height) {
  using scene::Vec3;
  // Axes of the picture: the axis of travel turned by yaw and pitch, then rolled.
  const double yaw = pose.yaw_deg * radians, pitch = pose.pitch_deg * radians, roll = pose.roll_deg * radians;
  const Vec3 ahead = scene::normalised(pose.forward);
  const Vec3 level_right = scene::normalised(scene::cross({0, 1, 0}, ahead));
  const Vec3 level_up = scene::cross(ahead, level_right);
  const Vec3 turned = std::cos(yaw) * ahead + std::sin(yaw) * level_right;
  const Vec3 flat_right = std::cos(yaw) * level_right - std::sin(yaw) * ahead;
  const Vec3 forward = std::cos(pitch) * turned + std::sin(pitch) * level_up;
  const Vec3 flat_up = std::cos(pitch) * level_up - std::sin(pitch) * turned;
  const Vec3 up = std::cos(roll) * flat_up + std::sin(roll) * flat_right;
  const Vec3 right = std::cos(roll) * flat_right - std::sin(roll) * flat_up;

  const Vec3 away = point - pose.lens;
  const double depth = scene::dot(away, forward);
  if (depth < 1e-4) return std::nullopt;
  const double half_width = depth * std::tan(pose.field_deg * radians / 2);
  const double x = scene::dot(away, right) / half_width, y = -scene::dot(away, up) / half_width;
  // The lens shows at r what straight rays show at r (1 + 0.075 r^2) / 1.1 (the renderer's lens map).
  const double straight = std::hypot(x, y);
  double shown = straight;
  for (int round = 0; round < 8; ++round) {
    shown -= (shown * (1 + 0.075 * shown * shown) - 1.1 * straight) / (1 + 0.225 * shown * shown);
  }
  const double out = straight > 0 ? shown / straight : 1.1;
  return Place{(x * out + 1) / 2 * width, (y * out * width + height) / 2};
}

std::vector<std::vector<Place>> ring_in_picture(const scene::Scene& scene, const Look& look, int width,
                                                int height) {
  std::vector<std::vector<Place>> strokes;
  if (!look.ring_z_m) return strokes;
  const double level = scene::level_at(scene.water, *look.ring_z_m);
  bool open = false;
  constexpr int steps = 180;
  // From the bottom round, so that water cuts the ring once.
  for (int i = 0; i <= steps; ++i) {
    const scene::Vec3 point =
        scene::wall_point(scene, *look.ring_z_m, base::wrap_hours(6 + 12.0 * i / steps));
    const auto place = place_in_picture(look.pose, point, width, height);
    const bool shown = place && point.y >= level && std::abs(place->x) < 4.0 * width;
    if (shown && !open) strokes.emplace_back();
    if (shown) strokes.back().push_back(*place);
    open = shown;
  }
  return strokes;
}

std::vector<std::vector<Place>> hours_in_picture(const scene::Scene& scene, const scene::CameraPose& pose,
                                                 int width, int height, double z_m, base::ClockArc hours,
                                                 bool dashed) {
  constexpr double step_h = 0.05, one_hour_h = 0.3;
  constexpr int dash = 4, gap = 3;
  double from = hours.from_h, wide = hours.whole ? 12 : base::arc_width_h(hours);
  if (wide == 0) from -= one_hour_h / 2, wide = one_hour_h;
  const bool upstream = scene::travel(scene.scenario) < 0;
  std::vector<std::vector<Place>> strokes;
  bool open = false;
  const int steps = std::max(1, static_cast<int>(std::lround(wide / step_h)));
  for (int i = 0; i <= steps; ++i) {
    // The scene has its hours looking downstream.
    const double hour = from + wide * i / steps;
    const scene::Vec3 point = scene::wall_point(scene, z_m, base::wrap_hours(upstream ? 12 - hour : hour));
    const auto place = place_in_picture(pose, point, width, height);
    const bool shown = place && std::abs(place->x) < 4.0 * width && (!dashed || i % (dash + gap) <= dash);
    if (shown && !open) strokes.emplace_back();
    if (shown) strokes.back().push_back(*place);
    open = shown;
  }
  return strokes;
}

Picture::Picture(const scene::Scene& scene, int threads)
    : renderer_(scene, threads), wet_(!scene.water.reaches.empty()), thread_([this] { run(); }) {}

Picture::~Picture() {
  {
    const std::lock_guard lock(guard_);
    stop_ = true;
  }
  wished_.notify_one();
  thread_.join();
}

bool Picture::want(const Look& look, int width, int height) {
  {
    const std::lock_guard lock(guard_);
    if (last_ && last_->width == width && last_->height == height && same_view(last_->look, look)) {
      const bool ripples = wet_ && std::abs(look.time_s - last_->look.time_s) >= ripple_s;
      const bool runs = look.wet_ago_s && *look.wet_ago_s < render::runs_off_s + drop_s &&
                        std::abs(look.time_s - last_->look.time_s) >= drop_s;
      if (settled_ && !ripples && !runs) return false;
    }
    last_ = wish_ = Wish{look, width, height};
    // A whole picture of where the camera stood would hold up the first of its moving on.
    if (drawing_ && drawing_->width > width) give_up_ = true;
  }
  wished_.notify_one();
  return true;
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
  render::AutoExposure exposure;
  auto last = Clock::now();
  try {
    for (;;) {
      Wish wish;
      {
        std::unique_lock lock(guard_);
        wished_.wait(lock, [this] { return stop_ || wish_.has_value(); });
        if (stop_) return;
        wish = *std::exchange(wish_, std::nullopt);
        drawing_ = wish;
        give_up_ = false;
      }
      render::View view;
      view.pose = wish.look.pose;
      view.width = wish.width;
      view.height = wish.height;
      view.time_s = wish.look.time_s;
      view.speed_m_s = wish.look.speed_m_s;
      view.roll_deg_s = wish.look.roll_deg_s;
      if (wish.look.wet_ago_s) view.wet_ago_s = *wish.look.wet_ago_s;
      view.highlight_fault = wish.look.highlight_fault;
      const auto now = Clock::now();
      exposure.expose(view, std::min(longest_step_s, std::chrono::duration<double>(now - last).count()));
      last = now;
      view.stop = &give_up_;
      if (!renderer_.draw(view, frame)) continue;
      exposure.took(renderer_);
      image.seconds = std::chrono::duration<double>(Clock::now() - now).count();

      image.look = wish.look;
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
      settled_ = exposure.settled();
      drawing_.reset();
      fresh_ = true;
    }
  } catch (...) {
    const std::lock_guard lock(guard_);
    failure_ = std::current_exception();
  }
}

}  // namespace haunch::window
