// SPDX-License-Identifier: Apache-2.0
// Things and water in the bore as they show: what a scenario states must be what a picture shows.
#include <gtest/gtest.h>

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

using scene::FaultKind;
using scene::Obstacle;
using scene::ObstacleForm;

const base::ClockArc nowhere{12, 12, true};

scene::Scene run_with(std::vector<FaultKind> kinds, double bore_mm, std::uint64_t seed) {
  scene::Scenario scenario = render_test::straight_run(scene::Material::clay, bore_mm);
  scenario.length_m = scenario.sections[0].to_m = 4;
  scenario.seed = seed;
  for (FaultKind& kind : kinds) scenario.faults.push_back({std::move(kind), ""});
  return scene::build_scene(std::move(scenario));
}

/// Share of the bore seen along its axis from `z` that shows a fault, %.
double percent_of_bore(const scene::Scene& scene, double z) {
  View view;
  view.pose = scene::pose_at(scene, z);
  const scene::Vec2 here = scene::centre_at(scene, z), there = scene::centre_at(scene, z + 0.5);
  view.pose.lens = {here.x, here.y, z};
  view.pose.forward = scene::normalised({there.x - here.x, there.y - here.y, 0.5});
  view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
  const double bore = 2 * scene::radius_at(scene, z);
  view.lens = Lens::parallel;
  view.parallel_height_m = 1.05 * bore;
  view.width = view.height = 360;
  view.lens_effects = view.noise = false;
  const Frame frame = Renderer(scene, 2).draw(view);
  long shown = 0, all = 0;
  for (int row = 0; row < view.height; ++row)
    for (int column = 0; column < view.width; ++column) {
      const double pixel = view.parallel_height_m / view.height;
      const double x = (column + 0.5 - view.width / 2.0) * pixel, y = (view.height / 2.0 - row - 0.5) * pixel;
      if (x * x + y * y > bore * bore / 4) continue;
      ++all;
      shown += frame.fault[static_cast<std::size_t>(row * view.width + column)] != 0 ? 1 : 0;
    }
  return 100.0 * static_cast<double>(shown) / static_cast<double>(all);
}

struct Stated {
  const char* name;
  FaultKind kind;
  double percent;
};
void PrintTo(const Stated& stated, std::ostream* out) { *out << stated.name; }
class TakesItsShare : public testing::TestWithParam<Stated> {};
TEST_P(TakesItsShare, OfTheBoreSeenAlongIt) {
  for (const std::uint64_t seed : {3U, 19U})
    for (const double bore_mm : {100.0, 225.0})
      EXPECT_NEAR(percent_of_bore(run_with({GetParam().kind}, bore_mm, seed), 1.2), GetParam().percent, 2.2)
          << bore_mm << " mm, seed " << seed;
}
INSTANTIATE_TEST_SUITE_P(
    Things, TakesItsShare,
    testing::Values(Stated{"brick", Obstacle{2.4, ObstacleForm::brick, nowhere, 14}, 14},
                    Stated{"pipe pieces", Obstacle{2.4, ObstacleForm::pipe_pieces, nowhere, 10}, 10},
                    Stated{"bottle", Obstacle{2.4, ObstacleForm::bottle, nowhere, 12}, 12},
                    Stated{"rag", Obstacle{2.4, ObstacleForm::rag, nowhere, 20}, 20},
                    Stated{"ball", Obstacle{2.4, ObstacleForm::ball, nowhere, 25}, 25},
                    Stated{"timber", Obstacle{2.4, ObstacleForm::timber, nowhere, 10}, 10},
                    Stated{"through wall", Obstacle{2.4, ObstacleForm::through_wall, {2, 2, false}, 9}, 9},
                    Stated{"in joint", Obstacle{2.0, ObstacleForm::in_joint, {10, 10, false}, 8}, 8},
                    Stated{"crossing", Obstacle{2.4, ObstacleForm::crossing, {9, 3, false}, 18}, 18},
                    Stated{"built in", Obstacle{2.4, ObstacleForm::built_in, {12, 12, false}, 16}, 16},
                    Stated{"jammed", Obstacle{2.4, ObstacleForm::jammed, nowhere, 10}, 10}),
    [](const auto& thing) {
      std::string name = thing.param.name;
      for (char& c : name) c = c == ' ' ? '_' : c;
      return name;
    });

