// SPDX-License-Identifier: Apache-2.0
// A bend within units, measured in pictures.
#include <gtest/gtest.h>

#include <cmath>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::Pinhole;
using render_test::straight_run;
using render_test::with;
using scene::Bend;

std::size_t at(const Frame& frame, int x, int y) {
  return static_cast<std::size_t>(y) * static_cast<std::size_t>(frame.width) + static_cast<std::size_t>(x);
}

View plain_view(const scene::Scene& run, double lens_z_m) {
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.noise = view.lens_effects = false;
  view.every_pixel = true;
  return view;
}

class BendInPictures : public testing::TestWithParam<double> {};

TEST_P(BendInPictures, IsMetWhereTheLineGoes) {
  scene::Scene run = with(straight_run(), Bend{2.3, 4.4, 12, GetParam()});
  // What rises into the bend holds water back, which the rays would meet first.
  run.water.reaches.clear();
  for (const double lens_z : {1.9, 3.2}) {
    const View view = plain_view(run, lens_z);
    Renderer renderer(run, 2);
    const Frame frame = renderer.draw(view);
    const Pinhole pinhole(view.pose, view.width, view.height);
    int measured = 0;
    for (int y = 7; y < view.height; y += 31)
      for (int x = 5; x < view.width; x += 37) {
        const scene::Vec3 direction = pinhole.direction(x + 0.5, y + 0.5);
        const double distance = render_test::wall_distance(run, view.pose.lens, direction);
        const double z = view.pose.lens.z + distance * direction.z;
        bool beside_joint = false;
        for (const scene::Joint& joint : run.joints) beside_joint |= std::fabs(joint.at_m - z) < 0.03;
        if (beside_joint || distance > 3) continue;
        ++measured;
        EXPECT_NEAR(frame.depth_m[at(frame, x, y)], distance, 3e-4 + 2e-3 * distance) << x << ',' << y;
      }
    EXPECT_GT(measured, 300);
  }
}

// Along the middle of the outer wall the light changes as evenly as along a straight pipe's wall: averaged
// across the texture no step is larger than a few times those of the straight run.
TEST_P(BendInPictures, ShowsNoFacets) {
  const scene::Scene run = with(straight_run(scene::Material::pvc), Bend{2.2, 3.9, 15, GetParam()});
  View view = plain_view(run, 2.0);
  Renderer renderer(run, 2);
  const Frame frame = renderer.draw(view);
  const double radians = GetParam() * std::numbers::pi / 6;
  std::vector<double> mean;
  // From the middle of the picture outwards on the side away from the bend, eight pixels to either side.
  for (int out = 60; out < 300; ++out) {
    double sum = 0;
    for (int across = -8; across <= 8; ++across) {
      const int x = static_cast<int>(view.width / 2 - out * std::sin(radians) + across * std::cos(radians));
      const int y = static_cast<int>(view.height / 2 + out * std::cos(radians) + across * std::sin(radians));
      sum += frame.rgb[3 * at(frame, x, y) + 1] / 17.0;
    }
    mean.push_back(sum);
  }
  for (std::size_t i = 5; i + 5 < mean.size(); ++i)
    EXPECT_LT(
        std::abs((mean[i + 4] + mean[i + 3] + mean[i + 2]) - (mean[i - 4] + mean[i - 3] + mean[i - 2])) / 3,
        12)
        << i;
}

TEST_P(BendInPictures, CarriesItsNumberAndChangesThePicture) {
  const scene::Scene straight = scene::build_scene(straight_run());
  scene::Scene run = with(straight_run(), Bend{2.3, 4.4, 12, GetParam()});
  run.water.reaches.clear();  // held back by a bend that rises; the lens would be under it
  View view = plain_view(straight, 3.0);
  Renderer before(straight, 2), after(run, 2);
  const Frame without = before.draw(view);
  view.exposure = before.wanted_exposure();
  view.pose = scene::pose_at(run, 3.0);  // from within: from before it little light reaches the bend
  const Frame frame = after.draw(view);
  double change = 0;
  int pixels = 0;
  for (std::size_t i = 0; i < frame.fault.size(); ++i) {
    if (frame.fault[i] != 1) continue;
    ++pixels;
    for (std::size_t ch = 0; ch < 3; ++ch)
      change += std::abs(frame.rgb[3 * i + ch] - without.rgb[3 * i + ch]);
  }
  EXPECT_GT(pixels, 10000);
  EXPECT_GT(change / 3 / pixels, 4);
}

INSTANTIATE_TEST_SUITE_P(Ways, BendInPictures, testing::Values(3.0, 9.0, 12.0, 4.5));

}  // namespace
}  // namespace haunch::render
