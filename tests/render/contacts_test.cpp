// SPDX-License-Identifier: Apache-2.0
// Things touch the wall: it is darker there, and nothing else of the wall changes.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "scene/camera.hpp"

namespace haunch::render {
namespace {

const base::ClockArc nowhere{12, 12, true};

struct Both {
  Frame with, without;
  /// Brightness with the fault as a share of that without.
  double share(std::size_t pixel) const {
    const auto sum = [&](const Frame& f) {
      return 1.0 + f.rgb[3 * pixel] + f.rgb[3 * pixel + 1] + f.rgb[3 * pixel + 2];
    };
    return sum(with) / sum(without);
  }
};

Both drawn(const scene::Scene& scene, double at_m) {
  View view;
  view.pose = scene::pose_at(scene, at_m);
  view.width = 640;
  view.height = 360;
  view.lens_effects = view.noise = false;
  Renderer renderer(scene, 2);
  Both both;
  renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  both.with = renderer.draw(view);
  view.faults = false;
  both.without = renderer.draw(view);
  return both;
}

TEST(Contact, DarkensTheWallBesideAThingAndNothingFarFromIt) {
  scene::Scenario run = render_test::straight_run(scene::Material::pvc);
  run.flow_l_s = 0;
  const scene::Scene scene =
      render_test::with(std::move(run), scene::Obstacle{2.4, scene::ObstacleForm::ball, nowhere, 18});
  const Both both = drawn(scene, 2.0);
  int low_row = 0, low_column = 0;
  for (int row = 0; row < 360; ++row)
    for (int column = 0; column < 640; ++column)
      if (both.with.fault[static_cast<std::size_t>(row * 640 + column)] == 1)
        low_row = row, low_column = column;
  ASSERT_GT(low_row, 180);
  const auto under = [&](int below) {
    return static_cast<std::size_t>((low_row + below) * 640 + low_column);
  };
  EXPECT_EQ(both.with.fault[under(4)], 0) << "the dark beside it is not the thing itself";
  EXPECT_LT(both.share(under(4)), 0.85);
  EXPECT_GT(both.share(under(4)), 0.1) << "but not black";
  for (int column = 0; column < 640; column += 7)
    EXPECT_NEAR(both.share(static_cast<std::size_t>(358 * 640 + column)), 1, 0.01) << column;
}

TEST(WaterOverWater, LetsTheWaterBehindItShow) {
  scene::Scenario run = render_test::straight_run();
  run.flow_l_s = 0.05;
  const scene::Scene scene =
      render_test::with(std::move(run), scene::Infiltration{2, {10, 10, false}, scene::WaterRate::gushes});
  const Both both = drawn(scene, 1.6);
  int shown = 0, black = 0;
  for (std::size_t i = 0; i < both.with.fault.size(); ++i)
    if (both.with.fault[i] == 1) ++shown, black += both.share(i) < 0.12 ? 1 : 0;
  EXPECT_GT(shown, 1500);
  EXPECT_LE(black, shown / 200);
}

}  // namespace
}  // namespace haunch::render
