// SPDX-License-Identifier: Apache-2.0
// Connections and what is wrong with them: what files say, and what makes no sense.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <variant>
#include <vector>

#include "scenario/read.hpp"

namespace haunch::scenario {
namespace {

using namespace scene;

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

base::Result<Scenario> read(const std::string& keys) {
  return scenario_from_json(R"({ "kind": "scenario", "edition": 1, "title": "Clay",
"pipe": { "bore_mm": 150, "length_m": 10, "sections": [ { "to_m": 10, "material": "clay", "unit_length_m": 1 } ] },
"faults": [
{ "kind": "connection", "at_m": 1.5, "clock": 2, "bore_mm": 100, )" +
                                keys + " } ] }",
                            "run.json");
}
Connection connection(const std::string& keys) {
  const auto run = read(keys);
  EXPECT_TRUE(run.ok()) << keys;
  EXPECT_THAT(run.problems(), IsEmpty()) << keys;
  return run.ok() ? std::get<Connection>(run.value().faults.front().kind) : Connection{};
}

TEST(ConnectionFaults, AreReadAsWritten) {
  EXPECT_EQ(connection(R"("fitting": "saddle chiselled")").fitting, Fitting::saddle_chiselled);
  EXPECT_EQ(connection(R"("fitting": "drilled-in")").fitting, Fitting::drilled_in);
  EXPECT_EQ(connection(R"("fitting": "bricked-in")").fitting, Fitting::bricked_in);
  EXPECT_EQ(connection(R"("fitting": "hose")").fitting, Fitting::hose);
  EXPECT_EQ(connection(R"("closed": true, "stop": "bricks")").stop, Stop::bricks);
  const Connection gap =
      connection(R"("fitting": "cut-in", "gap_mm": 12, "gap_clock": [2, 6], "behind": "void")");
  EXPECT_EQ(gap.gap_mm, 12);
  EXPECT_EQ(gap.gap_arc, (base::ClockArc{2, 6, false}));
  EXPECT_TRUE(gap.void_behind);
  const Connection broken = connection(R"("broken_mm": 15, "blocked_percent": 30, "blocked_by": "roots")");
  EXPECT_EQ(broken.broken_mm, 15);
  EXPECT_TRUE(broken.broken_arc.whole);
  EXPECT_EQ(broken.blocked_percent, 30);
  EXPECT_EQ(broken.filling, Filling::roots);
  EXPECT_EQ(connection(R"("fitting": "hose", "set_back_mm": 40)").set_back_mm, 40);
}

TEST(ConnectionFaults, SayWhatRunsIn) {
  const Connection flows = connection(
      R"("flow_l_s": 0.4, "water": "cloudy and coloured", "brings": "surface water", "gradient_percent": 4)");
  EXPECT_EQ(flows.flow_l_s, 0.4);
  EXPECT_EQ(flows.look, IncomingLook::cloudy_and_coloured);
  EXPECT_EQ(flows.brings, Brings::surface_water);
  EXPECT_EQ(flows.gradient_percent, 4);
}

std::vector<std::string> said_of(const std::string& vermin) {
  const auto run = read(R"("fitting": "saddle" },
{ "kind": "joint gap", "at_m": 4, "gap_mm": 14 },
)" + vermin + R"(, { "kind": "grease", "from_m": 6, "to_m": 7, "covers_percent": 3)");
  std::vector<std::string> found;
  for (const base::Problem& problem : run.problems()) found.push_back(base::to_line(problem));
  return found;
}

TEST(VerminLookingOut, NeedSomethingToLookOutOf) {
  EXPECT_THAT(said_of(R"({ "kind": "vermin", "at_m": 1.5, "form": "rat", "where": "connection" })"),
              IsEmpty());
  EXPECT_THAT(said_of(R"({ "kind": "vermin", "at_m": 4, "form": "cockroach", "where": "open joint" })"),
              IsEmpty());
  EXPECT_THAT(said_of(R"({ "kind": "vermin", "at_m": 3.5, "form": "rat", "where": "connection" })"),
              ElementsAre(HasSubstr("no open connection at 3.5 m")));
  EXPECT_THAT(said_of(R"({ "kind": "vermin", "at_m": 4, "form": "rat", "where": "open joint" })"),
              ElementsAre(HasSubstr("open wide enough")));
}

struct Wrong {
  const char* keys;
  const char* said;
};
class ConnectionFaultsOdd : public testing::TestWithParam<Wrong> {};
TEST_P(ConnectionFaultsOdd, AreSaidToBeAtTheirPlace) {
  std::vector<std::string> found;
  const auto run = read(GetParam().keys);
  for (const base::Problem& problem : run.problems()) found.push_back(base::to_line(problem));
  EXPECT_THAT(found, ElementsAre(testing::AllOf(HasSubstr("run.json:4:"), HasSubstr(GetParam().said))))
      << GetParam().keys;
}
INSTANTIATE_TEST_SUITE_P(
    Faults, ConnectionFaultsOdd,
    testing::Values(Wrong{R"("set_back_mm": 20)", "no pipe of its own slides back"},
                    Wrong{R"("fitting": "saddle", "gap_mm": 9)", "no pipe of its own has a gap"},
                    Wrong{R"("fitting": "cut-in", "set_back_mm": 20, "intrudes_percent": 5)",
                          "cannot lie behind the wall and reach in"},
                    Wrong{R"("fitting": "cut-in", "gap_mm": 9, "gap_clock": [2, 2.5])", "too short an arc"},
                    Wrong{R"("gap_clock": [2, 5])", "an arc of nothing"},
                    Wrong{R"("broken_clock": [2, 5])", "an arc of nothing"},
                    Wrong{R"("fitting": "cut-in", "intrudes_percent": 10, "broken_mm": 20)",
                          "broken deeper than it reaches in"},
                    Wrong{R"("closed": true, "blocked_percent": 30)", "what blocks it is not seen"},
                    Wrong{R"("closed": true, "flow_l_s": 0.2)", "nothing runs in where it is closed"},
                    Wrong{R"("flow_l_s": 30)", "more than a pipe of 100 mm carries"},
                    Wrong{R"("brings": "foul")", "it brings nothing"},
                    Wrong{R"("water": "cloudy")", "it brings nothing"},
                    Wrong{R"("stop": "plug")", "it is not closed"}));

}  // namespace
}  // namespace haunch::scenario
