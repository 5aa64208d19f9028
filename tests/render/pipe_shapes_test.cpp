// SPDX-License-Identifier: Apache-2.0
// Egg-shaped and rectangular pipes in the picture: where rays meet them, and that nothing hangs on threads.
#include <gtest/gtest.h>

#include <cmath>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::Pinhole;
using render_test::straight_run;
using scene::Material;
using scene::PipeShape;

struct Case {
  PipeShape shape;
  Material material;
  double width_mm, height_mm;
};
class PipeOfShape : public testing::TestWithParam<Case> {
 protected:
  scene::Scenario run() const {
    scene::Scenario scenario = straight_run(GetParam().material, GetParam().width_mm);
    scenario.sections[0].shape = GetParam().shape;
    scenario.sections[0].height_mm = GetParam().height_mm;
    return scenario;
  }
};

// Every ray meets the wall where walking along it does.
TEST_P(PipeOfShape, IsMetWhereItsSectionsSay) {
  const scene::Scene scene = scene::build_scene(run());
  for (const double lens_z : {1.6, 4.3}) {
    View view;
    view.pose = scene::pose_at(scene, lens_z);
    view.pose.roll_deg = 15;
    view.noise = view.lens_effects = false;
    view.every_pixel = true;
    const Frame frame = Renderer(scene, 2).draw(view);
    const Pinhole pinhole(view.pose, view.width, view.height);
    int measured = 0;
    for (int y = 7; y < view.height; y += 31)
      for (int x = 5; x < view.width; x += 37) {
        const scene::Vec3 direction = pinhole.direction(x + 0.5, y + 0.5);
        const double distance = render_test::wall_distance(scene, view.pose.lens, direction);
        const double z = view.pose.lens.z + distance * direction.z;
        bool beside_joint = false;
        for (const scene::Joint& joint : scene.joints) beside_joint |= std::fabs(joint.at_m - z) < 0.03;
        if (beside_joint || distance > 3) continue;
        ++measured;
        EXPECT_NEAR(frame.depth_m[static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width) +
                                  static_cast<std::size_t>(x)],
                    distance, 3e-4 + 2e-3 * distance)
            << lens_z << ": " << x << ',' << y;
      }
    EXPECT_GT(measured, 350) << lens_z;
  }
}

TEST_P(PipeOfShape, LooksTheSameOnOneThreadAndTwo) {
  const scene::Scene scene = scene::build_scene(run());
  View view;
  view.pose = scene::pose_at(scene, 1.9);
  view.width = 480;
  view.height = 270;
  EXPECT_EQ(Renderer(scene, 1).draw(view).rgb, Renderer(scene, 2).draw(view).rgb);
}

// Where the pipe goes over into a circular one, nothing can be looked past between the two.
TEST_P(PipeOfShape, MeetsACircularPipeWithoutAHole) {
  scene::Scenario scenario = run();
  scene::Section round = scenario.sections[0];
  scenario.sections[0].to_m = 4;
  round.from_m = 4;
  round.shape = PipeShape::circular;
  scenario.sections.push_back(round);
  const scene::Scene scene = scene::build_scene(scenario);
  for (const double lens_z : {3.6, 4.4}) {
    View view;
    view.pose = scene::pose_at(scene, lens_z);
    if (lens_z > 4) {
      view.pose.travel = -1;
      view.pose.forward = -1.0 * view.pose.forward;
    }
    view.noise = view.lens_effects = false;
    const Frame frame = Renderer(scene, 2).draw(view);
    int nothing = 0;
    for (int y = 0; y < view.height; ++y)
      for (int x = 0; x < view.width; ++x) {
        const double away = std::hypot(x - view.width / 2.0, y - view.height / 2.0);
        nothing +=
            away > 60 &&
            !std::isfinite(frame.depth_m[static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width) +
                                         static_cast<std::size_t>(x)]);
      }
    EXPECT_EQ(nothing, 0) << lens_z;
  }
}

INSTANTIATE_TEST_SUITE_P(Shapes, PipeOfShape,
                         testing::Values(Case{PipeShape::egg, Material::concrete, 200, 0},
                                         Case{PipeShape::egg, Material::clay, 150, 0},
                                         Case{PipeShape::rectangular, Material::concrete, 200, 150},
                                         Case{PipeShape::rectangular, Material::concrete, 150, 300}));

}  // namespace
}  // namespace haunch::render
