// SPDX-License-Identifier: Apache-2.0
// Welds that have opened, and their codes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scene/runs.hpp"
#include "truth/rows.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::FailedWeld;
using scene::WeldWay;
using testing::ElementsAre;

std::vector<Observation> written(const FailedWeld& weld, scene::End from = scene::End::start) {
  scene::Scenario scenario = scene::plain_run(10, 200, scene::Material::polyethylene);
  scenario.inspection.from = scenario.inspection.distance_zero = from;
  scene::add(scenario, weld);
  return truth_test::rows_of(scenario);
}

TEST(WeldCodes, RoundThePipeIsAPointAtTheWeldWithItsArc) {
  const double weld_m = scene::build_scene(scene::plain_run(10, 200, scene::Material::polyethylene)).joints[2].at_m;
  const auto down = written({weld_m + 0.02, weld_m + 0.02, {10, 2, false}, WeldWay::around, 4});
  ASSERT_THAT(truth_test::codes_of(down), ElementsAre("BAM B"));
  EXPECT_NEAR(*down[0].distance_m.value, weld_m, 0.006);
  EXPECT_EQ(down[0].clock_from, 10);
  EXPECT_EQ(down[0].clock_to, 2);
  EXPECT_FALSE(down[0].at_joint);  // the list knows no joint for it
  const auto up = written({weld_m, weld_m, {7, 10, false}, WeldWay::around, 4}, scene::End::end);
  ASSERT_THAT(truth_test::codes_of(up), ElementsAre("BAM B"));
  EXPECT_NEAR(*up[0].distance_m.value, 10 - weld_m, 0.006);
  EXPECT_EQ(up[0].clock_from, 2);
  EXPECT_EQ(up[0].clock_to, 5);
}

TEST(WeldCodes, ALongSeamHasAnHourAndASpiralNone) {
  const auto along = written({4, 4.2, {10, 10, false}, WeldWay::along, 3});
  ASSERT_THAT(truth_test::codes_of(along), ElementsAre("BAM A"));
  EXPECT_EQ(along[0].clock_from, 10);
  EXPECT_FALSE(along[0].clock_to.has_value());
  const auto far = written({4, 5.5, {10, 10, false}, WeldWay::along, 3}, scene::End::end);
  ASSERT_THAT(truth_test::codes_of(far), ElementsAre("BAM A", "BAM A"));
  EXPECT_EQ(far[0].stretch, "A1");
  EXPECT_EQ(far[1].stretch, "B1");
  EXPECT_EQ(far[0].clock_from, 2);
  const auto spiral = written({4, 4.2, {7, 4, false}, WeldWay::spiral, 3});
  ASSERT_THAT(truth_test::codes_of(spiral), ElementsAre("BAM C"));
  EXPECT_FALSE(spiral[0].clock_from.has_value());
}

}  // namespace
}  // namespace haunch::truth
