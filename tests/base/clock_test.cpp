// SPDX-License-Identifier: Apache-2.0
// Clock positions, checked against the geometry of a circle and by properties over random hours.
#include "base/clock.hpp"
#include "campaign.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace haunch::base {
namespace {

TEST(Clock, HoursWrapIntoTwelve) {
  EXPECT_DOUBLE_EQ(wrap_hours(0), 12);
  EXPECT_DOUBLE_EQ(wrap_hours(12), 12);
  EXPECT_DOUBLE_EQ(wrap_hours(13), 1);
  EXPECT_DOUBLE_EQ(wrap_hours(-1), 11);
  EXPECT_EQ(nearest_hour(12.4), 12);
  EXPECT_EQ(nearest_hour(12.5), 1);
  EXPECT_EQ(nearest_hour(0.2), 12);
  EXPECT_EQ(nearest_hour(3.5), 4);
}

TEST(Clock, DistanceIsTheShorterWay) {
  EXPECT_DOUBLE_EQ(hours_apart(11, 1), 2);
  EXPECT_DOUBLE_EQ(hours_apart(12, 6), 6);
  EXPECT_DOUBLE_EQ(hours_apart(3, 3), 0);
}

TEST(Clock, Arcs) {
  EXPECT_DOUBLE_EQ(arc_width_h({10, 2, false}), 4);
  EXPECT_DOUBLE_EQ(arc_width_h({12, 12, true}), 12);
  EXPECT_DOUBLE_EQ(arc_width_h({12, 12, false}), 0);
  EXPECT_TRUE(arc_contains({10, 2, false}, 12));
  EXPECT_FALSE(arc_contains({10, 2, false}, 6));
  EXPECT_DOUBLE_EQ(arc_overlap_h({10, 2, false}, {12, 4, false}), 2);
  EXPECT_DOUBLE_EQ(arc_overlap_h({10, 2, false}, {4, 8, false}), 0);
  EXPECT_DOUBLE_EQ(arc_overlap_h({10, 4, false}, {12, 12, true}), 6);
  EXPECT_DOUBLE_EQ(arc_overlap_h({8, 4, false}, {2, 10, false}), 4) << "both ends meet";
}

TEST(Clock, DegreesFromTheCrown) {
  EXPECT_DOUBLE_EQ(degrees_from_crown(12), 0);
  EXPECT_DOUBLE_EQ(degrees_from_crown(3), 90);
  EXPECT_DOUBLE_EQ(hours_from_degrees(180), 6);
  EXPECT_DOUBLE_EQ(hours_from_degrees(0), 12);
  EXPECT_DOUBLE_EQ(on_screen_hour(6, 30), 5);
  EXPECT_DOUBLE_EQ(on_screen_hour(12, -90), 3);
}

TEST(Clock, MirroringTwiceIsNothingAndKeepsWidths) {
  EXPECT_DOUBLE_EQ(mirrored(3), 9);
  EXPECT_DOUBLE_EQ(mirrored(12), 12);
  EXPECT_DOUBLE_EQ(mirrored(6), 6);
  Random random(3);
  for (int i = 0; i < campaign::rounds(500); ++i) {
    const ClockArc arc{wrap_hours(random.uniform(0, 12)), wrap_hours(random.uniform(0, 12)), false};
    const double hour = wrap_hours(random.uniform(0, 12));
    EXPECT_NEAR(arc_width_h(mirrored(arc)), arc_width_h(arc), 1e-9);
    EXPECT_EQ(arc_contains(mirrored(arc), mirrored(hour)), arc_contains(arc, hour));
    EXPECT_NEAR(hours_apart(mirrored(mirrored(hour)), hour), 0, 1e-9);
    EXPECT_LE(arc_overlap_h(arc, {hour, wrap_hours(hour + 3), false}), 3 + 1e-9);
  }
}

}  // namespace
}  // namespace haunch::base
