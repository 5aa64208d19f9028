// SPDX-License-Identifier: Apache-2.0
// Each fault kind gives its codes, numbers, clocks and a reason that names the measure.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <optional>

#include "base/words.hpp"
#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using testing::HasSubstr;

/// What truth writes beside the nodes for one fault in ten metres of dry clay.
std::vector<Observation> written(scene::FaultKind kind, scene::Scenario scenario = scene::plain_run()) {
  scene::add(scenario, std::move(kind));
  return truth_test::rows_of(scenario);
}

Observation only(scene::FaultKind kind) {
  const auto rows = written(std::move(kind));
  EXPECT_EQ(rows.size(), 1U);
  return rows.empty() ? Observation{} : rows.front();
}

void expect_row(const Observation& row, const std::string& code, std::optional<double> q1,
                std::optional<int> from, std::optional<int> to, bool at_joint) {
  EXPECT_EQ(coding::show_code(row), code);
  EXPECT_EQ(row.q1.value, q1) << code;
  EXPECT_EQ(row.clock_from, from) << code;
  EXPECT_EQ(row.clock_to, to) << code;
  EXPECT_EQ(row.at_joint, at_joint) << code;
  EXPECT_FALSE(row.reason.empty()) << code;
}

TEST(FaultCodes, DisplacedJoints) {
  const Observation gap = only(scene::JointGap{3, 18});
  expect_row(gap, "BAJ A", 18, {}, {}, true);
  EXPECT_THAT(gap.reason, HasSubstr("18 mm apart"));
  expect_row(only(scene::JointShift{3, 9.4, 5}), "BAJ B", 9, 5, {}, true);
  expect_row(only(scene::JointBend{3, 2.6, 9}), "BAJ C", 3, 9, {}, true);
}

std::vector<std::string> codes_of(const std::vector<Observation>& rows) {
  std::vector<std::string> codes;
  for (const Observation& row : rows)
    if (row.stretch.substr(0, 1) != "B") codes.push_back(coding::show_code(row));
  return codes;
}

TEST(FaultCodes, AFlexiblePipeSquashedOrSqueezedIsDeformedAndNoMore) {
  for (const bool vertical : {true, false})
    for (const scene::End from : {scene::End::start, scene::End::end}) {
      scene::Scenario pvc = scene::plain_run(10, 150, scene::Material::pvc);
      pvc.inspection.from = pvc.inspection.distance_zero = from;
      const auto rows = written(scene::Squashed{3, 5.5, vertical, 7.4}, pvc);
      ASSERT_EQ(rows.size(), 2U) << "a stretch begins and ends";
      expect_row(rows[0], vertical ? "BAA A" : "BAA B", 7, {}, {}, false);
      EXPECT_THAT(rows[0].reason, HasSubstr("reduced by 7 %"));
      EXPECT_EQ(rows[0].distance_m, coding::Number(from == scene::End::start ? 3 : 4.5));
    }
  const double least = shipped_rules().deformed_from_percent;
  const scene::Scenario pvc = scene::plain_run(10, 150, scene::Material::pvc);
  EXPECT_TRUE(written(scene::Squashed{3, 5.5, true, least - 0.6}, pvc).empty());
  EXPECT_EQ(written(scene::Squashed{3, 5.5, true, least}, pvc).size(), 2U);
}

