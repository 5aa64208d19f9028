// SPDX-License-Identifier: Apache-2.0
// Steam, stirred silt, and what sticks to the window: they take as much of the
// light as is said.
#include "scene/haze.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "hwy/targets.h"
#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using render_test::with;

View plain_view(const scene::Scene& run, double z) {
  View view;
  view.pose = scene::pose_at(run, z);
  view.width = 320;
  view.height = 180;
  view.noise = view.lens_effects = false;
  return view;
}
double share_of(const Frame& frame, std::uint16_t fault) {
  return static_cast<double>(std::count(frame.fault.begin(), frame.fault.end(), fault)) /
         static_cast<double>(frame.fault.size());
}
/// How much neighbouring rows differ within a range of depths of the run
/// without haze, on the mean.
double contrast(const Frame& frame, const Frame& bare, double from_m, double to_m) {
  double sum = 0, many = 0;
  for (int y = 1; y < frame.height; ++y)
    for (int x = 0; x < frame.width; ++x) {
      const auto i = static_cast<std::size_t>(y * frame.width + x),
                 j = i - static_cast<std::size_t>(frame.width);
      if (bare.depth_m[i] < from_m || bare.depth_m[i] > to_m) continue;
      sum += std::abs(frame.rgb[3 * i + 1] - frame.rgb[3 * j + 1]), ++many;
    }
  return sum / many;
}

// A crack of 10 mm along the crown lies ahead: pixels that lie farther off than
// the haze lets one see (an eighth of the light: ours, as of water) no longer
// show it; nearer ones do.
TEST(Haze, HidesWhatIsFartherOffThanOneSees) {
  scene::Scenario scenario = straight_run(scene::Material::concrete);
  scenario.faults.push_back({scene::Crack{1, 7, {12, 12, false}, scene::CrackForm::along, 10}, ""});
  const scene::Scene clear = scene::build_scene(scenario);
  Renderer of_clear(clear, 2);
  const Frame bare = of_clear.draw(plain_view(clear, 3));
  double last = 9;
  for (const double sight_m : {1.2, 0.6, 0.3}) {
    const scene::Scene hazy = with(scenario, scene::Haze{0.5, 7.5, scene::HazeKind::steam, sight_m});
    View view = plain_view(hazy, 3);
    view.exposure = of_clear.exposure();
    const Frame frame = Renderer(hazy, 2).draw(view);
    float farthest = 0;
    for (std::size_t i = 0; i < frame.fault.size(); ++i)
      if (frame.fault[i] == 1) farthest = std::max(farthest, bare.depth_m[i]);
    // (1 + x/8)^-8 is a twentieth at 3.634 and an eighth (0.12) at 2.43; a
    // fifth more or less thick by chance.
    EXPECT_GT(farthest, 0.75 * sight_m * 2.43 / 3.634) << sight_m;
    EXPECT_LT(farthest, 1.3 * sight_m * 2.43 / 3.634) << sight_m;
    EXPECT_LT(farthest, last);
    last = farthest;
    EXPECT_GT(share_of(frame, 2), 0.02) << "the rest is the steam itself";
    if (sight_m > 1) continue;  // there the clear pipe is dark as well
    EXPECT_LT(contrast(frame, bare, sight_m, 1.5 * sight_m),
              0.5 * contrast(bare, bare, sight_m, 1.5 * sight_m));
  }
}

TEST(Haze, ThickSteamIsABrightWallOfItsOwn) {
  scene::Scenario scenario = straight_run(scene::Material::clay);
  const scene::Scene clear = scene::build_scene(scenario);
  const scene::Scene hazy = with(scenario, scene::Haze{0.5, 7.5, scene::HazeKind::steam, 0.12});
  View view = plain_view(clear, 3);
  const Frame bare = Renderer(clear, 2).draw(view), frame = Renderer(hazy, 2).draw(view);
  EXPECT_GT(share_of(frame, 1), 0.5);
  // In the middle the clear pipe is black.
  const std::size_t middle = 3 * static_cast<std::size_t>(90 * 320 + 160);
  EXPECT_LT(bare.rgb[middle], 20);
  EXPECT_GT(frame.rgb[middle], 100);
  EXPECT_NEAR(frame.rgb[middle], frame.rgb[middle + 2], 25) << "white";
  // It drifts, and is the same at the same moment.
  Renderer renderer(hazy, 1);
  view.time_s = 0.5;
  const Frame later = renderer.draw(view);
  EXPECT_NE(later.rgb, frame.rgb);
  EXPECT_EQ(later.rgb, Renderer(hazy, 2).draw(view).rgb);
}

