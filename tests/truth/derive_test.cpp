// SPDX-License-Identifier: Apache-2.0
// The whole Record: direction, distance zero, order, header, and what no careful drive could show.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "base/files.hpp"
#include "base/random.hpp"
#include "campaign.hpp"
#include "coding/validate.hpp"
#include "scenario/read.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;

std::vector<scene::Scenario> shipped() {
  std::vector<scene::Scenario> all;
  for (const char* name : {"canteen-branch.json", "terrace-clay-drain.json", "school-iron-outlet.json",
                           "depot-concrete-main.json", "mews-plastic-lateral.json"})
    all.push_back(scenario::read_scenario(base::content_dir() / "scenarios" / name).value());
  return all;
}

/// Three runs of our own and some by chance.
std::vector<scene::Scenario> many() {
  std::vector<scene::Scenario> all = shipped();
  base::Random random(11);
  for (int i = 0; i < campaign::rounds(12); ++i) {
    scene::Scenario scenario = scene::plain_run(20, 100 + 25 * random.below(3));
    scenario.seed = random.next();
    scenario.gradient_percent = random.uniform(0.5, 2);
    scenario.flow_l_s = random.below(2) == 0 ? 0 : random.uniform(0.02, 0.3);
    if (random.below(2) == 0) scenario.low_spots = {{6, 11, random.uniform(20, 120)}};
    const auto hour = [&] { return static_cast<double>(1 + random.below(12)); };
    const auto arc = [&] { return base::ClockArc{hour(), hour(), random.below(4) == 0}; };
    scene::add(scenario,
               scene::JointShift{static_cast<double>(2 + random.below(8)), random.uniform(3, 15), hour()});
    scene::add(scenario, scene::JointGap{static_cast<double>(11 + random.below(8)), random.uniform(10, 30)});
    scene::add(scenario, scene::Crack{3.1,
                                      3.1 + random.uniform(0.05, 0.7),
                                      {hour(), hour(), false},
                                      scene::CrackForm::branching,
                                      random.uniform(0, 3)});
    scene::add(scenario, scene::Roots{5, 5 + random.uniform(0, 0.6), arc(), scene::RootForm::mass, 40});
    scene::add(scenario, scene::Roots{5.1, 5.1, {hour(), hour(), false}, scene::RootForm::fine, 4});
    scene::add(scenario, scene::Settled{7, 9, scene::SettledKind::fine, random.uniform(3, 25)});
    scene::add(scenario, scene::Attached{12, 14, arc(), scene::AttachedKind::grease, 12});
    scene::add(scenario,
               scene::Connection{15.5, hour(), 80, scene::Fitting::saddle, random.below(2) * 20.0, false});
    scene::add(scenario, scene::Hole{17.3, random.uniform(0.5, 12), 60, 40, scene::Behind::soil});
    all.push_back(std::move(scenario));
  }
  return all;
}

bool names_a_side(const Observation& row) {
  return row.code == "BCD" || row.code == "BCE" || row.code[0] == 'A' ||
         (row.code == "BDD" && row.stretch.empty());
}

int turned(int hour) { return base::nearest_hour(base::mirrored(hour)); }

/// A row as text, without what depends on when it is met (id, stretch number, reason).
std::string key(const Observation& row, double distance, bool mirror) {
  // Left and right change places.
  Observation seen = row;
  if (mirror && row.code == "BCC" && row.ch1 != "Y") seen.ch1 = row.ch1 == "A" ? "B" : "A";
  std::string text =
      coding::show_code(seen) + " q" + row.q1.show() + " d" + std::to_string(std::lround(distance * 100));
  if (row.clock_from) {
    int from = *row.clock_from;
    const int to = row.clock_to.value_or(0);
    // The unit ahead is the other one, which stands half a turn on.
    if (mirror && row.code == "BAJ" && row.ch1 == "B") from = from > 6 ? from - 6 : from + 6;
    if (!mirror)
      text += " " + std::to_string(from) + "-" + std::to_string(to);
    else if (to == 0)
      text += " " + std::to_string(turned(from)) + "-0";
    else
      text += " " + std::to_string(turned(to)) + "-" + std::to_string(turned(from));
  }
  return text + (row.at_joint ? " joint" : "") + (row.stretch.empty() ? "" : " run");
}