TEST(FaultCodes, ARigidPipeSquashedIsCrackedInFourPlacesOrBroken) {
  scene::Scenario clay = scene::plain_run(10, 150);
  clay.sections[0].wall_mm = 16;
  const auto cracked = written(scene::Squashed{3, 5.5, true, 6}, clay);
  EXPECT_THAT(codes_of(cracked), testing::ElementsAre("BAA A", "BAB C A", "BAB A A", "BAB C A", "BAB A A"));
  for (const Observation& row : cracked)
    if (coding::show_code(row) == "BAB C A" && row.stretch[0] == 'A') {
      EXPECT_TRUE(row.clock_from == 12 || row.clock_from == 6);
      // A chord falls from 45 degrees to asin(0.94 sin 45): 3.3 degrees; both sides turn; 16 mm of wall.
      const double turn = std::numbers::pi / 4 - std::asin(0.94 * std::sqrt(0.5));
      EXPECT_NEAR(*row.q1.value, 2 * turn * 16, 0.06);
    }
  // Squeezed from the sides it gapes there instead.
  const auto squeezed = written(scene::Squashed{3, 5.5, false, 6}, clay);
  EXPECT_THAT(codes_of(squeezed), testing::ElementsAre("BAA B", "BAB A A", "BAB C A", "BAB A A", "BAB C A"));
  const auto broken = written(scene::Squashed{3, 5.5, true, 14}, clay);
  EXPECT_THAT(codes_of(broken), testing::ElementsAre("BAA A", "BAC A"));
  EXPECT_THAT(broken[1].reason, HasSubstr("a rigid pipe changes shape only when it breaks"));
  // A short one is a point, and then the length of the break is its size.
  const auto point = written(scene::Squashed{3.1, 3.35, true, 14}, clay);
  ASSERT_EQ(point.size(), 2U);
  expect_row(point[1], "BAC A", 250, 12, 12, false);
}

TEST(FaultCodes, ABendOfTheLineGoesLeftOrRightUpOrDown) {
  const auto code = [](double hour, scene::End from) {
    scene::Scenario clay = scene::plain_run(10, 150);
    clay.inspection.from = clay.inspection.distance_zero = from;
    const auto rows = written(scene::Bend{3, 4.5, 8.3, hour}, clay);
    // What rises may hold water back, which is recorded too.
    for (const Observation& row : rows)
      if (row.code == "BCC" && row.stretch[0] == 'A') {
        expect_row(row, coding::show_code(row), 8, {}, {}, false);
        return row.ch1 + "," + row.ch2;
      }
    return std::string("none");
  };
  const auto down = [&](double hour) { return code(hour, scene::End::start); };
  const auto up = [&](double hour) { return code(hour, scene::End::end); };
  EXPECT_EQ(down(3), "B,Y");
  EXPECT_EQ(down(9), "A,Y");
  EXPECT_EQ(down(6), "Y,B");
  EXPECT_EQ(down(12), "Y,A");
  EXPECT_EQ(down(4.4), "B,B");
  EXPECT_EQ(down(10), "A,A");
  // Driven the other way left and right change places; what turns up turns up still.
  EXPECT_EQ(up(3), "A,Y");
  EXPECT_EQ(up(9), "B,Y");
  EXPECT_EQ(up(12), "Y,A");
  EXPECT_EQ(up(4.4), "A,B");
  EXPECT_TRUE(written(scene::Bend{3, 4.5, shipped_rules().bend_from_deg - 0.6, 3}).empty());
}

TEST(FaultCodes, ADisplacedJointStandsWhereTheJointIs) {
  // The author was 3 cm off; the joint is at 3 m.
  EXPECT_EQ(only(scene::JointGap{3.03, 18}).distance_m, coding::Number(3));
}

TEST(FaultCodes, JointsWithinWhatIsOrdinaryAreNotRecorded) {
  const Rules& rules = shipped_rules();
  EXPECT_TRUE(written(scene::JointGap{3, rules.joint_gap_from_mm - 1}).empty());
  EXPECT_TRUE(written(scene::JointShift{3, rules.joint_shift_from_mm - 0.6, 3}).empty());
  EXPECT_TRUE(written(scene::JointBend{3, rules.joint_bend_from_deg - 0.6, 3}).empty());
}

TEST(FaultCodes, CracksByWidthAndForm) {
  using scene::Crack;
  using scene::CrackForm;
  const auto crack = [](double width, CrackForm form) {
    return Crack{2.5, 2.5, {10, 2, false}, form, width};
  };
  expect_row(only(crack(0, CrackForm::around)), "BAB A B", {}, 10, 2, false);
  expect_row(only(crack(0.44, CrackForm::branching)), "BAB A C", {}, 10, 2, false);
  expect_row(only(crack(0.5, CrackForm::branching)), "BAB B C", 0.5, 10, 2, false);
  expect_row(only(crack(0.9, CrackForm::around)), "BAB B B", 0.9, 10, 2, false);
  const Observation open = only(Crack{2.4, 2.6, {12, 12, false}, CrackForm::along, 3});
  expect_row(open, "BAB C A", 3, 12, {}, false);
  EXPECT_THAT(open.reason,
              HasSubstr("open 3 mm: from 1 mm an open gap -> C; runs along the pipe -> A; clock 12"));
}

