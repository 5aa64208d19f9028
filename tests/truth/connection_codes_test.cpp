// SPDX-License-Identifier: Apache-2.0
// Connections: how they were joined on, what is wrong with them, from either end.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "scene/runs.hpp"
#include "truth/rows.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;
using scene::Connection;
using scene::Fitting;
using testing::ElementsAre;
using testing::HasSubstr;

std::vector<Observation> written(Connection connection, scene::End from = scene::End::start) {
  scene::Scenario scenario = scene::plain_run(10, 150);
  scenario.inspection = {from, from, 0};
  scene::add(scenario, connection);
  return truth_test::rows_of(scenario);
}
std::vector<std::string> codes(const std::vector<Observation>& rows) {
  std::vector<std::string> all;
  for (const Observation& row : rows) all.push_back(coding::show_code(row));
  return all;
}
Connection joined(Fitting fitting, double clock_h = 2) { return {4.5, clock_h, 100, fitting, 0, false}; }

TEST(Connections, HaveTheLetterOfHowTheyWereJoinedOn) {
  EXPECT_THAT(codes(written(joined(Fitting::branch))), ElementsAre("BCA A A"));
  EXPECT_THAT(codes(written(joined(Fitting::saddle))), ElementsAre("BCA B A"));
  EXPECT_THAT(codes(written(joined(Fitting::saddle_chiselled))), ElementsAre("BCA C A"));
  EXPECT_THAT(codes(written(joined(Fitting::drilled_in))), ElementsAre("BCA D A"));
  EXPECT_THAT(codes(written(joined(Fitting::cut_in))), ElementsAre("BCA E A"));
  EXPECT_THAT(codes(written(joined(Fitting::bricked_in))), ElementsAre("BCA F A"));
  EXPECT_THAT(codes(written(joined(Fitting::hose))), ElementsAre("BCA Z A"));
}

TEST(Connections, ThatAreClosedSayByWhat) {
  Connection connection = joined(Fitting::saddle);
  connection.closed = true;
  for (const auto& [stop, says] :
       {std::pair{scene::Stop::cap, "a cap"}, std::pair{scene::Stop::plug, "a stopper"},
        std::pair{scene::Stop::bricks, "bricks"}}) {
    connection.stop = stop;
    const auto rows = written(connection);
    EXPECT_THAT(codes(rows), ElementsAre("BCA B B"));
    EXPECT_THAT(rows.front().reason, HasSubstr(says));
  }
}

TEST(DefectiveConnection, LiesTooLow) {
  EXPECT_THAT(codes(written(joined(Fitting::branch, 4))), ElementsAre("BCA A A"));
  EXPECT_THAT(codes(written(joined(Fitting::branch, 8))), ElementsAre("BCA A A"));
  for (const double hour : {4.5, 6.0, 7.0})
    EXPECT_THAT(codes(written(joined(Fitting::branch, hour))), ElementsAre("BCA A A", "BAH A"));
}

TEST(DefectiveConnection, IsSetBack) {
  Connection connection = joined(Fitting::drilled_in);
  connection.set_back_mm = 9.4;
  EXPECT_THAT(codes(written(connection)), ElementsAre("BCA D A"));
  connection.set_back_mm = 35;
  const auto rows = written(connection);
  ASSERT_THAT(codes(rows), ElementsAre("BCA D A", "BAH B", "BAO"));
  EXPECT_THAT(rows[1].reason, HasSubstr("35 mm behind"));
  EXPECT_EQ(rows[1].clock_from, 2);
  EXPECT_FALSE(rows[1].q1.value);
  connection.void_behind = true;
  EXPECT_THAT(codes(written(connection)), ElementsAre("BCA D A", "BAH B", "BAP"));
}

TEST(DefectiveConnection, HasAGapAboutIt) {
  Connection connection = joined(Fitting::cut_in);
  connection.gap_arc = {1, 5, false};
  connection.gap_mm = 2.4;
  EXPECT_THAT(codes(written(connection)), ElementsAre("BCA E A"));
  connection.gap_mm = 8;
  EXPECT_THAT(codes(written(connection)), ElementsAre("BCA E A", "BAH C"))
      << "too narrow for the ground to show";
  connection.gap_mm = 14;
  EXPECT_THAT(codes(written(connection)), ElementsAre("BCA E A", "BAH C", "BAO"));
}

TEST(DefectiveConnection, IsBrokenOrBlocked) {
  Connection connection = joined(Fitting::branch);
  connection.broken_mm = 4;
  connection.blocked_percent = 4;
  EXPECT_THAT(codes(written(connection)), ElementsAre("BCA A A"));
  connection.broken_mm = 18;
  connection.blocked_percent = 40;
  connection.filling = scene::Filling::rubble;
  const auto rows = written(connection);
  ASSERT_THAT(codes(rows), ElementsAre("BCA A A", "BAH D", "BAH E"));
  EXPECT_THAT(rows[1].reason, HasSubstr("18 mm"));
  EXPECT_THAT(rows[2].reason, HasSubstr("rubble fills 40 %"));
}

TEST(DefectiveConnection, IsTheSameFromTheOtherEndWithItsClockTurned) {
  Connection connection = joined(Fitting::cut_in, 5);
  connection.intrudes_percent = 12;
  connection.gap_mm = 14;
  connection.broken_mm = 9;
  const auto down = written(connection), up = written(connection, scene::End::end);
  EXPECT_THAT(codes(down), ElementsAre("BCA E A", "BAG", "BAH A", "BAH C", "BAO", "BAH D"));
  EXPECT_EQ(codes(up), codes(down));
  for (const Observation& row : down) EXPECT_EQ(row.clock_from, 5);
  for (const Observation& row : up) {
    EXPECT_EQ(row.clock_from, 7);
    EXPECT_NEAR(*row.distance_m.value, 5.5, 1e-9);
  }
}