std::vector<std::string> keys(const coding::Record& record, double (*distance)(double, double), double length,
                              bool mirror) {
  std::vector<std::string> all;
  for (const Observation& row : record.observations) {
    if (!names_a_side(row)) all.push_back(key(row, distance(*row.distance_m.value, length), mirror));
  }
  std::sort(all.begin(), all.end());
  return all;
}
double same(double distance, double) { return distance; }
double from_other_end(double distance, double length) { return length - distance; }

TEST(Derive, TurningTheInspectionRoundMirrorsClocksAndDistances) {
  for (scene::Scenario scenario : many()) {
    scenario.inspection = {scene::End::start, scene::End::start, 0};
    // What only one direction shows (the picture looks ahead) is no part of this comparison.
    scenario.camera = {};
    const Truth down = derive(scene::build_scene(scenario));
    scenario.inspection = {scene::End::end, scene::End::end, 0};
    const Truth up = derive(scene::build_scene(scenario));
    EXPECT_EQ(keys(down.record, same, scenario.length_m, false),
              keys(up.record, from_other_end, scenario.length_m, true))
        << scenario.title;
    EXPECT_GT(keys(down.record, same, 0, false).size(), 5U);
  }
}

TEST(Derive, TwoZerosDifferByAConstant) {
  for (scene::Scenario scenario : many()) {
    scenario.inspection.zero_before_m = 0;
    const Truth plain = derive(scene::build_scene(scenario));
    scenario.inspection.zero_before_m = 0.45;
    const Truth moved = derive(scene::build_scene(scenario));
    ASSERT_EQ(plain.record.observations.size(), moved.record.observations.size());
    for (std::size_t i = 0; i < plain.record.observations.size(); ++i) {
      const Observation &a = plain.record.observations[i], &b = moved.record.observations[i];
      EXPECT_NEAR(*b.distance_m.value - *a.distance_m.value, 0.45, 0.0101);
      EXPECT_EQ(coding::show_code(a), coding::show_code(b));
      EXPECT_EQ(a.clock_from, b.clock_from);
    }
  }
}

TEST(Derive, AShiftIsToldAsItIsSeen) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::JointShift{3, 9, 2});
  const auto shift = [&] {
    const Truth truth = derive(scene::build_scene(scenario));
    for (const Observation& row : truth.record.observations) {
      if (row.code == "BAJ") return row;
    }
    return Observation{};
  };
  EXPECT_EQ(shift().clock_from, 2);
  EXPECT_THAT(shift().reason, testing::HasSubstr("where the unit ahead stands; clock 2"));
  EXPECT_THAT(shift().reason, testing::HasSubstr("the unit ahead stands 9 mm"));
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  // The unit ahead is the upstream one: it stands where 8 is looking downstream, which is 4 looking upstream.
  EXPECT_EQ(shift().clock_from, 4);
  EXPECT_THAT(shift().reason, testing::HasSubstr("where the unit ahead stands; clock 4"));
}

TEST(Derive, DistancesMayCountDown) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::JointGap{3, 20});
  scenario.inspection = {scene::End::start, scene::End::end, 0};
  const Truth truth = derive(scene::build_scene(scenario));
  EXPECT_EQ(truth.record.observations.front().code, "BCD");
  EXPECT_EQ(truth.record.observations.front().distance_m, coding::Number(10));
  EXPECT_EQ(truth.record.observations[1].distance_m, coding::Number(7));
  EXPECT_EQ(truth.record.observations.back().distance_m, coding::Number(0));
}

TEST(Derive, ShiftingEveryFaultShiftsItsTruth) {
  const auto at = [](double by) {
    scene::Scenario scenario = scene::plain_run(20);
    scene::add(scenario, scene::JointShift{3 + by, 9, 4});
    scene::add(scenario, scene::Crack{4.2 + by, 4.9 + by, {12, 12, false}, scene::CrackForm::along, 2});
    scene::add(scenario, scene::Roots{6 + by, 6 + by, {9, 12, false}, scene::RootForm::fine, 4});
    scene::add(scenario, scene::Hole{7.5 + by, 2, 60, 45, scene::Behind::soil});
    scene::add(scenario, scene::Settled{8 + by, 9.5 + by, scene::SettledKind::fine, 10});
    return derive(scene::build_scene(scenario)).record;
  };
  const coding::Record here = at(0), there = at(5);
  EXPECT_EQ(keys(
                here, [](double d, double) { return d + 5; }, 0, false),
            keys(there, same, 0, false));
}