// What is written down, what it is compared with and what is said are one number.
TEST(FaultCodes, LetterNumberAndReasonNeverContradictEachOther) {
  const auto crack = [](double width) {
    return only(scene::Crack{2.5, 2.5, {10, 2, false}, scene::CrackForm::branching, width});
  };
  for (int hundredths = 0; hundredths <= 130; ++hundredths) {
    const Observation row = crack(hundredths / 100.0);
    const double said = std::round(hundredths / 10.0) / 10.0;
    const std::string letter = said < 0.5 ? "A" : (said < 1 ? "B" : "C");
    EXPECT_EQ(row.ch1, letter) << hundredths;
    EXPECT_EQ(row.q1.value, letter == "A" ? std::nullopt : std::optional<double>(said)) << hundredths;
    EXPECT_THAT(row.reason, HasSubstr(said > 0 ? base::show_number(said) + " mm" : "does not open"))
        << hundredths;
  }
  EXPECT_THAT(crack(0.97).reason, HasSubstr("open 1 mm: from 1 mm an open gap -> C"));
  EXPECT_THAT(crack(0.47).reason, HasSubstr("open 0.5 mm: from 0.5 mm and under 1 mm"));

  const Observation gap = only(scene::JointGap{3, 9.6});
  expect_row(gap, "BAJ A", 10, {}, {}, true);
  EXPECT_THAT(gap.reason, HasSubstr("the units stand 10 mm apart, at least 10 mm"));
  EXPECT_TRUE(written(scene::JointGap{3, 9.4}).empty());
  EXPECT_THAT(only(scene::JointShift{3, 9.4, 5}).reason, HasSubstr("stands 9 mm out of line"));
  EXPECT_THAT(only(scene::JointBend{3, 2.6, 9}).reason, HasSubstr("bends by 3 degrees"));
  EXPECT_THAT(only(scene::Roots{3.4, 3.4, {11, 11, false}, scene::RootForm::tap, 2.6}).reason,
              HasSubstr("takes 3 %"));
  EXPECT_THAT(only(scene::Roots{3.4, 3.4, {11, 11, false}, scene::RootForm::tap, 0.3}).reason,
              HasSubstr("takes less than 1 %"));
  // A pipe that reaches in by nothing that can be written down does not reach in.
  EXPECT_EQ(written(scene::Connection{5.5, 2, 100, scene::Fitting::cut_in, 0.3, false}).size(), 1U);
  // 0.304 m is written down as 0.3 m: a point. 0.306 m is 0.31 m: a stretch.
  const auto along = [](double to) {
    return written(scene::Crack{2.2, to, {12, 12, false}, scene::CrackForm::along, 2});
  };
  EXPECT_EQ(along(2.504).size(), 1U);
  ASSERT_EQ(along(2.506).size(), 2U);
  EXPECT_THAT(along(2.506)[0].reason, HasSubstr("0.31 m long, more than 0.3 m: a stretch"));
}

TEST(RunCodes, ThinWaterAndBoresAreComparedAsWritten) {
  scene::Scenario scenario = scene::plain_run();
  // A step of s mm ponds s mm: 4.6 % of 100 mm is written down as 5 %, the least recorded.
  EXPECT_EQ(coding::show_code(written(scene::JointShift{6, 4.6, 12}, scenario)[0]), "BDD C");
  EXPECT_THAT(written(scene::JointShift{6, 4.6, 12}, scenario)[0].reason, HasSubstr("5 % of the bore's"));
  EXPECT_EQ(coding::show_code(written(scene::JointShift{6, 4.4, 12}, scenario)[0]), "BAJ B");
}

