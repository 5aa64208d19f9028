// SPDX-License-Identifier: Apache-2.0
// What runs in by a connection runs on down the run. Checks are ours.
#include <gtest/gtest.h>

#include "scene/runs.hpp"
#include "scene/water_of_run.hpp"

namespace haunch::scene {
namespace {

Connection bringing(double flow_l_s, double at_m) {
  Connection connection{at_m, 2, 75, Fitting::branch, 0, false};
  connection.flow_l_s = flow_l_s;
  return connection;
}
double depth_at(const Scene& scene, double z) { return level_at(scene.water, z) - invert_at(scene, z); }

TEST(IncomingFlow, WetsADryRunBelowItAndBacksUpALittle) {
  Scenario scenario = plain_run(10, 100);
  add(scenario, bringing(0.3, 4.5));
  const Scene scene = build_scene(scenario);
  // It backs up to where the invert is as high, and is not taken for water that lies there.
  EXPECT_LT(depth_at(scene, 2.5), 0);
  for (const WaterReach& reach : scene.water.reaches) EXPECT_FALSE(reach.standing);
  const double expected = 0.1 * depth_share_for_flow(0.1, 0.0003, 0.01, 0.013);
  EXPECT_NEAR(depth_at(scene, 4.7), expected, 1e-4);
  EXPECT_NEAR(depth_at(scene, 9.5), expected, 1e-4);
}

TEST(IncomingFlow, AddsToWhatRunsAndToWhatCameInBefore) {
  Scenario scenario = plain_run(10, 100);
  scenario.flow_l_s = 0.2;
  add(scenario, bringing(0.5, 6.5));
  add(scenario, bringing(0.3, 2.5));
  EXPECT_DOUBLE_EQ(flow_at_l_s(scenario, 2), 0.2);
  EXPECT_DOUBLE_EQ(flow_at_l_s(scenario, 5), 0.5);
  EXPECT_DOUBLE_EQ(flow_at_l_s(scenario, 8), 1.0);
  const Scene scene = build_scene(scenario);
  const auto expected = [](double flow_m3_s) {
    return 0.1 * depth_share_for_flow(0.1, flow_m3_s, 0.01, 0.013);
  };
  EXPECT_NEAR(depth_at(scene, 1), expected(0.0002), 1e-4);
  EXPECT_NEAR(depth_at(scene, 5), expected(0.0005), 1e-4);
  EXPECT_NEAR(depth_at(scene, 9), expected(0.0010), 1e-4);
}

TEST(IncomingFlow, LeavesTheRunAsItWasWhereNothingComes) {
  Scenario scenario = plain_run(10, 100);
  scenario.flow_l_s = 0.2;
  const Scene before = build_scene(scenario);
  add(scenario, bringing(0, 4.5));
  const Scene after = build_scene(scenario);
  EXPECT_EQ(after.pieces.size(), before.pieces.size());
  EXPECT_DOUBLE_EQ(depth_at(after, 6), depth_at(before, 6));
}

}  // namespace
}  // namespace haunch::scene
