// SPDX-License-Identifier: Apache-2.0
// Things and water in the bore, broken walls and hanging rings: what files say of them, and what makes no
// sense.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <variant>
#include <vector>

#include "scenario/problems.hpp"
#include "scenario/read.hpp"

namespace haunch::scenario {
namespace {

using namespace scene;

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string with(const std::string& faults) {
  return R"({ "kind": "scenario", "edition": 1, "title": "Clay",
"pipe": { "bore_mm": 150, "length_m": 10, "sections": [ { "to_m": 10, "material": "clay", "unit_length_m": 1 } ] },
"faults": [ )" +
         faults + " ] }";
}
std::vector<std::string> lines(const std::string& faults) { return scenario_test::problems(with(faults)); }

TEST(ObjectFaults, AreReadAsWritten) {
  const auto read = scenario_from_json(with(R"(
{ "kind": "obstacle", "at_m": 1.4, "form": "brick", "takes_percent": 12 },
{ "kind": "obstacle", "at_m": 2.4, "form": "crossing", "clock": [9, 3], "takes_percent": 16 },
{ "kind": "soil", "at_m": 3, "clock": 2, "form": "peat", "takes_percent": 9 },
{ "kind": "infiltration", "at_m": 4, "clock": 11, "form": "gushes" },
{ "kind": "vermin", "at_m": 4.5, "form": "cockroach", "count": 3 },
{ "kind": "break", "at_m": 5.5, "clock": 2, "length_mm": 160, "width_mm": 90, "moved_mm": 14 },
{ "kind": "collapse", "at_m": 6.5, "clock": 12, "length_mm": 300, "width_mm": 200, "takes_percent": 55 },
{ "kind": "sealing ring", "at_m": 8, "clock": [10, 2], "hangs_mm": 40, "torn": true },
{ "kind": "hole", "at_m": 9.5, "clock": 2, "length_mm": 50, "width_mm": 40, "behind": "void" })"),
                                       "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_THAT(read.problems(), IsEmpty());
  const std::vector<Fault>& faults = read.value().faults;
  EXPECT_EQ(std::get<Obstacle>(faults[0].kind).form, ObstacleForm::brick);
  EXPECT_EQ(std::get<Obstacle>(faults[0].kind).takes_percent, 12);
  EXPECT_EQ(std::get<Obstacle>(faults[1].kind).arc, (base::ClockArc{9, 3, false}));
  EXPECT_EQ(std::get<SoilIngress>(faults[2].kind).kind, SoilKind::peat);
  EXPECT_EQ(std::get<Infiltration>(faults[3].kind).rate, WaterRate::gushes);
  EXPECT_EQ(std::get<Vermin>(faults[4].kind).count, 3);
  EXPECT_FALSE(std::get<BrokenWall>(faults[5].kind).fallen_in);
  EXPECT_EQ(std::get<BrokenWall>(faults[5].kind).moved_mm, 14);
  EXPECT_TRUE(std::get<BrokenWall>(faults[6].kind).fallen_in);
  EXPECT_TRUE(std::get<SealingRing>(faults[7].kind).torn);
  EXPECT_EQ(std::get<Hole>(faults[8].kind).behind, Behind::nothing);
}

struct Wrong {
  const char* fault;
  const char* said;
};
class ObjectFaultsOdd : public testing::TestWithParam<Wrong> {};
TEST_P(ObjectFaultsOdd, AreSaidToBe) {
  EXPECT_THAT(lines(GetParam().fault), ElementsAre(HasSubstr(GetParam().said))) << GetParam().fault;
}
INSTANTIATE_TEST_SUITE_P(
    Faults, ObjectFaultsOdd,
    testing::Values(
        Wrong{R"({ "kind": "obstacle", "at_m": 1.4, "form": "brick", "clock": 3, "takes_percent": 12 })",
              "its place round the wall follows"},
        Wrong{R"({ "kind": "obstacle", "at_m": 1.4, "form": "brick", "takes_percent": 80 })",
              "more than such a thing"},
        Wrong{R"({ "kind": "obstacle", "at_m": 1.4, "form": "crossing", "clock": 3, "takes_percent": 12 })",
              "comes in at one place and goes out at another"},
        Wrong{R"({ "kind": "obstacle", "at_m": 1.4, "form": "through wall", "takes_percent": 8 })",
              "one hour"},
        Wrong{R"({ "kind": "obstacle", "at_m": 1.4, "form": "in joint", "clock": 3, "takes_percent": 8 })",
              "no joint at 1.4 m"},
        Wrong{R"({ "kind": "obstacle", "at_m": 1.4, "form": "from connection", "takes_percent": 8 })",
              "no connection at 1.4 m"},
        Wrong{R"({ "kind": "soil", "at_m": 1.4, "clock": 2, "form": "sand", "takes_percent": 8 })",
              "nothing here for the soil to come in by"},
        Wrong{R"({ "kind": "infiltration", "at_m": 1.4, "clock": 2, "form": "flows" })",
              "nothing here for the water to come in by"},
        Wrong{R"({ "kind": "infiltration", "at_m": 1, "clock": 6, "form": "drips" })", "does not drip"},
        Wrong{
            R"({ "kind": "break", "at_m": 1.5, "clock": 2, "length_mm": 100, "width_mm": 90, "moved_mm": 60 })",
            "do not stay up"},
        Wrong{
            R"({ "kind": "break", "at_m": 1.5, "clock": 2, "length_mm": 100, "width_mm": 400, "moved_mm": 10 })",
            "nothing held it up"},
        Wrong{R"({ "kind": "sealing ring", "at_m": 1, "clock": 2, "hangs_mm": 10 })", "between two places"},
        Wrong{R"({ "kind": "sealing ring", "at_m": 1.5, "clock": [10, 2], "hangs_mm": 10 })",
              "no joint at 1.5 m"},
        Wrong{R"({ "kind": "sealing ring", "at_m": 1, "clock": [10, 2], "hangs_mm": 149 })",
              "through the other side"},
        Wrong{R"({ "kind": "sealing ring", "at_m": 1, "clock": [10, 2], "hangs_mm": 0, "torn": true })",
              "a torn ring hangs in"}));

TEST(ObjectFaults, ComeInWhereAConnectionOrAHoleIs) {
  EXPECT_THAT(lines(R"({ "kind": "connection", "at_m": 1.4, "clock": 2, "bore_mm": 100 },
{ "kind": "obstacle", "at_m": 1.42, "form": "from connection", "takes_percent": 8 })"),
              IsEmpty());
  EXPECT_THAT(lines(R"({ "kind": "hole", "at_m": 1.5, "clock": 2, "length_mm": 50, "width_mm": 50 },
{ "kind": "soil", "at_m": 1.5, "clock": 2, "form": "gravel", "takes_percent": 8 })"),
              IsEmpty());
}

}  // namespace
}  // namespace haunch::scenario