Observation flow_of(Connection connection, const std::string& system = "foul",
                    scene::End from = scene::End::start) {
  scene::Scenario scenario = scene::plain_run(10, 150);
  scenario.system = system;
  scenario.inspection = {from, from, 0};
  scene::add(scenario, connection);
  for (const Observation& row : derive(scene::build_scene(scenario)).record.observations)
    if (row.code == "BDE") return row;
  return {};
}

TEST(IncomingFlow, StandsAsDeepAsManningHasIt) {
  // Half full a pipe carries half of what it carries full (Manning, n the same at every depth).
  const auto half_of_full = [](double bore_m, double slope, double n) {
    return 500 * std::numbers::pi * bore_m * bore_m / 4 / n * std::pow(bore_m / 4, 2.0 / 3) *
           std::sqrt(slope);
  };
  Connection connection = joined(Fitting::branch);
  connection.gradient_percent = 3;
  connection.flow_l_s = half_of_full(0.1, 0.03, 0.013);
  EXPECT_EQ(flow_of(connection).q1.value, 50);
  connection.fitting = Fitting::saddle;  // plastic
  connection.flow_l_s = half_of_full(0.1, 0.03, 0.010);
  const Observation row = flow_of(connection);
  EXPECT_EQ(row.q1.value, 50);
  EXPECT_EQ(row.clock_from, 2);
  EXPECT_THAT(row.reason, HasSubstr("Manning"));
  EXPECT_EQ(flow_of(connection, "foul", scene::End::end).clock_from, 10);
  connection.flow_l_s = 0;
  EXPECT_EQ(flow_of(connection).code, "") << "nothing runs in";
}

TEST(IncomingFlow, HasTheLetterOfItsLookAndOfAWrongConnection) {
  Connection connection = joined(Fitting::branch);
  connection.flow_l_s = 0.2;
  EXPECT_EQ(coding::show_code(flow_of(connection)), "BDE A C");
  connection.look = scene::IncomingLook::cloudy;
  EXPECT_EQ(coding::show_code(flow_of(connection)), "BDE C C");
  connection.look = scene::IncomingLook::coloured;
  EXPECT_EQ(coding::show_code(flow_of(connection)), "BDE D C");
  connection.look = scene::IncomingLook::cloudy_and_coloured;
  EXPECT_EQ(coding::show_code(flow_of(connection)), "BDE E C");
  connection.brings = scene::Brings::foul;
  EXPECT_EQ(coding::show_code(flow_of(connection, "surface water")), "BDE E A");
  EXPECT_EQ(coding::show_code(flow_of(connection, "foul")), "BDE E C");
  EXPECT_EQ(coding::show_code(flow_of(connection, "combined")), "BDE E C");
  connection.brings = scene::Brings::surface_water;
  EXPECT_EQ(coding::show_code(flow_of(connection, "foul")), "BDE E B");
  EXPECT_EQ(coding::show_code(flow_of(connection, "surface water")), "BDE E C");
}

TEST(Nodes, HaveTheirLetterAtEitherEnd) {
  using scene::NodeKind;
  for (const auto& [kind, letter] :
       {std::pair{NodeKind::manhole, "A"}, std::pair{NodeKind::inspection_chamber, "B"},
        std::pair{NodeKind::rodding_eye, "C"}, std::pair{NodeKind::lamphole, "D"},
        std::pair{NodeKind::outfall, "E"}, std::pair{NodeKind::junction, "F"},
        std::pair{NodeKind::other, "Z"}}) {
    scene::Scenario scenario = scene::plain_run(10, 150);
    scenario.start.kind = scene::NodeKind::manhole;
    scenario.finish.kind = kind;
    for (const scene::End from : {scene::End::start, scene::End::end}) {
      scenario.inspection = {from, from, 0};
      const auto record = derive(scene::build_scene(scenario)).record;
      const Observation& row =
          from == scene::End::start ? record.observations.back() : record.observations.front();
      EXPECT_EQ(coding::show_code(row), (from == scene::End::start ? "BCE " : "BCD ") + std::string(letter));
    }
  }
}

TEST(VerminLookingOut, HaveTheLetterOfTheirPlace) {
  for (const auto& [place, letter] :
       {std::pair{scene::VerminPlace::pipe, "A"}, std::pair{scene::VerminPlace::connection, "B"},
        std::pair{scene::VerminPlace::open_joint, "C"}}) {
    scene::Scenario scenario = scene::plain_run(10, 150);
    scene::add(scenario, joined(Fitting::branch));
    scene::add(scenario, scene::JointGap{4, 40});
    const double at_m = place == scene::VerminPlace::open_joint ? 4 : 4.5;
    scene::add(scenario, scene::Vermin{at_m, scene::VerminKind::rat, 2, place});
    std::vector<std::string> all;
    for (const Observation& row : derive(scene::build_scene(scenario)).record.observations)
      if (row.code == "BBH") all.push_back(coding::show_code(row));
    EXPECT_THAT(all, ElementsAre(std::string("BBH A ") + letter));
  }
}

}  // namespace
}  // namespace haunch::truth
