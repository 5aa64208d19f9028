// SPDX-License-Identifier: Apache-2.0
// Things and water in the bore, broken walls, hanging rings: their codes, both ways, and what hides them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::ObstacleForm;
using testing::HasSubstr;

const base::ClockArc nowhere{12, 12, true};

struct Written {
  std::vector<Observation> rows;
  coding::Record record;
};
Written written(std::vector<scene::FaultKind> kinds, scene::Scenario scenario = scene::plain_run(10, 150)) {
  for (scene::FaultKind& kind : kinds) scene::add(scenario, std::move(kind));
  Written out;
  out.record = derive(scene::build_scene(scenario)).record;
  for (const Observation& row : out.record.observations)
    if (row.code != "BCD" && row.code != "BCE") out.rows.push_back(row);
  return out;
}
Observation first(scene::FaultKind kind) {
  const Written all = written({std::move(kind)});
  return all.rows.empty() ? Observation{} : all.rows.front();
}

struct Kind {
  ObstacleForm form;
  base::ClockArc arc;
  const char* code;
};
class Obstacles : public testing::TestWithParam<Kind> {};
TEST_P(Obstacles, HaveTheirLetterAndTheShareOfTheBore) {
  const Kind& kind = GetParam();
  const Observation row = first(scene::Obstacle{4, kind.form, kind.arc, 12.4});
  EXPECT_EQ(coding::show_code(row), kind.code);
  EXPECT_EQ(row.q1.value, 12);
  EXPECT_TRUE(row.clock_from && row.clock_to) << row.reason;
  EXPECT_THAT(row.reason, HasSubstr("12 %"));
  EXPECT_TRUE(row.at_joint);
}
INSTANTIATE_TEST_SUITE_P(Forms, Obstacles,
                         testing::Values(Kind{ObstacleForm::brick, nowhere, "BBE A"},
                                         Kind{ObstacleForm::pipe_pieces, nowhere, "BBE B"},
                                         Kind{ObstacleForm::bottle, nowhere, "BBE C"},
                                         Kind{ObstacleForm::rag, nowhere, "BBE C"},
                                         Kind{ObstacleForm::ball, nowhere, "BBE C"},
                                         Kind{ObstacleForm::timber, nowhere, "BBE C"},
                                         Kind{ObstacleForm::through_wall, {2, 2, false}, "BBE D"},
                                         Kind{ObstacleForm::in_joint, {10, 10, false}, "BBE E"},
                                         Kind{ObstacleForm::from_connection, nowhere, "BBE F"},
                                         Kind{ObstacleForm::crossing, {9, 3, false}, "BBE G"},
                                         Kind{ObstacleForm::built_in, {12, 12, false}, "BBE H"},
                                         Kind{ObstacleForm::jammed, nowhere, "BBE Z"}));

TEST(Obstacles, WhatCrossesMayBeGasWhateverItsColour) {
  for (std::uint64_t seed = 1; seed < 6; ++seed) {
    scene::Scenario scenario = scene::plain_run(10, 150);
    scenario.seed = seed;
    const auto rows =
        written({scene::Obstacle{4.4, ObstacleForm::crossing, {9, 3, false}, 16}}, scenario).rows;
    ASSERT_EQ(rows.size(), 1U);
    EXPECT_THAT(rows[0].reason, HasSubstr("may be a gas pipe"));
    EXPECT_THAT(rows[0].reason, HasSubstr("nobody cuts or jets"));
  }
  EXPECT_THAT(first(scene::Obstacle{4.4, ObstacleForm::through_wall, {2, 2, false}, 8}).reason,
              HasSubstr("may be a gas pipe"));
}

TEST(Obstacles, TurningRoundMirrorsTheClock) {
  scene::Scenario up = scene::plain_run(10, 150);
  up.inspection.from = scene::End::end;
  const scene::Obstacle pipe{4.4, ObstacleForm::crossing, {8, 3, false}, 16};
  const auto down_rows = written({pipe}).rows, up_rows = written({pipe}, up).rows;
  ASSERT_EQ(down_rows.size(), 1U);
  ASSERT_EQ(up_rows.size(), 1U);
  EXPECT_EQ(down_rows[0].clock_from, 8);
  EXPECT_EQ(down_rows[0].clock_to, 3);
  EXPECT_EQ(up_rows[0].clock_from, 9);
  EXPECT_EQ(up_rows[0].clock_to, 4);
}

