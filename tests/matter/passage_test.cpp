// SPDX-License-Identifier: Apache-2.0
// What a thing in the bore leaves open, against plain geometry.
#include "matter/passage.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "scene/runs.hpp"

namespace haunch::matter {
namespace {

constexpr double bore_m = 0.15, about_m = bore_m / 30;

/// A flat sheet across the bore, from x0 to x1 and y0 to y1 off its middle.
Solid sheet(const scene::Scene& scene, double x0, double x1, double y0, double y1) {
  const scene::Vec2 c = scene::centre_at(scene, 2);
  SolidPart part;
  part.rows = part.columns = 2;
  for (const double y : {y0, y1})
    for (const double x : {x0, x1}) part.points.push_back({{c.x + x, c.y + y, 2}, {}});
  return {{part}, {}};
}

TEST(Passage, AnEmptyBoreIsOpenWhole) {
  const scene::Scene scene = scene::build_scene(scene::plain_run(4, 150));
  EXPECT_NEAR(widest_opening_m(scene, 2, {}), bore_m, about_m);
}

TEST(Passage, WhatFillsTheLowerPartLeavesTheRest) {
  const scene::Scene scene = scene::build_scene(scene::plain_run(4, 150));
  for (const double filled : {0.2, 0.5, 0.8}) {
    const Solid solid = sheet(scene, -1, 1, -1, bore_m * (filled - 0.5));
    EXPECT_NEAR(widest_opening_m(scene, 2, solid), bore_m * (1 - filled), about_m) << filled;
  }
  EXPECT_EQ(widest_opening_m(scene, 2, sheet(scene, -1, 1, -1, 1)), 0);
}

TEST(Passage, ABarThroughTheMiddleLeavesHalfOfWhatItDoesNotTake) {
  const scene::Scene scene = scene::build_scene(scene::plain_run(4, 150));
  const Solid bar = sheet(scene, -0.015, 0.015, -1, 1);
  EXPECT_NEAR(widest_opening_m(scene, 2, bar), (bore_m - 0.03) / 2, about_m);
}

TEST(Passage, AConnectionStandsInAsFarAsItSays) {
  const scene::Scene scene = scene::build_scene(scene::plain_run(4, 150));
  scene::Connection connection;
  connection.at_m = 2;
  connection.clock_h = 12;
  connection.bore_mm = 150;  // as wide as the pipe, so that nothing passes beside it
  EXPECT_TRUE(standing_in(scene, connection).parts.empty());
  connection.intrudes_percent = 60;
  EXPECT_NEAR(widest_opening_m(scene, 2, standing_in(scene, connection)), 0.4 * bore_m, about_m);
  connection.clock_h = 4;
  EXPECT_NEAR(widest_opening_m(scene, 2, standing_in(scene, connection)), 0.4 * bore_m, about_m);
}

}  // namespace
}  // namespace haunch::matter