TEST(Haze, IsTheSameOnEveryInstructionSet) {
  const scene::Scene run = with(straight_run(), scene::Haze{2, 6, scene::HazeKind::steam, 0.5});
  Renderer renderer(run, 1);
  View view = plain_view(run, 2.2);
  view.width = 333;
  const Frame best = renderer.draw(view);
  for (std::int64_t left = hwy::SupportedTargets(); left != 0; left &= left - 1) {
    hwy::SetSupportedTargetsForTest(left & -left);
    hwy::GetChosenTarget().DeInit();
    const Frame other = renderer.draw(view);
    EXPECT_EQ(other.rgb, best.rgb);
    EXPECT_EQ(other.fault, best.fault);
    EXPECT_EQ(other.depth_m, best.depth_m);
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().DeInit();
}

TEST(Haze, SiltIsBrownUnderWaterAndNothingAboveIt) {
  scene::Scenario scenario = straight_run();
  scenario.low_spots.push_back({1, 7, 170});
  scenario.water = scene::WaterLook::clear;
  const scene::Scene run = with(scenario, scene::Haze{2, 6, scene::HazeKind::silt, 0.15});
  View view = plain_view(run, 4);
  ASSERT_LT(view.pose.lens.y + 0.02, scene::level_at(run.water, 4));
  Renderer renderer(run, 2);
  const Frame frame = renderer.draw(view);
  EXPECT_GT(share_of(frame, 1), 0.5);
  const std::size_t middle = 3 * static_cast<std::size_t>(90 * 320 + 160);
  EXPECT_GT(frame.rgb[middle], frame.rgb[middle + 2] + 8) << "brown";
  view.pose = scene::pose_at(run, 0.6);
  ASSERT_GT(view.pose.lens.y, scene::level_at(run.water, view.pose.lens.z));
  EXPECT_EQ(share_of(renderer.draw(view), 1), 0);
}

class Films : public testing::TestWithParam<scene::LensFilm> {};
// Half of the view or more is taken on as much of the picture as is said,
// within a tenth of a percent.
TEST_P(Films, CoverAsMuchOfTheWindowAsIsSaid) {
  for (const double percent : {12.0, 55.0, 90.0}) {
    const scene::Scene run = with(straight_run(), scene::OnLens{2, 5, GetParam(), percent});
    Renderer renderer(run, 2);
    const View view = plain_view(run, 3);
    const Frame frame = renderer.draw(view);
    EXPECT_NEAR(100 * share_of(frame, 1), percent, GetParam() == scene::LensFilm::web ? 1 : 0.1);
    EXPECT_EQ(share_of(renderer.draw(plain_view(run, 5.1)), 1), 0) << "only in its stretch";
    View without = view;
    without.faults = false;
    const Frame clean = renderer.draw(without);
    double changed = 0;
    for (std::size_t i = 0; i < frame.fault.size(); ++i)
      if (frame.fault[i] == 1)
        changed += std::abs(frame.rgb[3 * i] - clean.rgb[3 * i]) +
                       std::abs(frame.rgb[3 * i + 2] - clean.rgb[3 * i + 2]) >
                   16;
    EXPECT_GT(changed / (share_of(frame, 1) * static_cast<double>(frame.fault.size())), 0.6);
    EXPECT_EQ(Renderer(run, 1).draw(view).rgb, frame.rgb);
  }
}
INSTANTIATE_TEST_SUITE_P(Matters, Films,
                         testing::Values(scene::LensFilm::grease, scene::LensFilm::foam, scene::LensFilm::web,
                                         scene::LensFilm::mud));

}  // namespace
}  // namespace haunch::render
