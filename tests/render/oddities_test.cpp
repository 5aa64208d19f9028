// SPDX-License-Identifier: Apache-2.0
// Not every blemish is a fault: sound pipe has a few, without a number, the same with faults drawn or not.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "render/oddities.hpp"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using scene::Material;

class Oddities : public testing::TestWithParam<Material> {};

TEST_P(Oddities, CarryNoNumberAndAreThereWithFaultsOrWithout) {
  scene::Scenario scenario = straight_run(GetParam());
  const scene::Scene run = scene::build_scene(scenario);
  Renderer renderer(run, 2);
  for (double z = 0.5; z < 7; z += 1) {
    View view;
    view.pose = scene::pose_at(run, z);
    view.width = 320;
    view.height = 180;
    view.noise = view.lens_effects = false;
    const Frame with = renderer.draw(view);
    EXPECT_EQ(std::count(with.fault.begin(), with.fault.end(), 0), static_cast<long>(with.fault.size()));
    view.faults = false;
    EXPECT_EQ(renderer.draw(view).rgb, with.rgb) << z;
  }
}
INSTANTIATE_TEST_SUITE_P(Materials, Oddities,
                         testing::Values(Material::clay, Material::pvc, Material::cast_iron,
                                         Material::concrete));

// About one unit in four has one, and each can be seen on the wall it lies on.
TEST(Oddity, AreFewAndShow) {
  int units = 0, oddities = 0, shown = 0;
  for (const Material material : {Material::clay, Material::pvc, Material::cast_iron, Material::concrete})
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      scene::Scenario scenario = straight_run(material);
      scenario.seed = seed;
      units += 8;
      for (const Oddity& odd : make_oddities(scene::build_scene(scenario))) {
        ++oddities;
        // A net of places over it.
        Samples m;
        m.resize(41 * 41);
        m.pixel_size = 0.001F;
        for (int i = 0; i < m.count; ++i) {
          const float a = static_cast<float>(i % 41) / 20 - 1, b = static_cast<float>(i / 41) / 20 - 1;
          m.piece[i] = 0, m.fault[i] = 0;
          m.wall_z[i] = odd.z + a * odd.half_along;
          const float angle = odd.angle + b * odd.half_round / odd.radius;
          m.wall_angle[i] = angle < 0 ? angle + 6.2831853F : angle >= 6.2831853F ? angle - 6.2831853F : angle;
          m.normal_x[i] = m.normal_y[i] = 0, m.normal_z[i] = -1;
          m.dir_x[i] = m.dir_y[i] = 0, m.dir_z[i] = 1;
          m.depth[i] = 0.4F, m.lamp[i] = 1, m.travelled[i] = 0;
          m.red[i] = m.green[i] = m.blue[i] = 1;
        }
        show_oddities({odd}, m);
        int changed = 0;
        for (int i = 0; i < m.count; ++i) {
          changed += std::abs(m.green[i] - 1) > 0.05F ? 1 : 0;
          EXPECT_EQ(m.fault[i], 0);
        }
        shown += changed > 20 ? 1 : 0;
      }
    }
  EXPECT_GT(oddities, units / 8);
  EXPECT_LT(oddities, units / 2);
  EXPECT_GT(shown, oddities * 9 / 10);
}

}  // namespace
}  // namespace haunch::render