TEST(Derive, MeetsThingsInOrderNodesFirstAndLast) {
  for (const scene::Scenario& scenario : many()) {
    const scene::Scene laid_out = scene::build_scene(scenario);
    const Truth truth = derive(laid_out);
    const auto& rows = truth.record.observations;
    ASSERT_EQ(rows.size(), truth.origins.size());
    EXPECT_EQ(rows.front().code, "BCD");
    EXPECT_EQ(rows.back().code, "BCE");
    double before = -1;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const double z = scene::chainage_of(scenario, *rows[i].distance_m.value);
      const double along = scene::travel(scenario) > 0 ? z : scenario.length_m - z;
      EXPECT_GE(along, before - 0.011);
      before = along;
      EXPECT_EQ(rows[i].id, "o" + std::to_string(i + 1));
      EXPECT_FALSE(rows[i].reason.empty());
      EXPECT_LE(truth.origins[i].from_z_m, truth.origins[i].to_z_m);
    }
  }
}

TEST(Derive, NodesCarryKindAndName) {
  const scene::Scenario school = shipped()[2];
  const Truth truth = derive(scene::build_scene(school));
  EXPECT_EQ(coding::show_code(truth.record.observations.front()), "BCD C");  // rodding eye
  EXPECT_EQ(truth.record.observations.front().remark, "RE2");
  EXPECT_EQ(coding::show_code(truth.record.observations.back()), "BCE A");  // manhole
  EXPECT_EQ(truth.record.observations.back().remark, "S1");
}

TEST(Derive, TheHeaderSaysWhatWasInspectedAndHow) {
  const scene::Scenario canteen = shipped()[0];  // inspected from its downstream end
  const coding::Record record = derive(scene::build_scene(canteen)).record;
  EXPECT_EQ(record.header_value("AAK"), "B");
  EXPECT_EQ(record.header_value("AAB"), "K2");
  EXPECT_EQ(record.header_value("AAD"), "K1");
  EXPECT_EQ(record.header_value("AAF"), "K2");
  EXPECT_EQ(record.header_value("ACD"), "AX");
  EXPECT_EQ(record.header_value("ACB"), "152");
  EXPECT_EQ(record.header_value("ABQ"), "24");
  EXPECT_EQ(record.header_value("ACK"), "A");
  EXPECT_EQ(record.header_value("ABA"), "EN 13508-2:2003+A1:2011");
}

TEST(Derive, TheRecordIsWellFormed) {
  for (const scene::Scenario& scenario : many()) {
    const Truth truth = derive(scene::build_scene(scenario));
    for (const base::Problem& problem :
         coding::validate(truth.record, coding::CodeList::shipped(), scenario.file)) {
      EXPECT_EQ(problem.severity, base::Severity::note) << base::to_line(problem);
    }
  }
}

TEST(Derive, IsTheSameEveryTime) {
  for (const scene::Scenario& scenario : many())
    EXPECT_EQ(derive(scene::build_scene(scenario)).record, derive(scene::build_scene(scenario)).record);
}

/// Words for why a fault cannot be seen; empty when it can.
std::string hidden(const scene::Scenario& scenario, int fault) {
  const Truth truth = derive(scene::build_scene(scenario));
  for (std::size_t i = 0; i < truth.origins.size(); ++i) {
    if (truth.origins[i].fault != fault) continue;
    for (const coding::NotVisible& lost : truth.record.not_visible) {
      if (lost.observation == truth.record.observations[i].id) return lost.why;
    }
    return {};
  }
  ADD_FAILURE() << "the fault is not in the record at all";
  return {};
}

scene::Scenario sag() {
  scene::Scenario scenario = scene::plain_run(14, 100);
  scenario.low_spots = {{3, 10, 140}};
  scenario.camera.kind = scene::CameraKind::push;
  return scenario;
}

TEST(NotVisible, UnderCloudyWaterAlongItsWholeLength) {
  scene::Scenario scenario = sag();
  scenario.camera.kind = scene::CameraKind::crawler;
  scenario.low_spots = {{3, 10, 80}};  // about a third of the bore
  scene::add(scenario, scene::Settled{6, 7, scene::SettledKind::fine, 8});
  scene::add(scenario, scene::Crack{6.2, 6.8, {6, 6, false}, scene::CrackForm::along, 2});
  scene::add(scenario, scene::Crack{6.2, 6.8, {12, 12, false}, scene::CrackForm::along, 2});
  scene::add(scenario, scene::Settled{2, 7, scene::SettledKind::fine, 8});
  EXPECT_THAT(hidden(scenario, 1), testing::HasSubstr("under cloudy water"));
  EXPECT_THAT(hidden(scenario, 2), testing::HasSubstr("under cloudy water"));
  EXPECT_EQ(hidden(scenario, 3), "") << "at the crown";
  EXPECT_EQ(hidden(scenario, 4), "") << "it begins before the water";
  scenario.water = scene::WaterLook::clear;
  EXPECT_EQ(hidden(scenario, 1), "");
}

