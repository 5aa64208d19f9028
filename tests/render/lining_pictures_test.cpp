// SPDX-License-Identifier: Apache-2.0
// Linings as they show: their edges and defects as large as is stated, and the same on any number of threads.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "render/test_views.hpp"
#include "scene/camera.hpp"

namespace haunch::render {
namespace {

using render_test::along_the_axis;
using scene::FaultKind;
using scene::FoldWay;
using scene::LiningDefect;
using scene::LiningForm;
using scene::ShortLining;

scene::Scene run_with(std::vector<FaultKind> kinds, double bore_mm = 150, std::uint64_t seed = 7,
                      scene::Material material = scene::Material::clay) {
  scene::Scenario scenario = render_test::straight_run(material, bore_mm);
  scenario.length_m = scenario.sections[0].to_m = 4;
  scenario.seed = seed;
  for (FaultKind& kind : kinds) scenario.faults.push_back({std::move(kind), ""});
  return scene::build_scene(std::move(scenario));
}

/// Share of what lies within the lining, seen along the axis, that shows a fault, %.
double percent_within(const scene::Scene& scene, int fault, double thick_m) {
  const View view = along_the_axis(scene, 1.2, 480);
  const Frame frame = Renderer(scene, 2).draw(view);
  const double within = scene::radius_at(scene, 1.2) - thick_m;
  long shown = 0, all = 0;
  for (int row = 0; row < view.height; ++row)
    for (int column = 0; column < view.width; ++column) {
      const double pixel = view.parallel_height_m / view.height;
      const double x = (column + 0.5 - view.width / 2.0) * pixel, y = (view.height / 2.0 - row - 0.5) * pixel;
      if (x * x + y * y > within * within) continue;
      ++all;
      shown += frame.fault[static_cast<std::size_t>(row * view.width + column)] == fault ? 1 : 0;
    }
  return 100.0 * static_cast<double>(shown) / static_cast<double>(all);
}

TEST(ShortLiningSeen, NarrowsTheBoreByItsThickness) {
  for (const double bore_mm : {100.0, 225.0})
    for (const double thick_mm : {3.0, 7.0}) {
      const scene::Scene scene = run_with({ShortLining{1.6, 2.6, thick_mm}}, bore_mm);
      const View view = along_the_axis(scene, 1.2, 600);
      const Frame frame = Renderer(scene, 2).draw(view);
      // From the middle to the side: its inner edge, then the pipe's wall where it begins.
      int first = -1, last = -1;
      for (int column = 300; column < 600; ++column)
        if (frame.fault[static_cast<std::size_t>(300 * 600 + column)] == 1) {
          if (first < 0) first = column;
          last = column;
        }
      ASSERT_GE(first, 0);
      const double pixel_mm = 1000 * view.parallel_height_m / 600;
      EXPECT_NEAR((last + 1 - first) * pixel_mm, thick_mm, 1.3) << bore_mm;
      EXPECT_NEAR((first - 300) * pixel_mm, bore_mm / 2 - thick_mm, 1.0) << bore_mm;
    }
}

struct Stated {
  const char* name;
  LiningDefect defect;
};
void PrintTo(const Stated& stated, std::ostream* out) { *out << stated.name; }
class LiningTakes : public testing::TestWithParam<Stated> {};
TEST_P(LiningTakes, ItsShareOfTheLinedBore) {
  for (const std::uint64_t seed : {3U, 19U})
    for (const double bore_mm : {100.0, 225.0}) {
      const scene::Scene scene = run_with({ShortLining{1.6, 3.0, 4}, GetParam().defect}, bore_mm, seed);
      // Folds that wander hide a little more together than in any one place.
      EXPECT_NEAR(percent_within(scene, 2, 0.004), GetParam().defect.percent, 2.6)
          << bore_mm << " mm, seed " << seed;
    }
}
INSTANTIATE_TEST_SUITE_P(
    Forms, LiningTakes,
    testing::Values(
        Stated{"bulge", LiningDefect{1.9, 2.3, {1, 4, false}, LiningForm::bulging_in, FoldWay::along, 10, 0}},
        Stated{"folds_round",
               LiningDefect{1.9, 2.5, {12, 12, true}, LiningForm::wrinkled, FoldWay::around, 12, 0}},
        Stated{"come_away",
               LiningDefect{1.6, 2.2, {10, 2, false}, LiningForm::come_away, FoldWay::along, 18, 0}}),
    [](const auto& stated) { return std::string(stated.param.name); });

/// Extent of a fault on the wall, straight on from the axis, mm along and across.
std::pair<double, double> extent_of(const scene::Scene& scene, int fault, double z, double clock_h) {
  View view;
  view.pose = scene::pose_at(scene, z);
  const scene::Vec2 c = scene::centre_at(scene, z), toward = scene::toward_clock(clock_h);
  view.pose.lens = {c.x, c.y, z};
  view.pose.forward = {toward.x, toward.y, 0.001};
  view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
  view.lens = Lens::parallel;
  view.parallel_height_m = 0.16;
  view.width = view.height = 480;
  view.lens_effects = view.noise = false;
  const Frame frame = Renderer(scene, 2).draw(view);
  int x0 = 480, x1 = -1, y0 = 480, y1 = -1;
  for (int row = 0; row < 480; ++row)
    for (int column = 0; column < 480; ++column)
      if (frame.fault[static_cast<std::size_t>(row * 480 + column)] == fault)
        x0 = std::min(x0, column), x1 = std::max(x1, column), y0 = std::min(y0, row), y1 = std::max(y1, row);
  const double pixel_mm = 160.0 / 480;
  return {(x1 + 1 - x0) * pixel_mm, (y1 + 1 - y0) * pixel_mm};
}

TEST(LiningHole, IsAsLongAsIsStated) {
  // Its lips, 4 to 5 mm wide all round, belong to it.
  const auto size = extent_of(
      run_with({ShortLining{1.4, 2.8, 4}, LiningDefect{2.05, 2.13, {2.5, 3.5, false}, LiningForm::holed}}), 2,
      2.09, 3);
  EXPECT_NEAR(std::max(size.first, size.second), 80 + 9, 4);
}
TEST(LiningStain, CoversTheStatedStretch) {
  const auto size = extent_of(run_with({ShortLining{1.4, 2.8, 4},
                                        LiningDefect{2.0, 2.1, {2.4, 3.6, false}, LiningForm::discoloured}}),
                              2, 2.05, 3);
  // Its ragged edge falls short of the stated one by up to 10 mm, and never goes beyond it.
  EXPECT_GT(std::max(size.first, size.second), 82);
  EXPECT_LT(std::max(size.first, size.second), 101);
}
TEST(LiningEndOpen, StandsOffByTheStatedGap) {
  const scene::Scene scene =
      run_with({ShortLining{1.6, 2.6, 4},
                LiningDefect{1.6, 1.7, {10, 2, false}, LiningForm::end_open, FoldWay::along, 0, 12}});
  const View view = along_the_axis(scene, 1.2, 600);
  const Frame frame = Renderer(scene, 2).draw(view);
  // Straight up from the axis: the defect begins at the lifted lining's inner edge.
  int reached = 300;
  while (reached > 0 && frame.fault[static_cast<std::size_t>(reached * 600 + 300)] != 2) --reached;
  const double pixel_mm = 1000 * view.parallel_height_m / 600;
  EXPECT_NEAR((300 - reached) * pixel_mm, 75 - 4 - 12, 1.5);
}

/// A defect is in the picture, the picture differs by it, and is the same on any number of threads.
void expect_plain(const scene::Scene& scene, const scene::Scene& sound, int number) {
  View view;
  view.pose = scene::pose_at(scene, scene::stretch_of(scene.scenario.faults.back()).from_m - 0.25);
  view.width = 480;
  view.height = 270;
  view.lens_effects = view.noise = false;
  Renderer one(scene, 1), two(scene, 2), without(sound, 2);
  const Frame frame = one.draw(view);
  EXPECT_EQ(frame.rgb, two.draw(view).rgb);
  view.exposure = one.wanted_exposure();
  const Frame before = without.draw(view), after = one.draw(view);
  int shown = 0, differs = 0;
  for (std::size_t i = 0; i < after.fault.size(); ++i) {
    if (after.fault[i] != number) continue;
    ++shown;
    for (std::size_t k = 3 * i; k < 3 * i + 3; ++k)
      if (std::abs(after.rgb[k] - before.rgb[k]) > 12) {
        ++differs;
        break;
      }
  }
  EXPECT_GE(shown, 150);
  EXPECT_GE(differs, 80);
}

class LiningShows : public testing::TestWithParam<Stated> {};
TEST_P(LiningShows, PlainlyInAShortLining) {
  const ShortLining lining{1.6, 3.0, 4};
  expect_plain(run_with({lining, GetParam().defect}), run_with({lining}), 2);
}
TEST_P(LiningShows, PlainlyInASectionOfLiner) {
  LiningDefect defect = GetParam().defect;
  if (scene::is_at_end(defect.form)) defect.from_m = 3.9, defect.to_m = 4.0;
  expect_plain(run_with({defect}, 150, 7, scene::Material::liner),
               run_with({}, 150, 7, scene::Material::liner), 1);
}
TEST(LinerSound, IsDrawnAlikeWithADefectElsewhere) {
  // What covers a defect reaches no farther than the defect.
  const LiningDefect fold{2.2, 2.5, {1, 3, false}, LiningForm::wrinkled, FoldWay::along, 4, 0};
  const scene::Scene scene = run_with({fold}, 150, 7, scene::Material::liner),
                     sound = run_with({}, 150, 7, scene::Material::liner);
  View view;
  view.pose = scene::pose_at(scene, 2.0);
  view.width = 480, view.height = 270;
  view.lens_effects = view.noise = false;
  Renderer with(scene, 2), without(sound, 2);
  with.draw(view);
  view.exposure = with.wanted_exposure();
  const Frame a = with.draw(view), b = without.draw(view);
  int other = 0, shown = 0;
  for (std::size_t i = 0; i < a.fault.size(); ++i) {
    shown += a.fault[i] == 1 ? 1 : 0;
    if (i % 480 < 240 && !std::equal(&a.rgb[3 * i], &a.rgb[3 * i] + 3, &b.rgb[3 * i])) ++other;
  }
  EXPECT_GT(shown, 300);
  EXPECT_EQ(other, 0);
}
INSTANTIATE_TEST_SUITE_P(
    Forms, LiningShows,
    testing::Values(
        Stated{"come_away", {1.6, 2.2, {10, 2, false}, LiningForm::come_away, FoldWay::along, 18, 0}},
        Stated{"discoloured", {1.9, 2.4, {9, 3, false}, LiningForm::discoloured, FoldWay::along, 0, 0}},
        Stated{"poor_end", {1.6, 1.7, {12, 12, true}, LiningForm::poor_end, FoldWay::along, 0, 0}},
        Stated{"along", {1.9, 2.4, {9, 3, false}, LiningForm::wrinkled, FoldWay::along, 5, 0}},
        Stated{"several", {1.9, 2.4, {9, 3, false}, LiningForm::wrinkled, FoldWay::several, 5, 0}},
        Stated{"spiral", {1.9, 2.4, {12, 12, true}, LiningForm::wrinkled, FoldWay::spiral, 10, 0}},
        Stated{"bulging_out", {1.9, 2.15, {8, 11, false}, LiningForm::bulging_out, FoldWay::along, 0, 20}},
        Stated{"film_off", {1.9, 2.3, {9, 3, false}, LiningForm::film_off, FoldWay::along, 0, 0}},
        Stated{"seam_off", {1.9, 2.5, {11, 11, false}, LiningForm::seam_off, FoldWay::along, 0, 0}},
        Stated{"cracked", {1.85, 2.2, {1, 3, false}, LiningForm::cracked, FoldWay::along, 0, 4}},
        Stated{"holed", {1.9, 2.0, {1, 3, false}, LiningForm::holed, FoldWay::along, 0, 0}},
        Stated{"poor_joint", {1.9, 1.96, {12, 12, true}, LiningForm::poor_joint, FoldWay::along, 0, 0}},
        Stated{"soft", {1.9, 2.4, {9, 3, false}, LiningForm::soft, FoldWay::along, 0, 0}},
        Stated{"resin_missing", {1.9, 2.4, {9, 1, false}, LiningForm::resin_missing, FoldWay::along, 0, 0}}),
    [](const auto& stated) { return std::string(stated.param.name); });

}  // namespace
}  // namespace haunch::render
