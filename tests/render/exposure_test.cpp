// SPDX-License-Identifier: Apache-2.0
// The camera's automatic exposure follows what its pictures want, with a lag.
#include "render/exposure.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

TEST(EasedExposure, IsThereAtOnceAndThenFollows) {
  EXPECT_DOUBLE_EQ(eased_exposure(0, 2.5, 0.001), 2.5);
  const double up = eased_exposure(1, 4, 0.1);
  EXPECT_GT(up, 1);
  EXPECT_LT(up, 4);
  // In stops, brighter and darker take equally long.
  EXPECT_NEAR(std::log2(up / 1), std::log2(4 / eased_exposure(4, 1, 0.1)), 1e-12);
  EXPECT_NEAR(eased_exposure(1, 4, 100), 4, 1e-9);
  // Two short steps are one long one, so that the frame rate does not matter.
  EXPECT_NEAR(eased_exposure(eased_exposure(1, 4, 0.03), 4, 0.07), eased_exposure(1, 4, 0.1), 1e-12);
}

/// Dark iron, then pale plastic from 4 m on.
scene::Scene out_of_the_dark() {
  scene::Scenario scenario = render_test::straight_run(scene::Material::cast_iron);
  scene::Section pale = scenario.sections.front();
  scenario.sections.front().to_m = pale.from_m = 4;
  pale.material = scene::Material::pvc;
  pale.colour = "white";
  scenario.sections.push_back(pale);
  return scene::build_scene(scenario);
}
View view_at(const scene::Scene& run, double z) {
  View view;
  view.pose = scene::pose_at(run, z);
  view.width = 320;
  view.height = 180;
  view.noise = view.lens_effects = false;
  return view;
}
double light(const Frame& frame) {
  double sum = 0;
  for (const std::uint8_t byte : frame.rgb) sum += byte;
  return sum / static_cast<double>(frame.rgb.size());
}

/// Brightness of the pictures of a drive out of the dark: one every 0.1 s, the first of them settled.
std::vector<double> drive(const scene::Scene& run) {
  Renderer renderer(run, 2);
  AutoExposure eye;
  std::vector<double> lights;
  for (int k = 0; k < 40; ++k) {
    View view = view_at(run, k < 2 ? 2.0 : 5.0);
    eye.expose(view, k == 1 ? 100 : 0.1);
    lights.push_back(light(renderer.draw(view)));
    eye.took(renderer);
    if (k < 15 || k > 35) {
      EXPECT_EQ(eye.settled(), k < 2 || k > 35) << k;
    }
  }
  return lights;
}

TEST(AutoExposure, OutOfTheDarkThePictureIsTooBrightAndSettles) {
  const scene::Scene run = out_of_the_dark();
  const std::vector<double> lights = drive(run);
  Renderer renderer(run, 2);
  const double settled = light(renderer.draw(view_at(run, 5.0)));
  EXPECT_GT(lights[2], 1.25 * settled);
  for (std::size_t k = 3; k < lights.size(); ++k) EXPECT_LE(lights[k], lights[k - 1]) << k;
  EXPECT_NEAR(lights.back(), settled, 0.5);
  EXPECT_EQ(drive(run), lights) << "the same drive gives the same pictures";
}

// A camera square to a wet wall sees its own lamps in it; a fifth is ours.
TEST(AutoExposure, StopsDownBeforeTheLampsInAWetWall) {
  scene::Scenario scenario = render_test::straight_run();
  const scene::Scene run = scene::build_scene(scenario);
  View view = view_at(run, 5.0);
  view.pose.yaw_deg = 90;
  const Frame frame = Renderer(run, 2).draw(view);
  std::size_t white = 0;
  for (std::size_t i = 0; i < frame.rgb.size(); i += 3) white += frame.rgb[i + 1] > 240;
  EXPECT_LT(static_cast<double>(white), 0.2 * static_cast<double>(frame.depth_m.size()));
}

}  // namespace
}  // namespace haunch::render
