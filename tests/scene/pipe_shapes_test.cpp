// SPDX-License-Identifier: Apache-2.0
// Pipes that are not circular: egg and rectangle, as sections and as water runs and stands in them.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scene/bore.hpp"
#include "scene/layout.hpp"
#include "scene/runs.hpp"

namespace haunch::scene {
namespace {

constexpr double pi = std::numbers::pi;

// The classic egg of width 2 r and height 3 r: full area 4.594 r2, full perimeter 7.930 r (tables of
// egg-shaped sewers, from memory), and by hand from its arcs: crown half a circle; sides of 3 r over the
// angle whose tangent is 3/4; invert of r / 2 over the rest.
TEST(Egg, HasTheAreaAndWallOfTheClassicProfile) {
  const double r = 0.1;
  const Bore egg{r, 1.5 * r, BoreForm::egg};
  const double side = std::atan(0.75), invert = pi - 2 * side;
  EXPECT_NEAR(wetted_m(egg, 3 * r), r * (pi + 2 * 3 * side + 0.5 * invert), 2e-5);
  EXPECT_NEAR(wetted_m(egg, 3 * r), 7.930 * r, 0.001 * r);
  EXPECT_NEAR(area_m2(egg, 3 * r), 4.594 * r * r, 0.001 * r * r);
  EXPECT_NEAR(area_m2(egg, 3 * r) / wetted_m(egg, 3 * r), 0.579 * r, 0.001 * r) << "hydraulic radius, full";
}

TEST(Egg, RunsFromArcToArcWithoutAnEdge) {
  const Bore egg{0.1, 0.15, BoreForm::egg};
  const auto wall = [&](double turn) {
    const Vec2 out{std::sin(turn), -std::cos(turn)};
    return radius_toward(egg, out) * out;
  };
  const double step = 1e-3;
  for (double turn = step; turn < pi - step; turn += step) {
    const Vec2 a = wall(turn) - wall(turn - step), b = wall(turn + step) - wall(turn);
    EXPECT_LT(std::acos(std::min(1.0, dot(a, b) / (length(a) * length(b)))), 0.02) << turn;
    EXPECT_TRUE(inside(egg, 0.999 * wall(turn)));
    EXPECT_FALSE(inside(egg, 1.001 * wall(turn)));
  }
  EXPECT_NEAR(radius_toward(egg, {0, 1}), 0.15, 1e-12);
  EXPECT_NEAR(radius_toward(egg, {0, -1}), 0.15, 1e-12);
  for (const double x : {0.0, 0.02, 0.039, 0.041, 0.07, 0.099}) {
    EXPECT_NEAR(
        length(Vec2{x, -depth_below(egg, x)}),
        radius_toward(egg, (1 / length(Vec2{x, -depth_below(egg, x)})) * Vec2{x, -depth_below(egg, x)}),
        1e-9);
    EXPECT_NEAR(width_m(egg, 0.15 - depth_below(egg, x)), 2 * x, 1e-8);
  }
}

Scenario shaped(PipeShape shape) {
  Scenario scenario = plain_run(10, 200);
  scenario.sections[0].shape = shape;
  scenario.sections[0].height_mm = 150;
  return scenario;
}

TEST(ShapedRun, StandsOnItsInvertAndIsAsHighAsItSays) {
  for (const auto& [shape, high] :
       {std::pair(PipeShape::egg, 0.3), std::pair(PipeShape::rectangular, 0.15)}) {
    const Scene scene = build_scene(shaped(shape));
    for (const double z : {0.0, 3.7, 10.0}) {
      EXPECT_NEAR(invert_at(scene, z), 0.01 * (10 - z), 1e-9);
      EXPECT_NEAR(crown_at(scene, z) - invert_at(scene, z), high, 1e-9);
      EXPECT_NEAR(length(Vec2{wall_point(scene, z, 3).x, 0}),
                  shape == PipeShape::egg ? radius_toward(bore_at(scene, z), {1, 0}) : 0.1, 1e-9);
    }
  }
}

// A narrow invert is what an egg is built for: the same little water runs deeper and faster in it than in a
// circle as wide, and shallower on a flat floor.
TEST(ShapedRun, CarriesALittleWaterDeeperInAnEggAndShallowerOnAFlatFloor) {
  const Bore circle{0.1, 0.1}, egg{0.1, 0.15, BoreForm::egg}, box{0.1, 0.1, BoreForm::box};
  for (const double flow : {0.0002, 0.001, 0.003}) {
    const double round = depth_for_flow_m(circle, flow, 0.01, 0.013);
    EXPECT_GT(depth_for_flow_m(egg, flow, 0.01, 0.013), 1.1 * round);
    EXPECT_LT(depth_for_flow_m(box, flow, 0.01, 0.013), 0.9 * round);
  }
  // A rectangle by hand: Manning with area w d and wetted w + 2 d.
  const double depth = depth_for_flow_m(box, 0.004, 0.01, 0.013), area = 0.2 * depth;
  EXPECT_NEAR(area * std::pow(area / (0.2 + 2 * depth), 2.0 / 3.0) * 0.1 / 0.013, 0.004, 1e-8);
}

TEST(ShapedRun, PondsBehindASagToItsLip) {
  for (const PipeShape shape : {PipeShape::egg, PipeShape::rectangular}) {
    Scenario scenario = shaped(shape);
    scenario.gradient_percent = 0.5;
    scenario.low_spots.push_back({3, 7, 60});
    const Scene scene = build_scene(scenario);
    ASSERT_FALSE(scene.water.reaches.empty());
    const WaterReach& pond = scene.water.reaches.front();
    EXPECT_TRUE(pond.standing);
    EXPECT_NEAR(pond.from_level_m, invert_at(scene, pond.to_m), 1e-4);
  }
}

}  // namespace
}  // namespace haunch::scene