TEST(NotVisible, PassedWithTheCameraUnder) {
  scene::Scenario scenario = sag();
  scene::add(scenario, scene::Crack{6.2, 6.8, {12, 12, false}, scene::CrackForm::along, 2});
  scene::add(scenario, scene::Crack{11.2, 11.8, {12, 12, false}, scene::CrackForm::along, 2});
  EXPECT_THAT(hidden(scenario, 1), testing::HasSubstr("camera wholly under water"));
  EXPECT_EQ(hidden(scenario, 2), "");
  scenario.camera.kind = scene::CameraKind::crawler;
  scenario.camera.height_mm = 80;
  EXPECT_EQ(hidden(scenario, 1), "") << "with its lens high the head stays out";
}

// The head is wholly under from 14.19 m and its lens a little before; at 13.9 m it is still clear and
// sees the crown at 14.3 m.
TEST(NotVisible, NotWhatWasSeenBeforeTheLensWentUnder) {
  scene::Scenario school = shipped()[2];
  const auto with = [&](scene::FaultKind kind) {
    scene::Scenario scenario = school;
    scene::add(scenario, std::move(kind));
    return hidden(scenario, static_cast<int>(scenario.faults.size()));
  };
  const auto crack = [](double z, double hour) {
    return scene::Crack{z, z, {hour, hour, false}, scene::CrackForm::branching, 2};
  };
  EXPECT_EQ(with(scene::Hole{14.3, 12, 40, 40, scene::Behind::soil}), "");
  EXPECT_EQ(with(crack(14.3, 12)), "");
  EXPECT_THAT(with(crack(15.0, 12)), testing::HasSubstr("camera wholly under water"))
      << "more than five bores past where the lens went under";
  EXPECT_THAT(with(crack(14.3, 6)), testing::HasSubstr("under cloudy water"));
  // A crack that begins in sight is seen, however far it goes on.
  EXPECT_EQ(with(scene::Crack{14.3, 15.2, {12, 12, false}, scene::CrackForm::along, 2}), "");
  // Met from the other end, the lens goes under at 15.64 m.
  school.inspection = {scene::End::end, scene::End::end, 0};
  EXPECT_THAT(with(crack(14.4, 12)), testing::HasSubstr("camera wholly under water"));
  EXPECT_EQ(with(crack(15.6, 12)), "");
}

TEST(NotVisible, SightEndsAtAMassOfRoots) {
  scene::Scenario school = shipped()[2];
  scene::add(school, scene::Crack{14.3, 14.3, {12, 12, false}, scene::CrackForm::branching, 2});
  const int crack = static_cast<int>(school.faults.size());
  EXPECT_EQ(hidden(school, crack), "");
  scene::add(school, scene::Roots{14.19, 14.22, {9, 3, false}, scene::RootForm::mass, 60});
  EXPECT_THAT(hidden(school, crack), testing::HasSubstr("out of sight before"));
}

TEST(NotVisible, SightEndsAtTheWallOfABend) {
  scene::Scenario school = shipped()[2];
  scene::add(school, scene::Hole{14.6, 12, 40, 40, scene::Behind::soil});
  const int hole = static_cast<int>(school.faults.size());
  EXPECT_EQ(hidden(school, hole), "") << "what could hurt someone counts from any distance";
  scene::add(school, scene::JointBend{14.4, 35, 3});
  EXPECT_THAT(hidden(school, hole), testing::HasSubstr("out of sight before"));
}

// Water under pressure through a hole brings the ground down: it is only put aside where no lens could
// see it from anywhere.
TEST(NotVisible, AHoleIsPutAsideOnlyWhereNothingCouldShowIt) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::Roots{5, 5.6, {9, 3, false}, scene::RootForm::mass, 50});
  scene::add(scenario, scene::Hole{5.3, 12, 40, 40, scene::Behind::soil});
  EXPECT_EQ(hidden(scenario, 2), "") << "a mass of roots is no excuse";

  scenario = sag();
  scenario.low_spots = {{3, 10, 80}};
  scenario.camera = {};
  scene::add(scenario, scene::Hole{6.5, 6, 40, 30, scene::Behind::soil});
  EXPECT_THAT(hidden(scenario, 1), testing::HasSubstr("under cloudy water"));
}