TEST(Obstacles, ABrickDeepUnderCloudyWaterIsNotVisible) {
  const auto hidden_in = [](double depth_mm) {
    scene::Scene run = scene::run_under_water(150, depth_mm);
    run.scenario.water = scene::WaterLook::cloudy;
    scene::add(run.scenario, scene::Obstacle{2.4, ObstacleForm::brick, nowhere, 10});
    for (const auto& row : derive(run).record.not_visible)
      if (row.why.find("cloudy water") != std::string::npos) return true;
    return false;
  };
  EXPECT_FALSE(hidden_in(20));
  EXPECT_TRUE(hidden_in(110));
}

TEST(SoilAndWater, HaveTheirLettersAndTheClockWhereTheyComeIn) {
  const Observation sand = first(scene::SoilIngress{4, {2, 2, false}, scene::SoilKind::sand, 9});
  EXPECT_EQ(coding::show_code(sand), "BBD A");
  EXPECT_EQ(sand.q1.value, 9);
  EXPECT_EQ(sand.clock_from, 2);
  EXPECT_TRUE(sand.at_joint);
  EXPECT_EQ(coding::show_code(first(scene::SoilIngress{4, {2, 2, false}, scene::SoilKind::peat, 9})),
            "BBD B");
  EXPECT_EQ(coding::show_code(first(scene::SoilIngress{4, {2, 2, false}, scene::SoilKind::fine, 9})),
            "BBD C");
  EXPECT_EQ(coding::show_code(first(scene::SoilIngress{4, {2, 2, false}, scene::SoilKind::gravel, 9})),
            "BBD D");
  EXPECT_EQ(coding::show_code(first(scene::Infiltration{4, {11, 11, false}, scene::WaterRate::drips})),
            "BBF B");
  EXPECT_EQ(coding::show_code(first(scene::Infiltration{4, {11, 11, false}, scene::WaterRate::flows})),
            "BBF C");
  EXPECT_EQ(coding::show_code(first(scene::Infiltration{4, {11, 11, false}, scene::WaterRate::gushes})),
            "BBF D");
}

TEST(BrokenWalls, PiecesFarEnoughApartShowTheGround) {
  const auto codes = [](double moved_mm) {
    std::vector<std::string> all;
    for (const Observation& row : written({scene::BrokenWall{4.5, 2, 160, 90, moved_mm, false, 0}}).rows)
      all.push_back(coding::show_code(row));
    return all;
  };
  const double shows = shipped_rules().soil_shows_from_mm;
  EXPECT_THAT(codes(shows - 1), testing::ElementsAre("BAC A"));
  EXPECT_THAT(codes(shows), testing::ElementsAre("BAC A", "BAO"));
}

TEST(BrokenWalls, WhatHasFallenInHasNoLength) {
  const auto rows = written({scene::BrokenWall{4.5, 12, 300, 200, 0, true, 60}}).rows;
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(coding::show_code(rows[0]), "BAC C");
  EXPECT_TRUE(rows[0].q1.empty());
  EXPECT_EQ(coding::show_code(rows[1]), "BAO");
}

TEST(BrokenWalls, DarknessBehindAHoleIsAVoid) {
  const auto rows = written({scene::Hole{4.5, 2, 80, 60, scene::Behind::nothing}}).rows;
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(coding::show_code(rows[1]), "BAP");
  EXPECT_THAT(rows[1].reason, HasSubstr("nobody jets"));
}

TEST(VerminInThePipe, AreCounted) {
  const Observation rats = first(scene::Vermin{4.5, scene::VerminKind::rat, 2});
  EXPECT_EQ(coding::show_code(rats), "BBH A A");
  EXPECT_EQ(rats.q1.value, 2);
  EXPECT_EQ(coding::show_code(first(scene::Vermin{4.5, scene::VerminKind::cockroach, 5})), "BBH B A");
}

TEST(SealingRings, TheLowestPointDecides) {
  const auto code = [](double hangs_mm, bool torn) {
    return coding::show_code(first(scene::SealingRing{4, {10, 2, false}, hangs_mm, torn}));
  };
  EXPECT_EQ(code(0, false), "BAI A A");
  EXPECT_EQ(code(40, false), "BAI A B");
  EXPECT_EQ(code(100, false), "BAI A C");
  EXPECT_EQ(code(60, true), "BAI A D");
  const Observation ring = first(scene::SealingRing{4.02, {10, 2, false}, 40, false});
  EXPECT_TRUE(ring.at_joint);
  EXPECT_EQ(ring.distance_m, coding::Number(4));
  EXPECT_FALSE(ring.q1.empty());
}

}  // namespace
}  // namespace haunch::truth
