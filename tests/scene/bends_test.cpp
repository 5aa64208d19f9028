// SPDX-License-Identifier: Apache-2.0
// Bends within units: where they take the line, held against adding up small steps of our own.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scene/runs.hpp"

namespace haunch::scene {
namespace {

Scene bent(Bend bend, double joint_bend_deg = 0) {
  Scenario scenario = plain_run(10, 150);
  add(scenario, bend);
  if (joint_bend_deg > 0) add(scenario, JointBend{2, joint_bend_deg, 9});
  return build_scene(scenario);
}

TEST(Bend, TakesTheLineWhereSmallStepsAddUpTo) {
  const Scene straight = build_scene(plain_run(10, 150));
  for (const double hour : {3.0, 9.0, 12.0, 1.5}) {
    const Scene scene = bent({3.3, 5.1, 12, hour});
    double off = 0;
    constexpr double step = 1e-4;
    int checked = 0;
    for (double z = 0; z < 10 - step; z += step) {
      if (checked * 0.5 <= z) {
        const Vec2 aside = centre_at(scene, z) - centre_at(straight, z);
        // Straight pieces cut the corner of the curve by a hair.
        EXPECT_NEAR(length(aside - off * toward_clock(hour)), 0, 1e-4) << z;
        ++checked;
      }
      const double turned = 12 * std::clamp((z + step / 2 - 3.3) / 1.8, 0.0, 1.0) * std::numbers::pi / 180;
      off += step * std::tan(turned);
    }
    EXPECT_GT(checked, 18);
  }
}

TEST(Bend, TurnsNoPieceByMuchAndOpensNoJoint) {
  const Scene scene = bent({3.3, 5.1, 15, 4});
  for (std::size_t i = 1; i < scene.pieces.size(); ++i) {
    const Piece &a = scene.pieces[i - 1], &b = scene.pieces[i];
    EXPECT_EQ(a.to_m, b.from_m);
    EXPECT_LT(length(b.from_centre - a.to_centre), 1e-12);
    const Vec2 before = 1 / (a.to_m - a.from_m) * (a.to_centre - a.from_centre);
    const Vec2 after = 1 / (b.to_m - b.from_m) * (b.to_centre - b.from_centre);
    EXPECT_LT(length(after - before), 0.3 * std::numbers::pi / 180) << a.to_m;
    EXPECT_TRUE(b.round());
    EXPECT_EQ(b.curved, b.from_m > 3.3 - 1e-9 && b.to_m < 5.1 + 1e-9) << b.from_m;
  }
  EXPECT_EQ(scene.joints.size(), build_scene(plain_run(10, 150)).joints.size());
}

TEST(Bend, AddsToABendAtAJoint) {
  const Scene scene = bent({3.3, 5.1, 5, 3}, 4);
  const Vec2 slope = centre_at(scene, 9.5) - centre_at(scene, 8.5);
  EXPECT_NEAR(slope.x, std::tan(5 * std::numbers::pi / 180) - std::tan(4 * std::numbers::pi / 180), 1e-9);
}

TEST(Bend, OfNothingIsTheStraightRun) {
  const Scene none = bent({3.3, 5.1, 0, 3}), straight = build_scene(plain_run(10, 150));
  ASSERT_EQ(none.pieces.size(), straight.pieces.size());
  for (double z = 0; z < 10; z += 0.17) EXPECT_EQ(centre_at(none, z), centre_at(straight, z));
}

}  // namespace
}  // namespace haunch::scene