TEST(NotVisible, UnderMatterAlongItsWholeLength) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::Attached{4, 7, {8, 4, false}, scene::AttachedKind::grease, 15});
  scene::add(scenario, scene::Crack{5.2, 5.2, {10, 2, false}, scene::CrackForm::around, 2});
  scene::add(scenario, scene::Crack{5.2, 5.2, {2, 6, false}, scene::CrackForm::around, 2});
  scene::add(scenario, scene::Crack{6.5, 7.5, {12, 12, false}, scene::CrackForm::along, 2});
  scene::add(scenario, scene::Connection{5.5, 2, 60, scene::Fitting::branch, 0, false});
  scene::add(scenario, scene::Hole{6.2, 11, 40, 40, scene::Behind::soil});
  EXPECT_EQ(hidden(scenario, 1), "") << "the grease itself";
  EXPECT_EQ(hidden(scenario, 2), "under the grease along its whole length");
  EXPECT_EQ(hidden(scenario, 3), "") << "half of it lies bare";
  EXPECT_EQ(hidden(scenario, 4), "") << "it goes on past the grease";
  EXPECT_EQ(hidden(scenario, 5), "") << "nothing bridges a branch";
  EXPECT_EQ(hidden(scenario, 6), "") << "nor a hole";
  scenario.inspection = {scene::End::end, scene::End::end, 0};
  EXPECT_EQ(hidden(scenario, 2), "under the grease along its whole length") << "from either end";
}

TEST(NotVisible, WithinADenseMass) {
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::Roots{5, 5.6, {9, 3, false}, scene::RootForm::mass, 50});
  scene::add(scenario, scene::Roots{5.2, 5.2, {11, 12, false}, scene::RootForm::fine, 3});
  scene::add(scenario, scene::Roots{5.2, 5.2, {5, 6, false}, scene::RootForm::fine, 3});
  scene::add(scenario, scene::Roots{5.9, 5.9, {11, 12, false}, scene::RootForm::fine, 3});
  EXPECT_EQ(hidden(scenario, 1), "") << "the mass itself";
  EXPECT_THAT(hidden(scenario, 2), testing::HasSubstr("dense mass of roots"));
  EXPECT_EQ(hidden(scenario, 3), "") << "on the other side";
  EXPECT_EQ(hidden(scenario, 4), "") << "behind its end";
  std::get<scene::Roots>(scenario.faults[0].kind).blocks_percent = 10;
  EXPECT_EQ(hidden(scenario, 2), "") << "a thin mass hides nothing";
}

TEST(NotVisible, TheSchoolsSiltInItsDip) {
  const scene::Scenario school = shipped()[2];
  int silt = 0;
  for (std::size_t i = 0; i < school.faults.size(); ++i) {
    if (std::holds_alternative<scene::Settled>(school.faults[i].kind)) silt = static_cast<int>(i) + 1;
  }
  ASSERT_GT(silt, 0);
  EXPECT_NE(hidden(school, silt), "");
}

TEST(RulesFile, IsReadAndItsProblemsSaid) {
  const auto path = base::content_dir() / "coding" / "truth-rules.json";
  const auto rules = read_rules(path);
  ASSERT_TRUE(rules.ok()) << base::to_line(rules.problems().front());
  EXPECT_EQ(rules.value(), Rules{}) << "the file and the values in the header have drifted apart";
  EXPECT_EQ(rules.value().point_up_to_m, 0.3);  // BFR annex
  EXPECT_FALSE(read_rules("no/such/rules.json").ok());
}

TEST(RulesFile, DecidesTheCodes) {
  Rules strict;
  strict.joint_gap_from_mm = 30;
  scene::Scenario scenario = scene::plain_run();
  scene::add(scenario, scene::JointGap{3, 20});
  const scene::Scene laid_out = scene::build_scene(scenario);
  EXPECT_EQ(derive(laid_out).record.observations.size(), 3U);
  EXPECT_EQ(derive(laid_out, coding::CodeList::shipped(), strict).record.observations.size(), 2U);
}

}  // namespace
}  // namespace haunch::truth