class Shows : public testing::TestWithParam<Stated> {};
TEST_P(Shows, FromWellBeforeItAndTheSameOnAnyNumberOfThreads) {
  const scene::Scene scene = run_with({GetParam().kind}, 150, 7);
  View view;
  view.pose = scene::pose_at(scene, scene::stretch_of(scene.scenario.faults[0]).from_m - 0.3);
  view.width = 480;
  view.height = 270;
  view.time_s = 0.3;
  view.lens_effects = view.noise = false;
  Renderer one(scene, 1), two(scene, 2);
  const Frame frame = one.draw(view);
  EXPECT_EQ(frame.rgb, two.draw(view).rgb);
  view.exposure = one.wanted_exposure();
  view.faults = false;
  const Frame without = one.draw(view);
  const render_test::Shown shown = render_test::shown(frame, without);
  EXPECT_GE(shown.pixels, GetParam().percent);
  EXPECT_GE(shown.plain, 0.3 * GetParam().percent);
}
INSTANTIATE_TEST_SUITE_P(
    Things, Shows,
    testing::Values(Stated{"sand", scene::SoilIngress{2, {2, 2, false}, scene::SoilKind::sand, 12}, 600},
                    Stated{"peat", scene::SoilIngress{2, {2, 2, false}, scene::SoilKind::peat, 12}, 600},
                    Stated{"gravel", scene::SoilIngress{2, {2, 2, false}, scene::SoilKind::gravel, 12}, 600},
                    Stated{"drips", scene::Infiltration{2, {12, 12, false}, scene::WaterRate::drips}, 60},
                    Stated{"flows", scene::Infiltration{2, {1, 1, false}, scene::WaterRate::flows}, 150},
                    Stated{"gushes", scene::Infiltration{2, {10, 10, false}, scene::WaterRate::gushes}, 600},
                    Stated{"break", scene::BrokenWall{2.4, 10, 160, 110, 16, false, 0}, 600},
                    Stated{"collapse", scene::BrokenWall{2.4, 12, 240, 160, 0, true, 40}, 3000},
                    Stated{"rat", scene::Vermin{2.2, scene::VerminKind::rat, 1}, 600},
                    Stated{"cockroaches", scene::Vermin{2.0, scene::VerminKind::cockroach, 3}, 60},
                    Stated{"ring", scene::SealingRing{2, {10, 2, false}, 50, false}, 300}),
    [](const auto& thing) { return std::string(thing.param.name); });

TEST(WaterComingIn, FallsAsTimeGoesOn) {
  const scene::Scene scene =
      run_with({scene::Infiltration{2, {12, 12, false}, scene::WaterRate::drips}}, 150, 7);
  View view;
  view.pose = scene::pose_at(scene, 1.7);
  view.width = 320;
  view.height = 180;
  view.lens_effects = view.noise = false;
  Renderer renderer(scene, 2);
  const auto lowest = [&](double time_s) {
    view.time_s = time_s;
    return renderer.draw(view);
  };
  const Frame first = lowest(0);
  bool moved = false;
  for (int i = 1; i < 30 && !moved; ++i) moved = lowest(0.05 * i).fault != first.fault;
  EXPECT_TRUE(moved);
  EXPECT_EQ(lowest(0).rgb, first.rgb) << "a moment has one picture, whatever was drawn before";
}

TEST(SoilComingIn, TakesItsShareOfTheBore) {
  for (const auto kind : {scene::SoilKind::sand, scene::SoilKind::gravel})
    EXPECT_NEAR(percent_of_bore(run_with({scene::SoilIngress{2, {6, 6, false}, kind, 15}}, 150, 5), 1.0), 15,
                2.5);
}

TEST(RingHanging, ReachesAsFarAsIsStated) {
  const scene::Scene scene = run_with({scene::SealingRing{2, {11, 1, false}, 60, false}}, 150, 5);
  View view;
  view.pose = scene::pose_at(scene, 1.4);
  const scene::Vec2 here = scene::centre_at(scene, 1.4);
  view.pose.lens = {here.x, here.y, 1.4};
  view.pose.forward = {0, -0.01, 1};
  view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
  view.lens = Lens::parallel;
  view.parallel_height_m = 0.160;
  view.width = view.height = 480;
  view.lens_effects = view.noise = false;
  const Frame frame = Renderer(scene, 2).draw(view);
  int lowest = 0;
  for (int row = 0; row < 480; ++row)
    for (int column = 0; column < 480; ++column)
      if (frame.fault[static_cast<std::size_t>(row * 480 + column)] == 1) lowest = row;
  EXPECT_NEAR(lowest * 0.160 / 480 - 0.005, 0.060, 0.008);
}

}  // namespace
}  // namespace haunch::render
