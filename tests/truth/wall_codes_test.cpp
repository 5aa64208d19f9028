// SPDX-License-Identifier: Apache-2.0
// What is wrong with the wall's surface: letters, clocks and reasons, from both ends.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "coding/code_list.hpp"
#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::DamageCause;
using scene::DamageForm;
using scene::SurfaceDamage;
using testing::ElementsAre;
using testing::HasSubstr;

std::vector<Observation> written(scene::FaultKind kind, scene::Scenario scenario = scene::plain_run()) {
  scene::add(scenario, std::move(kind));
  return truth_test::rows_of(scenario);
}

TEST(SurfaceDamageCodes, EachFormAndCauseHasItsLetters) {
  const auto code = [](DamageForm form, DamageCause cause) {
    return truth_test::codes_of(written(SurfaceDamage{2.4, 2.6, {10, 2, false}, form, cause, 0})).front();
  };
  EXPECT_EQ(code(DamageForm::rougher, DamageCause::worn), "BAF A A");
  EXPECT_EQ(code(DamageForm::spalled, DamageCause::unclear), "BAF B E");
  EXPECT_EQ(code(DamageForm::stones_showing, DamageCause::chemical_above), "BAF C C");
  EXPECT_EQ(code(DamageForm::stones_out, DamageCause::chemical_below), "BAF D D");
  EXPECT_EQ(code(DamageForm::stones_gone, DamageCause::chemical), "BAF E B");
  EXPECT_EQ(code(DamageForm::steel_showing, DamageCause::worn), "BAF F A");
  EXPECT_EQ(code(DamageForm::steel_out, DamageCause::worn), "BAF G A");
  EXPECT_EQ(code(DamageForm::steel_corroded, DamageCause::chemical), "BAF H B");
  EXPECT_EQ(code(DamageForm::rust, DamageCause::unclear), "BAF J E");
  EXPECT_EQ(code(DamageForm::blister, DamageCause::unclear), "BAF K E");
  EXPECT_EQ(code(DamageForm::dent, DamageCause::worn), "BAF K A");
}

TEST(SurfaceDamageCodes, AStretchBeginsAndEndsAndItsClockTurnsWithTheView) {
  const SurfaceDamage damage{2.2, 4.2, {8, 11, false}, DamageForm::stones_out, DamageCause::worn, 0};
  const auto rows = written(damage);
  ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BAF D A", "BAF D A"));
  EXPECT_EQ(rows[0].stretch, "A1");
  EXPECT_EQ(rows[1].stretch, "B1");
  EXPECT_EQ(rows[0].clock_from, 8);
  EXPECT_EQ(rows[0].clock_to, 11);
  EXPECT_FALSE(rows[0].q1.value) << "no size is known to the code";
  EXPECT_THAT(rows[0].reason, HasSubstr("stones of the concrete stand out"));
  EXPECT_THAT(rows[0].reason, HasSubstr("worn mechanically -> A"));
  scene::Scenario up = scene::plain_run();
  up.inspection.from = up.inspection.distance_zero = scene::End::end;
  const auto back = written(damage, up);
  ASSERT_EQ(back.size(), 2U);
  EXPECT_EQ(back[0].clock_from, 1);
  EXPECT_EQ(back[0].clock_to, 4);
  EXPECT_NEAR(*back[0].distance_m.value, up.length_m - 4.2, 1e-9);
}

// Where the wall is gone one sees what lies behind.
TEST(SurfaceDamageCodes, WallThatIsGoneShowsTheSoil) {
  const auto rows =
      written(SurfaceDamage{2.4, 2.6, {5, 7, false}, DamageForm::wall_gone, DamageCause::chemical_below, 0});
  ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BAF I D", "BAO"));
  EXPECT_EQ(rows[1].clock_from, 5);
  EXPECT_EQ(rows[1].clock_to, 7);
  EXPECT_THAT(rows[1].reason, HasSubstr("soil shows"));
}

TEST(MissingMortarCodes, FromTheDepthThatCounts) {
  const Rules& rules = shipped_rules();
  const auto rows = written(scene::MissingMortar{3.02, {9, 3, false}, 12});
  ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BAE"));
  EXPECT_EQ(rows[0].q1.value, 12);
  EXPECT_EQ(rows[0].clock_from, 9);
  EXPECT_EQ(rows[0].clock_to, 3);
  EXPECT_EQ(rows[0].distance_m, coding::Number(3)) << "where the joint is";
  EXPECT_THAT(rows[0].reason, HasSubstr("empty of mortar 12 mm deep"));
  EXPECT_TRUE(written(scene::MissingMortar{3, {9, 3, false}, rules.mortar_gone_from_mm - 0.6}).empty());
  EXPECT_EQ(written(scene::MissingMortar{3, {9, 3, false}, rules.mortar_gone_from_mm - 0.4}).size(), 1U);
}

TEST(WetWallCodes, PoresAndSweat) {
  const auto porous = written(scene::PorousWall{2.2, 4, {10, 2, false}});
  ASSERT_THAT(truth_test::codes_of(porous), ElementsAre("BAN", "BAN"));
  EXPECT_EQ(porous[0].stretch, "A1");
  EXPECT_EQ(porous[0].clock_from, 10);
  const auto sweating = written(scene::SweatingWall{2.4, 2.6, {1, 5, false}});
  ASSERT_THAT(truth_test::codes_of(sweating), ElementsAre("BBF A"));
  EXPECT_EQ(sweating[0].clock_from, 1);
  EXPECT_EQ(sweating[0].clock_to, 5);
  EXPECT_THAT(sweating[0].reason, HasSubstr("does not drip"));
  scene::Scenario up = scene::plain_run();
  up.inspection.from = up.inspection.distance_zero = scene::End::end;
  EXPECT_EQ(written(scene::SweatingWall{2.4, 2.6, {1, 5, false}}, up)[0].clock_from, 7);
}

TEST(CrackCodes, SpiralsAndStars) {
  using scene::Crack;
  using scene::CrackForm;
  EXPECT_THAT(truth_test::codes_of(written(Crack{2.2, 2.45, {9, 5, false}, CrackForm::spiral, 2})), ElementsAre("BAB C D"));
  const auto star = written(Crack{2.5, 2.5, {1, 4, false}, CrackForm::star, 0.6});
  ASSERT_THAT(truth_test::codes_of(star), ElementsAre("BAB B E"));
  EXPECT_EQ(star[0].clock_from, 1);
  EXPECT_EQ(star[0].clock_to, 4);
  EXPECT_THAT(star[0].reason, HasSubstr("spreads from one point -> E"));
}

}  // namespace
}  // namespace haunch::truth
