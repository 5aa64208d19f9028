// SPDX-License-Identifier: Apache-2.0
// Where the lens is, how it looks, and when it goes under.
#include "scene/camera.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scene/runs.hpp"

namespace haunch::scene {
namespace {

CameraRig push_rig(double roll_deg = 0) {
  CameraRig rig;
  rig.kind = CameraKind::push;
  rig.head_mm = 38;
  rig.roll_deg = roll_deg;
  return rig;
}

// Common practice, no source: a head about 38 mm thick on its ball skid in a 100 mm pipe is wholly
// under in about 50 mm of water.
TEST(Camera, APushHeadGoesUnderInAboutFiftyMillimetres) {
  EXPECT_NEAR(lens_height_mm(push_rig(), 100) + 38 / 2.0, 50, 1);
  const auto share_in = [](double depth_mm) {
    Scene scene = run_under_water(100, depth_mm);
    scene.scenario.camera = push_rig();
    return submerged_share(scene, pose_at(scene, 2));
  };
  EXPECT_LT(share_in(48), 1);
  EXPECT_EQ(share_in(52), 1);
  EXPECT_EQ(share_in(10), 0);
  EXPECT_NEAR(share_in(31), 0.5, 0.02);
}

// Geometry: ends of the waterline at 4 and 8 o'clock mean a quarter of the bore.
TEST(Camera, WaterlineAtFourAndEightMeansAQuarter) {
  const Scene scene = run_under_water(100, 25);
  for (const double hour : {4.0, 8.0})
    EXPECT_NEAR(wall_point(scene, 1, hour).y, level_at(scene.water, 1), 1e-12);
  EXPECT_NEAR(width_share(0.25), std::sin(std::numbers::pi / 3), 1e-12);
}

TEST(Camera, TheSkidFitsEveryBoreTheHeadFits) {
  for (double bore = 50; bore <= 300; bore += 10) {
    for (double head = 20; head < bore * 0.9; head += 5) {
      EXPECT_GE(skid_mm(head, bore), head) << head << " in " << bore;
      EXPECT_LT(skid_mm(head, bore), bore) << head << " in " << bore;
    }
  }
}

TEST(Camera, ACrawlerStaysOnItsHeightAndLevel) {
  Scenario scenario = plain_run();
  scenario.camera.height_mm = 40;
  scenario.camera.roll_deg = 30;
  const Scene scene = build_scene(scenario);
  for (double z = 0; z <= 10; z += 0.7) {
    const CameraPose pose = pose_at(scene, z);
    EXPECT_NEAR(pose.lens.y - invert_at(scene, z), 0.040, 1e-9);
    EXPECT_EQ(pose.roll_deg, 0);
  }
}

TEST(Camera, RollIsSmoothSeededAndWithinItsMost) {
  Scenario scenario = plain_run(40);
  scenario.camera = push_rig(40);
  const Scene scene = build_scene(scenario);
  scenario.seed = 2;
  const Scene other = build_scene(scenario);
  double most = 0, apart = 0;
  for (double z = 0.01; z <= 40; z += 0.01) {
    const double roll = pose_at(scene, z).roll_deg;
    EXPECT_LE(std::abs(roll), 40);
    EXPECT_LT(std::abs(roll - pose_at(scene, z - 0.01).roll_deg), 1.0) << z;
    EXPECT_EQ(roll, pose_at(scene, z).roll_deg);
    most = std::max(most, std::abs(roll));
    apart = std::max(apart, std::abs(roll - pose_at(other, z).roll_deg));
  }
  EXPECT_GT(most, 25);
  EXPECT_GT(apart, 10);
}

TEST(Camera, LooksAlongTheLineTheWayItTravels) {
  Scenario scenario = plain_run(10);
  add(scenario, JointBend{4, 3, 3});
  Scene scene = build_scene(scenario);
  const Vec3 down = pose_at(scene, 7).forward;
  EXPECT_NEAR(length(down), 1, 1e-12);
  EXPECT_NEAR(std::atan2(down.x, down.z) * 180 / std::numbers::pi, 3, 0.01);
  scene.scenario.inspection.from = End::end;
  const CameraPose up = pose_at(scene, 7);
  EXPECT_EQ(up.travel, -1);
  EXPECT_NEAR(dot(up.forward, down), -1, 1e-12);
}

TEST(Camera, RidesOverAStepWithoutAJump) {
  Scenario scenario = plain_run(10);
  add(scenario, JointShift{4, 12, 12});
  const Scene scene = build_scene(scenario);
  for (double z = 3.8; z < 4.2; z += 0.002)
    EXPECT_LT(std::abs(pose_at(scene, z + 0.002).lens.y - pose_at(scene, z).lens.y), 0.002);
}

TEST(Camera, StaysInsideTheRun) {
  const Scene scene = build_scene(plain_run(10));
  EXPECT_EQ(pose_at(scene, -3).lens.z, 0);
  EXPECT_EQ(pose_at(scene, 30).lens.z, 10);
  for (const double z : {-1.0, 0.0, 10.0, 11.0}) EXPECT_NEAR(pose_at(scene, z).forward.z, 1, 1e-3);
}

// Geometry: 50 mm / tan 35 degrees.
TEST(Camera, TheCounterRingIsWhereASeventyDegreeLensFirstSeesTheWall) {
  EXPECT_NEAR(reference_ring_ahead_m(0.05), 0.0714, 0.0001);
}

}  // namespace
}  // namespace haunch::scene
