// SPDX-License-Identifier: Apache-2.0
// Places that were mended, how that went wrong, and water that leaves: their codes and measures.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "matter/coat.hpp"
#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::FaultKind;
using scene::FoldWay;
using scene::Repair;
using scene::RepairFlaw;
using scene::RepairForm;
using testing::ElementsAre;
using testing::HasSubstr;

const base::ClockArc all_round{12, 12, true};

std::vector<Observation> written(std::vector<FaultKind> kinds, bool upstream = false,
                                 scene::Scenario scenario = scene::plain_run()) {
  if (upstream) scenario.inspection.from = scenario.inspection.distance_zero = scene::End::end;
  for (FaultKind& kind : kinds) scene::add(scenario, std::move(kind));
  return truth_test::rows_of(scenario);
}
TEST(RepairCodes, APatchIsAtItsHole) {
  for (const bool upstream : {false, true}) {
    const auto rows =
        written({Repair{4.4, 4.4, RepairForm::patch, {2, 2, false}, 70, 50, RepairFlaw::none}}, upstream);
    ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BCB E"));
    EXPECT_DOUBLE_EQ(rows[0].distance_m.value.value(), upstream ? 5.6 : 4.4);
    EXPECT_EQ(rows[0].clock_from, upstream ? 9 : 1);
    EXPECT_EQ(rows[0].clock_to, upstream ? 11 : 3);
    EXPECT_FALSE(rows[0].at_joint);
  }
}

TEST(RepairCodes, EachFlawHasItsLetter) {
  struct Case {
    RepairFlaw flaw;
    const char* code;
    double q1;
  };
  for (const Case& c : {Case{RepairFlaw::wall_missing, "BAL A", -1},
                        Case{RepairFlaw::poor_patch, "BAL B", -1}, Case{RepairFlaw::come_away, "BAL C", -1},
                        Case{RepairFlaw::not_reaching, "BAL D", -1}, Case{RepairFlaw::excess, "BAL E", 8},
                        Case{RepairFlaw::holed, "BAL F", -1}, Case{RepairFlaw::cracked, "BAL G C", 3}}) {
    Repair repair{4.4, 4.4, RepairForm::patch, {2, 2, false}, 70, 50, c.flaw};
    if (c.flaw == RepairFlaw::excess) repair.takes_percent = 8.3;
    if (c.flaw == RepairFlaw::cracked) repair.crack_mm = 2.8, repair.way = FoldWay::several;
    const auto rows = written({repair});
    ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BCB E", c.code));
    EXPECT_EQ(rows[1].q1.value.value_or(-1), c.q1) << c.code;
    EXPECT_EQ(rows[1].clock_from, 1) << c.code;
    EXPECT_THAT(rows[1].reason, HasSubstr("-> BAL")) << c.code;
  }
}

TEST(RepairCodes, WhatIsInAJointIsAtTheJoint) {
  const auto mortar = written({Repair{4.02, 4.02, RepairForm::mortar_in_joint, {4, 9, false}}});
  ASSERT_THAT(truth_test::codes_of(mortar), ElementsAre("BCB C"));
  EXPECT_DOUBLE_EQ(mortar[0].distance_m.value.value(), 4);
  EXPECT_EQ(mortar[0].clock_from, 4);
  EXPECT_EQ(mortar[0].clock_to, 9);
  EXPECT_TRUE(mortar[0].at_joint);
  EXPECT_THAT(
      truth_test::codes_of(written({Repair{4, 4, RepairForm::sealant_in_joint, all_round, 0, 0, RepairFlaw::excess, 5}})),
      ElementsAre("BCB D", "BAL E"));
}

TEST(RepairCodes, AConnectionIsMendedAtItsClock) {
  for (const auto& [form, code] : {std::pair{RepairForm::connection_lining, "BCB F"},
                                   std::pair{RepairForm::connection_mortar, "BCB G"}}) {
    const auto rows = written({scene::Connection{4.5, 10, 60, scene::Fitting::cut_in, 0, false},
                               Repair{4.5, 4.5, form, all_round}});
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(coding::show_code(rows[1]), code);
    EXPECT_EQ(rows[1].clock_from, 10);
  }
}

TEST(RepairCodes, AReplacedPieceIsAStretch) {
  scene::Scenario scenario = scene::plain_run();
  scene::Section piece = scenario.sections[0], after = piece;
  scenario.sections[0].to_m = 3;
  piece.from_m = 3, piece.to_m = 5, piece.material = scene::Material::pvc, piece.colour = "grey";
  after.from_m = 5;
  scenario.sections.push_back(piece), scenario.sections.push_back(after);
  const auto rows = written({Repair{3, 5, RepairForm::pipe_replaced, all_round}}, false, scenario);
  EXPECT_THAT(truth_test::codes_of(rows), ElementsAre("AED AX", "BCB A", "AED AE", "BCB A"));
}

TEST(RepairShapes, TakeTheStatedShareOfTheBore) {
  for (const double percent : {4.0, 12.0}) {
    scene::Scenario scenario = scene::plain_run();
    const Repair patch{4.4, 4.4, RepairForm::patch, {2, 2, false}, 70, 50, RepairFlaw::excess, percent},
        sealant{4, 4, RepairForm::sealant_in_joint, {9, 3, false}, 0, 0, RepairFlaw::excess, percent};
    scene::add(scenario, patch);
    scene::add(scenario, sealant);
    const scene::Scene run = scene::build_scene(scenario);
    EXPECT_NEAR(matter::share_taken(run, patch, 1), percent / 100, 0.003);
    EXPECT_NEAR(matter::share_taken(run, sealant, 2), percent / 100, 0.003);
  }
}

TEST(ExfiltrationCodes, HaveTheirClock) {
  scene::Scenario scenario = scene::plain_run();
  scenario.flow_l_s = 0.004;
  for (const bool upstream : {false, true}) {
    const auto rows = written({scene::Exfiltration{4, {5, 5, false}, 60}}, upstream, scenario);
    ASSERT_THAT(truth_test::codes_of(rows), ElementsAre("BBG"));
    EXPECT_EQ(rows[0].clock_from, upstream ? 7 : 5);
    EXPECT_TRUE(rows[0].at_joint);
    EXPECT_THAT(rows[0].reason, HasSubstr("60 %"));
  }
}

TEST(ExfiltrationWater, DipsAndIsLessFromThereOn) {
  scene::Scenario scenario = scene::plain_run();
  scenario.flow_l_s = 0.4;
  const auto depth = [](const scene::Scene& run, double z) {
    return scene::level_at(run.water, z) - scene::invert_at(run, z);
  };
  const scene::Scene plain = scene::build_scene(scenario);
  scene::add(scenario, scene::Exfiltration{4.5, {6, 6, false}, 60});
  const scene::Scene leaky = scene::build_scene(scenario);
  scenario.faults.clear();
  scenario.flow_l_s = 0.4 * 0.4;
  const scene::Scene less = scene::build_scene(scenario);
  EXPECT_NEAR(depth(leaky, 3), depth(plain, 3), 1e-9);
  EXPECT_NEAR(depth(leaky, 6), depth(less, 6), 1e-6);
  EXPECT_NEAR(depth(leaky, 4.5), depth(less, 4.5), 2e-4);
  EXPECT_GT(depth(leaky, 4.4), depth(leaky, 4.49) + 0.0005);
  scenario.flow_l_s = 0.4;
  scene::add(scenario, scene::Exfiltration{4.5, {6, 6, false}, 100});
  EXPECT_LT(depth(scene::build_scene(scenario), 6), 1e-6);
}

}  // namespace
}  // namespace haunch::truth
