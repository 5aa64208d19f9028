// SPDX-License-Identifier: Apache-2.0
// What one sees through a hole: soil close behind the wall, or a void whose far side the lamp barely reaches.
#include <gtest/gtest.h>

#include <cmath>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using scene::Behind;

struct Seen {
  long pixels = 0, wider = 0, bottomless = 0;
  double light = 0, wall = 0;  // of what lies beyond the hole's end, and of the wall that would stand there
};

Seen through_hole(scene::Material material, Behind behind) {
  const scene::Scene run =
      render_test::with(render_test::straight_run(material), scene::Hole{4.5, 2, 130, 100, behind});
  Renderer renderer(run, 2);
  View view;
  view.pose = scene::pose_at(run, 4.25);
  view.width = 640, view.height = 360;
  view.noise = view.lens_effects = false;
  const Frame frame = renderer.draw(view);
  view.exposure = renderer.wanted_exposure();
  view.faults = false;
  const Frame sound = renderer.draw(view);
  const render_test::Pinhole pinhole(view.pose, view.width, view.height);
  Seen seen;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    ++seen.pixels;
    if (!(frame.depth_m[i] < 2)) ++seen.bottomless;
    const auto w = static_cast<std::size_t>(view.width);
    const scene::Vec3 p = view.pose.lens + static_cast<double>(frame.depth_m[i]) *
                                               pinhole.direction(static_cast<double>(i % w) + 0.5,
                                                                 static_cast<double>(i / w) + 0.5);
    // Beyond the hole's own end, which is at 4.565 m.
    if (p.z < 4.59 || !(frame.depth_m[i] < 2)) continue;
    ++seen.wider;
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k) seen.light += frame.rgb[k], seen.wall += sound.rgb[k];
  }
  return seen;
}

class Hole : public testing::TestWithParam<scene::Material> {};

TEST_P(Hole, BeforeAVoidShowsItsFarSideBarelyLit) {
  const Seen seen = through_hole(GetParam(), Behind::nothing);
  ASSERT_GT(seen.pixels, 1500);
  EXPECT_LE(seen.bottomless, 4);
  EXPECT_GT(seen.wider, seen.pixels / 5);
  EXPECT_LT(seen.light, 0.35 * seen.wall);
  EXPECT_GT(seen.light, 0.02 * seen.wall);
}

TEST_P(Hole, BeforeSoilShowsItCloseBehindTheWall) {
  const Seen soil = through_hole(GetParam(), Behind::soil),
             nothing = through_hole(GetParam(), Behind::nothing);
  EXPECT_LE(soil.bottomless, 4);
  EXPECT_LT(2 * soil.wider, nothing.wider);
}

INSTANTIATE_TEST_SUITE_P(Materials, Hole, testing::Values(scene::Material::clay, scene::Material::concrete));

}  // namespace
}  // namespace haunch::render
