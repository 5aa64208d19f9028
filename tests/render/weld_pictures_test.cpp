// SPDX-License-Identifier: Apache-2.0
// Failed welds as they show: how far they gape, that they are plain, and the same on any number of threads.
#include <gtest/gtest.h>

#include <algorithm>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "render/test_views.hpp"

namespace haunch::render {
namespace {

using scene::FailedWeld;
using scene::WeldWay;

scene::Scene run_with(const FailedWeld& weld, double bore_mm = 200) {
  return render_test::with(render_test::straight_run(scene::Material::polyethylene, bore_mm), weld);
}

/// Straight at the wall at 3 o'clock: across a row of pixels the gap lies dark between its pale lips.
TEST(FailedWeld, GapesAsFarAsIsStated) {
  for (const double gap_mm : {3.0, 8.0})
    for (const double bore_mm : {150.0, 300.0}) {
      const scene::Scene scene = run_with({4.3, 4.7, {3, 3, false}, WeldWay::along, gap_mm}, bore_mm);
      View view;
      view.pose = scene::pose_at(scene, 4.5);
      const scene::Vec2 c = scene::centre_at(scene, 4.5);
      view.pose.lens = {c.x, c.y, 4.5};
      view.pose.forward = {1, 0, 0.001};
      view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
      view.lens = Lens::parallel;
      view.parallel_height_m = 0.30;
      view.width = view.height = 1200;
      view.lens_effects = view.noise = false;
      const Frame frame = Renderer(scene, 2).draw(view);
      double widest = 0;
      for (int column = 20; column < 1180; ++column) {
        const auto light = [&](int row) {
          const auto i = static_cast<std::size_t>(row * 1200 + column);
          return frame.fault[i] == 1 ? int{frame.rgb[3 * i + 1]} : -1;
        };
        int most = 0;
        for (int row = 0; row < 1200; ++row) most = std::max(most, light(row));
        int run = 0;
        for (int row = 0; row < 1200; ++row) {
          run = light(row) >= 0 && 2 * light(row) < most ? run + 1 : 0;
          widest = std::max(widest, run * 300.0 / 1200);
        }
      }
      EXPECT_NEAR(widest, gap_mm, 0.04 * gap_mm + 0.6) << bore_mm;
    }
}

class FailedWeldShows : public testing::TestWithParam<FailedWeld> {};
TEST_P(FailedWeldShows, PlainlyAndTheSameOnAnyNumberOfThreads) {
  const scene::Scene scene = run_with(GetParam());
  View view;
  view.pose = scene::pose_at(scene, GetParam().from_m - 0.25);
  view.width = 480;
  view.height = 270;
  view.lens_effects = view.noise = false;
  Renderer one(scene, 1), two(scene, 2);
  const Frame frame = one.draw(view);
  EXPECT_EQ(frame.rgb, two.draw(view).rgb);
  view.exposure = one.wanted_exposure();
  view.faults = false;
  const render_test::Shown shown = render_test::shown(frame, one.draw(view));
  EXPECT_GE(shown.pixels, 150);
  EXPECT_GE(shown.plain, shown.pixels / 2);
}
INSTANTIATE_TEST_SUITE_P(Ways, FailedWeldShows,
                         testing::Values(FailedWeld{4, 4, {9, 2, false}, WeldWay::around, 4},
                                         FailedWeld{4, 4, {12, 12, true}, WeldWay::around, 4},
                                         FailedWeld{4.3, 4.7, {10, 10, false}, WeldWay::along, 4},
                                         FailedWeld{4.3, 4.7, {7, 4, false}, WeldWay::spiral, 4}));

}  // namespace
}  // namespace haunch::render