TEST(FaultCodes, LengthsInReasonsAreSaidInTheReadersUnit) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::Settled{2, 4, scene::SettledKind::fine, 20});
  scene::add(scenario, scene::JointShift{6, 12, 12});  // ponds 1.2 m
  const scene::Scene laid_out = scene::build_scene(scenario);
  const Truth metres = derive(laid_out), feet = derive(laid_out, base::LengthUnit::feet);
  ASSERT_EQ(metres.record.observations.size(), feet.record.observations.size());
  const auto said = [](const Truth& truth, const std::string& code) {
    for (const Observation& row : truth.record.observations) {
      if (row.code == code) return row.reason;
    }
    return std::string();
  };
  EXPECT_THAT(said(metres, "BBC"), HasSubstr("; 2 m long, more than 0.3 m: a stretch"));
  EXPECT_THAT(said(feet, "BBC"), HasSubstr("; 6.56 ft long, more than 0.98 ft: a stretch"));
  EXPECT_THAT(said(feet, "BDD"), HasSubstr("3.94 ft long"));
  coding::Record a = metres.record, b = feet.record;
  for (coding::Record* record : {&a, &b}) {
    for (Observation& row : record->observations) {
      EXPECT_TRUE(record == &a || row.reason.find(" m long") == std::string::npos) << row.reason;
      row.reason.clear();
    }
  }
  EXPECT_EQ(a, b) << "only the words differ";
}

TEST(FaultCodes, AWholeCircleIsTwelveToTwelveAndASingleHourIsOne) {
  expect_row(only(scene::Crack{2.5, 2.5, {12, 12, true}, scene::CrackForm::around, 2}), "BAB C B", 2, 12, 12,
             false);
  // An arc that rounds to one hour must not become the whole circle.
  expect_row(only(scene::Crack{2.5, 2.5, {11.8, 12.3, false}, scene::CrackForm::branching, 2}), "BAB C C", 2,
             12, {}, false);
}

TEST(FaultCodes, LongerThanAPointIsAStretch) {
  const auto rows = written(scene::Crack{2.2, 2.9, {12, 12, false}, scene::CrackForm::along, 2});
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0].stretch, "A1");
  EXPECT_EQ(rows[1].stretch, "B1");
  EXPECT_EQ(rows[0].distance_m, coding::Number(2.2));
  EXPECT_EQ(rows[1].distance_m, coding::Number(2.9));
  EXPECT_EQ(coding::show_code(rows[0]), coding::show_code(rows[1]));
  // 0.3 m is still a point (BFR annex ).
  EXPECT_EQ(written(scene::Crack{2.2, 2.5, {12, 12, false}, scene::CrackForm::along, 2}).size(), 1U);
}

TEST(FaultCodes, StretchesAreNumberedAsTheyAreMet) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::Settled{6, 8, scene::SettledKind::fine, 10});
  scene::add(scenario, scene::Settled{1, 7, scene::SettledKind::hard, 10});
  const Truth truth = derive(scene::build_scene(scenario));
  std::vector<std::string> stretches;
  for (const Observation& row : truth.record.observations) {
    if (!row.stretch.empty()) stretches.push_back(row.ch1 + " " + row.stretch);
  }
  EXPECT_THAT(stretches, testing::ElementsAre("C A1", "A A2", "C B1", "A B2"));
}

TEST(FaultCodes, HolesAndWhatShowsThroughThem) {
  const auto rows = written(scene::Hole{5.5, 2, 60, 45, scene::Behind::soil});
  ASSERT_EQ(rows.size(), 2U);
  expect_row(rows[0], "BAC B", 60, 1, 3, false);
  expect_row(rows[1], "BAO", {}, 1, 3, false);
  const auto stone = written(scene::Hole{5.5, 12, 60, 20, scene::Behind::stone});
  ASSERT_EQ(stone.size(), 2U);
  // Narrower than an hour, at the crown: never the whole circle.
  expect_row(stone[0], "BAC B", 60, 11, 1, false);
  EXPECT_THAT(stone[1].reason, HasSubstr("counts as soil visible"));
}

