// SPDX-License-Identifier: Apache-2.0
// Pixels laid between traced ones, against the same picture with every pixel traced. The bounds are
// ours: laying between must stay under the sensor's noise, which is measured here too.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using render_test::with;

View bare(const scene::Scene& run, double lens_z_m) {
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.lens_effects = false;
  view.noise = false;
  view.exposure = 0.004;
  return view;
}

/// Root of the mean square difference of two pictures, in 255ths.
double apart(const Frame& a, const Frame& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.rgb.size(); ++i) {
    const double d = static_cast<double>(a.rgb[i]) - static_cast<double>(b.rgb[i]);
    sum += d * d;
  }
  return std::sqrt(sum / static_cast<double>(a.rgb.size()));
}

struct Case {
  std::string name;
  scene::Scene run;
  double lens_z_m;
};

std::vector<Case> cases() {
  base::ClockArc round, top;
  round.whole = true;
  top.from_h = 10, top.to_h = 2;
  std::vector<Case> all;
  all.push_back({"plain", scene::build_scene(straight_run()), 2.4});
  all.push_back(
      {"hairline", with(straight_run(), scene::Crack{2.2, 3.2, top, scene::CrackForm::along, 0}), 2.1});
  all.push_back(
      {"fine roots", with(straight_run(), scene::Roots{3, 3.3, top, scene::RootForm::fine, 8}), 2.75});
  all.push_back(
      {"root mass", with(straight_run(), scene::Roots{3, 3.3, round, scene::RootForm::mass, 35}), 2.8});
  all.push_back({"hole", with(straight_run(), scene::Hole{2.75, 2, 120, 90, scene::Behind::soil}), 2.5});
  all.push_back(
      {"gravel", with(straight_run(), scene::Settled{2.2, 4, scene::SettledKind::coarse, 15}), 2.4});
  scene::Scenario sag = straight_run();
  sag.low_spots.push_back({1, 7, 60});
  all.push_back({"water", scene::build_scene(sag), 2});
  sag.low_spots.back().depth_mm = 150;
  all.push_back({"under", scene::build_scene(sag), 4});
  return all;
}

TEST(LaidBetween, StaysUnderTheSensorsNoise) {
  for (const Case& c : cases()) {
    Renderer renderer(c.run, 2);
    View view = bare(c.run, c.lens_z_m);
    renderer.draw(view);
    view.exposure = renderer.wanted_exposure();
    const Frame quick = renderer.draw(view);
    view.every_pixel = true;
    const Frame full = renderer.draw(view);
    view.noise = true;
    const double noise = apart(renderer.draw(view), full);
    const double laid = apart(quick, full);
    EXPECT_LT(laid, noise) << c.name;
    EXPECT_LT(laid, 1.5) << c.name;

    std::size_t other_fault = 0, other_depth = 0, far_off = 0;
    for (std::size_t i = 0; i < full.fault.size(); ++i) {
      other_fault += quick.fault[i] != full.fault[i] ? 1 : 0;
      const float a = quick.depth_m[i], b = full.depth_m[i];
      if (std::isfinite(a) != std::isfinite(b) || (std::isfinite(b) && std::fabs(a - b) > 0.005F * b))
        ++other_depth;
      int most = 0;
      for (std::size_t ch = 3 * i; ch < 3 * i + 3; ++ch)
        most = std::max(most, std::abs(static_cast<int>(quick.rgb[ch]) - static_cast<int>(full.rgb[ch])));
      far_off += most > 24 ? 1 : 0;
    }
    const auto pixels = static_cast<double>(full.fault.size());
    EXPECT_LT(static_cast<double>(other_fault), 2e-4 * pixels) << c.name;
    EXPECT_LT(static_cast<double>(other_depth), 1e-3 * pixels) << c.name;
    EXPECT_LT(static_cast<double>(far_off), 2e-4 * pixels) << c.name;
  }
}

}  // namespace
}  // namespace haunch::render
