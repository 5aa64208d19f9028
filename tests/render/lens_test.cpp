// SPDX-License-Identifier: Apache-2.0
// What lies on the window before the lens: over the picture only, as much as is said, and in air.
#include "render/lens.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "hwy/targets.h"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

scene::Scene run_with(double fog, double dirt) {
  scene::Scenario scenario = render_test::straight_run();
  scenario.camera.fog = fog;
  scenario.camera.dirt = dirt;
  scenario.faults.push_back({scene::Crack{4.3, 5, {1, 1, false}, scene::CrackForm::along, 3}, ""});
  return scene::build_scene(scenario);
}
View view_at(const scene::Scene& run, double z) {
  View view;
  view.pose = scene::pose_at(run, z);
  view.width = 333;
  view.height = 217;
  return view;
}

/// Share of the window of which more than half of the view is taken.
double covered(double fog, double dirt, std::uint64_t seed, bool in_air = true) {
  scene::CameraRig rig;
  rig.fog = fog;
  rig.dirt = dirt;
  const LensMap map = lens_map(320, 180, seed, rig, in_air);
  if (map.clean()) return 0;
  double sum = 0;
  for (int i = 0; i < 320 * 180; ++i) sum += map.cover[static_cast<std::size_t>(i)] > 110;
  return sum / (320 * 180);
}

TEST(Window, IsFoggedOverAboutTheShareThatIsSaid) {
  for (const double share : {0.2, 0.4, 0.6, 0.8}) {
    double mean = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) mean += covered(share, 0, seed) / 12;
    EXPECT_NEAR(mean, share, 0.03);
  }
  EXPECT_LT(covered(0, 0, 1), 0.02) << "a few drops";
  EXPECT_EQ(covered(0.5, 0, 1, false), 0) << "under water nothing fogs";
  EXPECT_GT(covered(1, 0, 1), 0.95);
}

TEST(Window, IsDirtierTheMoreIsSaidAlsoUnderWater) {
  double last = 0;
  for (const double share : {0.05, 0.15, 0.4}) {
    double mean = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) mean += covered(0, share, seed, false) / 12;
    EXPECT_GT(mean, 0.3 * share);
    EXPECT_LT(mean, 1.5 * share);
    EXPECT_GT(mean, last);
    last = mean;
  }
}

// A drop hangs a few millimetres before a lens that is focused on the pipe: no sharp edge of it can be seen.
TEST(Window, DropsAreOutOfFocus) {
  scene::CameraRig rig;
  LensMap wet;
  constexpr std::size_t wide = 1280;
  wet_the_window(lens_map(wide, 720, 5, rig, true), 5, 0.3, 0, wet);
  int most = 0, steepest = 0;
  for (std::size_t i = 0; i + 1 < wide * 720; ++i) {
    most = std::max<int>(most, wet.cover[i]);
    if (i % wide != wide - 1) steepest = std::max(steepest, std::abs(wet.cover[i + 1] - wet.cover[i]));
  }
  EXPECT_GT(most, 180);
  EXPECT_LT(steepest, 80) << "of the 255 steps to a view that is taken wholly, from one pixel to the next";
}

TEST(Window, TouchesNeitherFaultNumbersNorDistances) {
  const scene::Scene clean = run_with(0, 0), foul = run_with(0.5, 0.2);
  Renderer of_clean(clean, 2), of_foul(foul, 2);
  View view = view_at(clean, 3.9);
  const Frame before = of_clean.draw(view);
  view.wet_ago_s = 0.5;
  view.speed_m_s = 0.15;
  view.analogue = true;
  const Frame after = of_foul.draw(view);
  EXPECT_EQ(before.fault, after.fault);
  EXPECT_EQ(before.depth_m, after.depth_m);
  EXPECT_NE(before.rgb, after.rgb);
}

TEST(Window, DropsRunDownItAndAreGoneInTime) {
  const scene::Scene run = run_with(0, 0);
  Renderer renderer(run, 2);
  View view = view_at(run, 3.9);
  const Frame dry = renderer.draw(view);
  const auto wetted = [&](double ago_s) {
    view.wet_ago_s = ago_s;
    return renderer.draw(view);
  };
  const auto changed = [&](const Frame& frame) {
    int many = 0;
    for (std::size_t i = 0; i < dry.rgb.size(); i += 3) many += frame.rgb[i] != dry.rgb[i];
    return many;
  };
  const Frame first = wetted(0.3);
  EXPECT_GT(changed(first), 800);
  EXPECT_LT(changed(wetted(5)), changed(first) * 2 / 3);
  EXPECT_EQ(wetted(runs_off_s).rgb, dry.rgb);
  EXPECT_EQ(wetted(0.3).rgb, first.rgb) << "the same moment";
}

// Which way is down in the picture is the bottom of the pipe, however the camera has rolled: drops leave the
// other side first.
TEST(Window, DropsRunTowardsTheBottomOfThePipe) {
  scene::CameraRig rig;
  const LensMap dry = lens_map(320, 320, 3, rig, false);
  /// Pixels that look through drops in one quarter of the picture: 0 its low end (left, top), 1 its high end.
  const auto drops = [&](double ago_s, double roll_deg, bool upright, int end) {
    int many = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
      LensMap wet;
      wet_the_window(dry, seed, ago_s, roll_deg, wet);
      for (int y = 0; y < 320; ++y)
        for (int x = 0; x < 320; ++x) {
          const int place = upright ? y : x;
          const auto i = static_cast<std::size_t>(320 * y + x);
          if (end == 0 ? place >= 100 : place < 220) continue;
          many += wet.x[i] != dry.x[i] || wet.y[i] != dry.y[i];
        }
    }
    return many;
  };
  const auto kept = [&](double roll_deg, bool upright, int end) {
    return static_cast<double>(drops(2, roll_deg, upright, end)) / drops(0.01, roll_deg, upright, end);
  };
  EXPECT_LT(kept(0, true, 0), 0.8 * kept(0, true, 1));
  EXPECT_LT(kept(90, false, 0), 0.8 * kept(90, false, 1)) << "rolled clockwise its right is at the bottom";
}

TEST(Window, IsTheSameOnEveryInstructionSet) {
  const scene::Scene run = run_with(0.4, 0.1);
  Renderer renderer(run, 1);
  View view = view_at(run, 3.9);
  view.wet_ago_s = 0.7;
  view.speed_m_s = 0.15;
  view.roll_deg_s = 10;
  view.analogue = true;
  const Frame best = renderer.draw(view);
  EXPECT_EQ(Renderer(run, 2).draw(view).rgb, best.rgb);
  for (std::int64_t left = hwy::SupportedTargets(); left != 0; left &= left - 1) {
    hwy::SetSupportedTargetsForTest(left & -left);
    hwy::GetChosenTarget().DeInit();
    EXPECT_EQ(renderer.draw(view).rgb, best.rgb);
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().DeInit();
}

}  // namespace
}  // namespace haunch::render