TEST(FaultCodes, Roots) {
  using scene::RootForm;
  expect_row(only(scene::Roots{3, 3, {9, 12, false}, RootForm::fine, 4}), "BBA B", 4, 9, 12, true);
  expect_row(only(scene::Roots{3.4, 3.4, {11, 11, false}, RootForm::tap, 2.6}), "BBA A", 3, 11, {}, false);
  const auto mass = written(scene::Roots{3, 3.5, {9, 3, false}, RootForm::mass, 35});
  ASSERT_EQ(mass.size(), 2U);
  expect_row(mass[0], "BBA C", 35, 9, 3, true);
  expect_row(mass[1], "BBA C", 35, 9, 3, true);
}

TEST(FaultCodes, DepositsAreByDepthAndGreaseByArea) {
  const auto silt = written(scene::Settled{2, 4, scene::SettledKind::fine, 20});
  ASSERT_EQ(silt.size(), 2U);
  expect_row(silt[0], "BBC A", 20, {}, {}, false);
  // 20 % deep is 14.23 % of the area: US EPA, Storm Water Management Model 5.2, xsect.dat.
  EXPECT_THAT(silt[0].reason, HasSubstr("14.2 % of its area"));
  EXPECT_EQ(written(scene::Settled{2, 4, scene::SettledKind::coarse, 20})[0].ch1, "B");
  EXPECT_EQ(written(scene::Settled{2, 4, scene::SettledKind::hard, 20})[0].ch1, "C");
  using scene::AttachedKind;
  const auto attached = [](AttachedKind kind) {
    return written(scene::Attached{2, 4, {8, 4, false}, kind, 15})[0];
  };
  expect_row(attached(AttachedKind::scale), "BBB A", 15, 8, 4, false);
  expect_row(attached(AttachedKind::grease), "BBB B", 15, 8, 4, false);
  expect_row(attached(AttachedKind::fouling), "BBB C", 15, 8, 4, false);
}

TEST(FaultCodes, Connections) {
  using scene::Fitting;
  expect_row(only(scene::Connection{5.5, 10, 100, Fitting::branch, 0, false}), "BCA A A", 100, 10, {}, false);
  expect_row(only(scene::Connection{5.5, 10, 80, Fitting::saddle, 0, true}), "BCA B B", 80, 10, {}, false);
  const auto intruding = written(scene::Connection{5.5, 2, 100, Fitting::cut_in, 18, false});
  ASSERT_EQ(intruding.size(), 2U);
  expect_row(intruding[0], "BCA E A", 100, 2, {}, false);
  expect_row(intruding[1], "BAG", 18, 2, {}, false);
}

TEST(RunCodes, TheHeaderSaysShapeHeightAndWidth) {
  scene::Scenario scenario = scene::plain_run(6, 200);
  const auto header = [&](const char* code) {
    return derive(scene::build_scene(scenario)).record.header_value(code).value_or("none");
  };
  EXPECT_EQ(header("ACA") + " " + header("ACB") + " " + header("ACC"), "A 200 none");
  scenario.sections[0].shape = scene::PipeShape::egg;
  EXPECT_EQ(header("ACA") + " " + header("ACB") + " " + header("ACC"), "C 300 200");
  scenario.sections[0].shape = scene::PipeShape::rectangular;
  scenario.sections[0].height_mm = 160;
  EXPECT_EQ(header("ACA") + " " + header("ACB") + " " + header("ACC"), "B 160 200");
}

