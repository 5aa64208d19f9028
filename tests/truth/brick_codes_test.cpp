// SPDX-License-Identifier: Apache-2.0
// What is written of brickwork: letters, sizes, and the clock and length of the bricks that are out, from
// both ends.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::BehindBricks;
using scene::BrickDamage;
using scene::BrickForm;
using testing::ElementsAre;
using testing::HasSubstr;

scene::Scenario brickwork(bool up = false) {
  scene::Scenario scenario = scene::plain_run(10, 300, scene::Material::brick);
  if (up) scenario.inspection.from = scenario.inspection.distance_zero = scene::End::end;
  return scenario;
}

std::vector<Observation> written(scene::FaultKind kind, scene::Scenario scenario = brickwork()) {
  scene::add(scenario, std::move(kind));
  return truth_test::rows_of(scenario);
}

// Twelve courses go round 300 mm: an hour each.
TEST(BrickCodes, EachFormHasItsLettersAndItsSize) {
  const base::ClockArc arc{9, 11, false};
  const auto moved = written(BrickDamage{BrickForm::displaced, 4.05, 4.25, arc, 22});
  ASSERT_THAT(truth_test::codes_of(moved), ElementsAre("BAD A"));
  EXPECT_EQ(moved[0].clock_from, 9);
  EXPECT_EQ(moved[0].clock_to, 11);
  EXPECT_FALSE(moved[0].q1.value);
  EXPECT_THAT(moved[0].reason, HasSubstr("up to 22 mm"));
  const auto course = written(BrickDamage{BrickForm::missing, 4.05, 4.25, arc, 0, BehindBricks::course});
  ASSERT_THAT(truth_test::codes_of(course), ElementsAre("BAD B A"));
  EXPECT_THAT(course[0].reason, HasSubstr("another course shows behind"));
  EXPECT_THAT(truth_test::codes_of(written(BrickDamage{BrickForm::missing, 4.05, 4.25, arc, 0, BehindBricks::nothing})),
              ElementsAre("BAD B B"));
  const auto dropped = written(BrickDamage{BrickForm::invert_dropped, 4.05, 4.25, {5, 7, false}, 34.6});
  ASSERT_THAT(truth_test::codes_of(dropped), ElementsAre("BAD C"));
  EXPECT_EQ(dropped[0].q1.value, 35);
  const auto down =
      written(BrickDamage{BrickForm::collapsed, 4.05, 4.25, {11, 1, false}, 0, BehindBricks::course, 30});
  ASSERT_THAT(truth_test::codes_of(down), ElementsAre("BAD D", "BAO"));
  EXPECT_THAT(down[0].reason, HasSubstr("30 %"));
}

TEST(BrickCodes, AStretchReachesAsFarAsWholeBricks) {
  // Between 3.05 and 4.95 lie the middles of rows from 3.0 to 5.0 in even courses, from 3.1 to 4.9 in odd
  // ones.
  const BrickDamage damage{BrickForm::displaced, 3.05, 4.95, {8, 10, false}, 15};
  const auto rows = written(damage);
  ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BAD A", "BAD A"));
  EXPECT_EQ(rows[0].stretch, "A1");
  EXPECT_NEAR(*rows[0].distance_m.value, 3.0, 0.011);
  EXPECT_NEAR(*rows[1].distance_m.value, 5.0, 0.011);
  const auto back = written(damage, brickwork(true));
  ASSERT_EQ(back.size(), 2U);
  EXPECT_NEAR(*back[0].distance_m.value, 5.0, 0.011);
  EXPECT_EQ(back[0].clock_from, 2);
  EXPECT_EQ(back[0].clock_to, 4);
}

TEST(BrickCodes, MortarGoesFromAStretch) {
  const auto rows = written(scene::MissingMortar{5, {9, 3, false}, 14, 1.2});
  ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BAE", "BAE"));
  EXPECT_EQ(rows[0].q1.value, 14);
  EXPECT_NEAR(*rows[0].distance_m.value, 4.4, 1e-9);
  EXPECT_NEAR(*rows[1].distance_m.value, 5.6, 1e-9);
  EXPECT_THAT(rows[0].reason, HasSubstr("between the bricks"));
}

}  // namespace
}  // namespace haunch::truth
