// SPDX-License-Identifier: Apache-2.0
// A run laid out in space: units, joints, steps, bends, sags, and the water that follows from them.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scene/layout.hpp"
#include "scene/runs.hpp"
#include "scene/water_of_run.hpp"

namespace haunch::scene {
namespace {

std::vector<double> joints_of(const Scene& scene) {
  std::vector<double> places;
  for (const Joint& joint : scene.joints) places.push_back(joint.at_m);
  return places;
}

TEST(BuildScene, UnitsBeginAnewAtEachSection) {
  Scenario scenario = plain_run(5);
  scenario.sections[0].to_m = 2.5;
  Section iron = scenario.sections[0];
  iron.from_m = 2.5;
  iron.to_m = 5;
  iron.material = Material::cast_iron;
  iron.unit_length_m = 2;
  scenario.sections.push_back(iron);
  const Scene scene = build_scene(scenario);
  EXPECT_EQ(joints_of(scene), (std::vector<double>{1, 2, 2.5, 4.5}));
  EXPECT_FALSE(scene.joints[1].material_change);
  EXPECT_TRUE(scene.joints[2].material_change);
}

TEST(BuildScene, FirstJointMayLieElsewhereAndAStubIsNoUnit) {
  Scenario scenario = plain_run(3.03);
  scenario.sections[0].first_joint_m = 0.4;
  EXPECT_EQ(joints_of(build_scene(scenario)), (std::vector<double>{0.4, 1.4, 2.4}));
  scenario.sections[0].first_joint_m = 0;
  EXPECT_EQ(joints_of(build_scene(scenario)), (std::vector<double>{1, 2}));
}

TEST(BuildScene, PiecesFollowWithoutAHole) {
  Scenario scenario = plain_run(12);
  scenario.low_spots = {{3.3, 7.1, 40}};
  add(scenario, JointShift{2, 8, 4});
  add(scenario, JointBend{5, 2, 9});
  const Scene scene = build_scene(scenario);
  EXPECT_EQ(scene.pieces.front().from_m, 0);
  EXPECT_EQ(scene.pieces.back().to_m, 12);
  for (std::size_t i = 1; i < scene.pieces.size(); ++i) {
    const Piece& before = scene.pieces[i - 1];
    const Piece& after = scene.pieces[i];
    EXPECT_EQ(before.to_m, after.from_m);
    if (before.unit == after.unit) {
      EXPECT_NEAR(length(after.from_centre - before.to_centre), 0, 1e-12);
    }
    // In the sag pieces are short enough to follow it.
    if (after.from_m >= 3.3 && after.to_m <= 7.1) {
      EXPECT_LE(after.to_m - after.from_m, 0.25 + 1e-9);
    }
  }
}

TEST(BuildScene, AShiftStepsAtItsJointAndGoesOnDownstream) {
  Scenario scenario = plain_run(10);
  const Scene straight = build_scene(scenario);
  add(scenario, JointShift{4, 12, 3});
  add(scenario, JointShift{6, 5, 9});
  const Scene scene = build_scene(scenario);
  EXPECT_NEAR(scene.joints[3].step.x, 0.012, 1e-12);
  EXPECT_NEAR(scene.joints[3].step.y, 0, 1e-12);
  EXPECT_EQ(scene.joints[3].faults, std::vector<int>{1});
  EXPECT_NEAR(length(scene.joints[4].step), 0, 1e-12);
  for (const auto& [z, x] : {std::pair{2.0, 0.0}, {5.0, 0.012}, {9.0, 0.007}}) {
    EXPECT_NEAR(centre_at(scene, z).x - centre_at(straight, z).x, x, 1e-12) << z;
    EXPECT_NEAR(centre_at(scene, z).y, centre_at(straight, z).y, 1e-12) << z;
  }
}

TEST(BuildScene, ABendTurnsTheLineAfterIt) {
  Scenario scenario = plain_run(10);
  add(scenario, JointBend{4, 2, 3});
  const Scene scene = build_scene(scenario);
  EXPECT_NEAR(centre_at(scene, 3.9).x, 0, 1e-12);
  EXPECT_NEAR(centre_at(scene, 9).x, 5 * std::tan(2 * std::numbers::pi / 180), 1e-12);
  EXPECT_EQ(scene.joints[3].bend_deg, 2);
  EXPECT_EQ(scene.joints[3].bend_clock_h, 3);
}

TEST(BuildScene, AGapOpensItsJointOnly) {
  Scenario scenario = plain_run(5);
  add(scenario, JointGap{3, 25});
  const Scene scene = build_scene(scenario);
  for (const Joint& joint : scene.joints) {
    EXPECT_EQ(joint.open, joint.at_m == 3);
    EXPECT_NEAR(joint.gap_m, joint.at_m == 3 ? 0.025 : 0.006, 1e-12);
  }
}

TEST(BuildScene, TheLowSpotIsAsDeepAsItSays) {
  Scenario scenario = plain_run(10);
  const Scene straight = build_scene(scenario);
  scenario.low_spots = {{3, 7, 40}};
  const Scene scene = build_scene(scenario);
  EXPECT_NEAR(invert_at(straight, 5) - invert_at(scene, 5), 0.040, 1e-9);
  EXPECT_NEAR(invert_at(straight, 2.9), invert_at(scene, 2.9), 1e-12);
  EXPECT_NEAR(invert_at(straight, 7.5), invert_at(scene, 7.5), 1e-12);
}

TEST(BuildScene, AWiderBoreKeepsTheInvert) {
  Scenario scenario = plain_run(4);
  scenario.sections[0].to_m = 2;
  Section wide = scenario.sections[0];
  wide.from_m = 2;
  wide.to_m = 4;
  wide.bore_mm = 150;
  scenario.sections.push_back(wide);
  const Scene scene = build_scene(scenario);
  EXPECT_NEAR(invert_at(scene, 1.9999) - invert_at(scene, 2.0001), 0.0002 * 0.01, 1e-9);
  EXPECT_EQ(radius_at(scene, 3), 0.075);
}

TEST(BuildScene, WallPointsLieOnTheBore) {
  Scenario scenario = plain_run(4);
  add(scenario, JointShift{2, 10, 5});
  const Scene scene = build_scene(scenario);
  for (double hour = 0.5; hour <= 12; hour += 0.5) {
    const Vec3 point = wall_point(scene, 3, hour);
    const Vec2 out = Vec2{point.x, point.y} - centre_at(scene, 3);
    EXPECT_NEAR(length(out), 0.05, 1e-12);
    EXPECT_NEAR(clock_of(out), hour, 1e-9);
  }
  EXPECT_GT(wall_point(scene, 1, 3).x, 0) << "3 o'clock lies to the right looking downstream";
}

TEST(Distances, CountFromEitherEndAndBack) {
  Scenario scenario = plain_run(10);
  for (const End from : {End::start, End::end}) {
    for (const End zero : {End::start, End::end}) {
      scenario.inspection = {from, zero, 0.45};
      for (const double z : {0.0, 3.2, 10.0}) {
        EXPECT_NEAR(chainage_of(scenario, distance_of(scenario, z)), z, 1e-12);
        EXPECT_NEAR(distance_of(scenario, z), (zero == End::start ? z : 10 - z) + 0.45, 1e-12);
      }
      EXPECT_EQ(travel(scenario), from == End::start ? 1 : -1);
    }
  }
}

TEST(WaterOfRun, APlainFallWithoutFlowIsDry) { EXPECT_TRUE(build_scene(plain_run()).water.reaches.empty()); }

TEST(WaterOfRun, RunningWaterHasManningsDepth) {
  Scenario scenario = plain_run(10, 100);
  scenario.flow_l_s = 1.0;
  scenario.gradient_percent = 1.25;
  scenario.sections[0].manning_n = 0.011;
  const Scene scene = build_scene(scenario);
  // 0.259 of the bore: Manning's equation and geometry, worked out apart from this program.
  EXPECT_NEAR((level_at(scene.water, 5) - invert_at(scene, 5)) / 0.1, 0.259, 0.002);
  EXPECT_FALSE(scene.water.reaches.front().standing);
}

TEST(WaterOfRun, ASagFillsToItsLipAndFlowStandsOverIt) {
  Scenario scenario = plain_run(10, 100);
  scenario.low_spots = {{3, 7, 60}};
  const Scene still = build_scene(scenario);
  ASSERT_EQ(still.water.reaches.size(), 1U);
  const WaterReach& pond = still.water.reaches.front();
  double lip = -1;
  for (const InvertPoint& point : invert_profile(still)) {
    if (point.z_m > 5) lip = std::max(lip, point.y_m);
  }
  EXPECT_NEAR(pond.from_level_m, lip, 1e-12);
  scenario.flow_l_s = 0.1;
  const Scene flowing = build_scene(scenario);
  const double over = level_at(flowing.water, 5) - level_at(still.water, 5);
  EXPECT_GT(over, 0);
  EXPECT_LT(over, 0.015);
}

TEST(WaterOfRun, TheSurfaceNeverRisesDownstreamAndIsNeverUnderTheInvert) {
  Scenario scenario = plain_run(20, 100);
  scenario.flow_l_s = 0.2;
  scenario.low_spots = {{3, 7, 60}, {8, 11, 90}};
  add(scenario, JointShift{15, 14, 12});
  add(scenario, JointShift{16, 10, 3});
  const Scene scene = build_scene(scenario);
  double before = 1e9;
  for (const WaterReach& reach : scene.water.reaches) {
    EXPECT_LE(reach.from_level_m, before + 1e-9) << reach.from_m;
    EXPECT_LE(reach.to_level_m, reach.from_level_m + 1e-12);
    before = reach.to_level_m;
  }
  for (double z = 0.005; z < 20; z += 0.01)
    EXPECT_GE(level_at(scene.water, z), invert_at(scene, z) - 1e-9) << z;
}

TEST(WaterOfRun, DryBetweenPondsWithoutFlow) {
  Scenario scenario = plain_run(20, 100);
  scenario.low_spots = {{3, 7, 60}};
  const Scene scene = build_scene(scenario);
  EXPECT_EQ(level_at(scene.water, 1), dry_level_m);
  EXPECT_EQ(level_at(scene.water, 15), dry_level_m);
}

TEST(Layout, NearestJoint) {
  const Scenario scenario = plain_run(5);
  const auto places = joint_places(scenario);
  EXPECT_EQ(nearest_joint(places, 2.4)->at_m, 2);
  EXPECT_EQ(nearest_joint(places, 2.6)->at_m, 3);
  EXPECT_FALSE(nearest_joint({}, 1).has_value());
}

TEST(FaultSeed, DiffersByFaultAndByScenario) {
  Scenario one = plain_run(), two = plain_run();
  two.seed = one.seed + 1;
  for (Scenario* scenario : {&one, &two})
    for (int n = 0; n < 2; ++n) add(*scenario, Hole{2.5, 12, 60, 40, Behind::soil});
  EXPECT_NE(fault_seed(one, 1), fault_seed(one, 2));
  EXPECT_NE(fault_seed(one, 1), fault_seed(two, 1));
}

TEST(Without, LeavesTheOthersAsTheyWere) {
  Scenario scenario = plain_run();
  add(scenario, Hole{2.5, 12, 60, 40, Behind::soil});
  add(scenario, JointGap{3, 20});
  add(scenario, Crack{4.2, 4.8, {12, 12, false}, CrackForm::along, 2});
  const Scenario less = without(scenario, 2);
  ASSERT_EQ(less.faults.size(), 2U);
  EXPECT_EQ(kind_word(less.faults[1]), "crack");
  EXPECT_EQ(fault_seed(less, 1), fault_seed(scenario, 1));
  EXPECT_EQ(fault_seed(less, 2), fault_seed(scenario, 3));
  const Scenario least = without(less, 1);
  EXPECT_EQ(fault_seed(least, 1), fault_seed(scenario, 3)) << "taken away one after the other";
}

}  // namespace
}  // namespace haunch::scene