TEST(RunCodes, MaterialAndBoreTheCameraEnters) {
  scene::Scenario scenario = scene::plain_run(6, 100, scene::Material::cast_iron);
  scenario.sections[0].to_m = 3;
  scene::Section clay = scenario.sections[0];
  clay.from_m = 3;
  clay.to_m = 6;
  clay.material = scene::Material::clay;
  clay.bore_mm = 150;
  scenario.sections.push_back(clay);
  const auto changes = [](const scene::Scenario& run) {
    std::vector<std::string> found;
    for (const Observation& row : derive(scene::build_scene(run)).record.observations) {
      if (row.code[0] == 'A') found.push_back(coding::show_code(row) + " " + row.q1.show());
    }
    return found;
  };
  EXPECT_THAT(changes(scenario), testing::ElementsAre("AED AE ", "AEC A 150"));
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  EXPECT_THAT(changes(scenario), testing::ElementsAre("AED AM ", "AEC A 100"));
  // An egg 150 mm wide is 225 mm high; the second size is the width.
  scenario.sections[1].shape = scene::PipeShape::egg;
  EXPECT_THAT(changes(scenario), testing::ElementsAre("AED AM ", "AEC A 100"));
  scenario.inspection = {};
  EXPECT_THAT(changes(scenario), testing::ElementsAre("AED AE ", "AEC C 225"));
  scenario.sections[1].shape = scene::PipeShape::rectangular;
  scenario.sections[1].bore_mm = 100;
  scenario.sections[1].height_mm = 100;
  EXPECT_THAT(changes(scenario), testing::ElementsAre("AED AE ", "AEC B 100"))
      << "no larger, but another shape";
  scenario.sections[1].shape = scene::PipeShape::circular;
  scenario.sections[1].bore_mm = 102;
  scenario.sections[1].material = scene::Material::cast_iron;
  EXPECT_TRUE(changes(scenario).empty());
}

TEST(RunCodes, StandingWaterWithItsDeepestShareOfTheBore) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::JointShift{6, 12, 12});
  const Truth truth = derive(scene::build_scene(scenario));
  std::vector<Observation> water;
  for (const Observation& row : truth.record.observations) {
    if (row.code == "BDD") water.push_back(row);
  }
  ASSERT_EQ(water.size(), 2U);
  // Geometry: a step of 12 mm on a fall of 1 % ponds 1.2 m back, 12 % of 100 mm deep.
  expect_row(water[0], "BDD C", 12, {}, {}, false);
  EXPECT_EQ(water[0].distance_m, coding::Number(4.8));
  EXPECT_EQ(water[1].distance_m, coding::Number(6));
  EXPECT_EQ(water[1].q1, coding::Number(12));
}

TEST(RunCodes, ClearWaterIsA) {
  scene::Scenario scenario = scene::plain_run();
  scenario.water = scene::WaterLook::clear;
  EXPECT_EQ(coding::show_code(written(scene::JointShift{6, 12, 12}, scenario)[0]), "BDD A");
}

TEST(RunCodes, RunningWaterIsNotedWhereTheCameraGoesIn) {
  scene::Scenario scenario = scene::plain_run();
  scenario.flow_l_s = 0.5;
  const Truth truth = derive(scene::build_scene(scenario));
  ASSERT_EQ(truth.record.observations.size(), 3U);
  EXPECT_EQ(coding::show_code(truth.record.observations[1]), "BDD C");
  EXPECT_EQ(truth.record.observations[1].distance_m, coding::Number(0));
  EXPECT_GT(*truth.record.observations[1].q1.value, 10);
}

TEST(RunCodes, TheCameraLosesSightUnderWater) {
  scene::Scenario scenario = scene::plain_run(14, 100);
  scenario.low_spots = {{3, 10, 140}};
  scenario.camera.kind = scene::CameraKind::push;
  const scene::Scene laid_out = scene::build_scene(scenario);
  const Truth truth = derive(laid_out);
  std::vector<Observation> blind;
  for (const Observation& row : truth.record.observations) {
    if (row.code == "BDG") blind.push_back(row);
  }
  ASSERT_EQ(blind.size(), 2U);
  EXPECT_EQ(blind[0].ch1, "A");
  // At both ends the water just covers the head: 50 mm deep, within a few millimetres of fall.
  for (const Observation& row : blind) {
    const double z = *row.distance_m.value;
    EXPECT_NEAR(scene::level_at(laid_out.water, z) - scene::invert_at(laid_out, z), 0.050, 0.002);
  }
}

}  // namespace
}  // namespace haunch::truth
