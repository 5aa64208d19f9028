// SPDX-License-Identifier: Apache-2.0
// Held against the pixels: what an item says of hours is where its picture shows it.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/clock.hpp"
#include "drills/judge.hpp"
#include "drills/made.hpp"
#include "render/renderer.hpp"

namespace haunch::drills {
namespace {

using test::made;

render::View small_view(const scene::Scene& scene, const Clip& clip) {
  render::View view;
  view.pose = pose_at(scene, clip, clip.seconds);
  view.width = 320;
  view.height = 180;
  view.time_s = 1;
  view.lens_effects = view.noise = false;
  return view;
}

/// Mean direction of pixels from the middle of the picture, as an hour; the axis of the pipe is there.
class Direction {
 public:
  explicit Direction(const render::Frame& frame) : width_(frame.width), height_(frame.height) {}
  void add(std::size_t pixel) {
    const double x = static_cast<double>(pixel % static_cast<std::size_t>(width_)) + 0.5 - width_ / 2.0;
    const double y = height_ / 2.0 - static_cast<double>(pixel / static_cast<std::size_t>(width_)) - 0.5;
    const double far = std::hypot(x, y);
    // A ring that is whole in the picture, so that its shape draws nothing to one side.
    if (far > height_ / 2.0 || far < height_ / 8.0) return;
    x_ += x / far;
    y_ += y / far;
    ++count_;
  }
  double hour() const { return base::wrap_hours(std::atan2(x_, y_) / std::numbers::pi * 6); }
  int count() const { return count_; }

 private:
  int width_, height_, count_ = 0;
  double x_ = 0, y_ = 0;
};

TEST(Picture, ShowsAHoleAtItsHourLessTheRoll) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    const Item item = made({Kind::clock, "BAO", 0.4, {}, seed});
    const render::Frame frame = render::Renderer(item.scene, 0).draw(small_view(item.scene, item.clip));
    Direction shown(frame);
    for (std::size_t i = 0; i < frame.fault.size(); ++i)
      if (frame.fault[i] == item.fault) shown.add(i);
    ASSERT_GT(shown.count(), 20) << seed;
    const double from_h = *item.there.clock_from, to_h = item.there.clock_to.value_or(*item.there.clock_from);
    const double middle = from_h + std::fmod(to_h - from_h + 12, 12) / 2.0;
    // Ends are rounded to whole hours, and the lens stands below the axis.
    EXPECT_LT(base::hours_apart(shown.hour(), base::on_screen_hour(middle, item.clip.roll_deg)), 1.0) << seed;
  }
}

TEST(Picture, ShowsWaterWhereTheBottomIs) {
  int looked_at = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    const Item item = made({Kind::find_bottom, "", 0.5, {}, seed});
    scene::Scenario drained = item.scene.scenario;
    if (!drained.faults.empty()) continue;  // what lies in the water would hide it
    ++looked_at;
    drained.flow_l_s = 0;
    const scene::Scene dry = scene::build_scene(drained);
    render::Renderer with(item.scene, 0), without(dry, 0);
    const render::Frame wet = with.draw(small_view(item.scene, item.clip));
    render::View view = small_view(dry, item.clip);
    view.exposure = with.exposure();
    const render::Frame bare = without.draw(view);
    Direction water(wet);
    for (std::size_t i = 0; i < wet.fault.size(); ++i)
      if (std::abs(int{wet.rgb[3 * i]} - int{bare.rgb[3 * i]}) > 25) water.add(i);
    ASSERT_GT(water.count(), 20) << seed;
    EXPECT_LT(base::hours_apart(water.hour(), *right_answer(item).bottom_h), 0.6) << seed;
  }
  EXPECT_GE(looked_at, 2);
}

}  // namespace
}  // namespace haunch::drills
