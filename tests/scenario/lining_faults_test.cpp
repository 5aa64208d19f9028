// SPDX-License-Identifier: Apache-2.0
// Linings and what is wrong with them: what files say of them, and what makes no sense.
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

TEST(LiningFaults, AreReadAsWritten) {
  const auto read = scenario_from_json(with(R"(
{ "kind": "short lining", "from_m": 2, "to_m": 4, "thickness_mm": 5, "finish": "glass" },
{ "kind": "short lining", "from_m": 6, "to_m": 7 },
{ "kind": "lining defect", "from_m": 2, "to_m": 2.5, "clock": [10, 2], "form": "come away", "percent": 14 },
{ "kind": "lining defect", "from_m": 2.6, "to_m": 2.9, "form": "wrinkled", "direction": "spiral", "percent": 6 },
{ "kind": "lining defect", "from_m": 3.9, "to_m": 4, "form": "end open", "clock": [3, 9], "width_mm": 8 },
{ "kind": "lining defect", "from_m": 6.2, "to_m": 6.6, "form": "seam off", "clock": 11 })"),
                                       "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_THAT(read.problems(), IsEmpty());
  const std::vector<Fault>& faults = read.value().faults;
  EXPECT_EQ(std::get<ShortLining>(faults[0].kind).thickness_mm, 5);
  EXPECT_EQ(std::get<ShortLining>(faults[0].kind).finish, LiningFinish::glass);
  EXPECT_EQ(std::get<ShortLining>(faults[1].kind).thickness_mm, 4);
  EXPECT_EQ(std::get<LiningDefect>(faults[2].kind).form, LiningForm::come_away);
  EXPECT_EQ(std::get<LiningDefect>(faults[2].kind).percent, 14);
  EXPECT_EQ(std::get<LiningDefect>(faults[3].kind).way, FoldWay::spiral);
  EXPECT_EQ(std::get<LiningDefect>(faults[4].kind).width_mm, 8);
  EXPECT_EQ(std::get<LiningDefect>(faults[5].kind).form, LiningForm::seam_off);
}

struct Wrong {
  const char* fault;
  const char* said;
};
class LiningFaultsOdd : public testing::TestWithParam<Wrong> {};
TEST_P(LiningFaultsOdd, AreSaidToBe) {
  const std::string lining = R"({ "kind": "short lining", "from_m": 2, "to_m": 4 }, )";
  EXPECT_THAT(lines(lining + GetParam().fault), ElementsAre(HasSubstr(GetParam().said))) << GetParam().fault;
}
INSTANTIATE_TEST_SUITE_P(
    Faults, LiningFaultsOdd,
    testing::Values(
        Wrong{R"({ "kind": "lining defect", "from_m": 5, "to_m": 5.4, "form": "soft" })",
              "nothing is lined at 5.2 m"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3.5, "to_m": 4.2, "form": "soft" })",
              "the lining reaches from 2 m to 4 m only"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "poor end" })",
              "only where the lining ends"},
        Wrong{
            R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "bulging in", "clock": [1, 3] })",
            "how much of the bore it takes is not said"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "soft", "percent": 5 })",
              "this takes nothing of the bore"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "cracked" })",
              "how far it is open is not said"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "soft", "width_mm": 5 })",
              "this has no opening"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "seam off" })",
              "a seam runs along the pipe at one place"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "soft", "clock": 3 })",
              "covers an arc"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.1, "form": "holed" })",
              "on one side of the pipe"},
        Wrong{R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.2, "form": "wrinkled", "percent": 50 })",
              "more than such a defect can take"},
        Wrong{R"({ "kind": "short lining", "from_m": 3.5, "to_m": 5 })", "the pipe is lined here already"},
        Wrong{R"({ "kind": "short lining", "from_m": 5, "to_m": 5.1 })", "a lining so short would not hold"},
        Wrong{R"({ "kind": "short lining", "from_m": 5, "to_m": 6, "thickness_mm": 20 })",
              "too thick for this bore"},
        Wrong{R"({ "kind": "roots", "at_m": 3, "clock": [10, 2], "form": "fine", "blocks_percent": 5 })",
              "roots do not come through a lining"},
        Wrong{R"({ "kind": "infiltration", "at_m": 3, "clock": 12, "form": "drips" })",
              "water does not come through a lining"},
        Wrong{R"({ "kind": "grease", "from_m": 3, "to_m": 3.5, "covers_percent": 5 })",
              "cannot be drawn yet"}));

/// Clay for 4 m, then liner to the end.
std::vector<std::string> in_a_liner(const std::string& faults) {
  return scenario_test::problems(R"({ "kind": "scenario", "edition": 1, "title": "Lined",
"pipe": { "bore_mm": 150, "length_m": 10,
  "sections": [ { "to_m": 4, "material": "clay", "unit_length_m": 1 }, { "to_m": 10, "material": "liner" } ] },
"faults": [ )" + faults + " ] }");
}
TEST(LiningFaults, StandInASectionThatIsALiner) {
  EXPECT_THAT(in_a_liner(R"(
{ "kind": "lining defect", "from_m": 4, "to_m": 4.1, "form": "poor end" },
{ "kind": "lining defect", "from_m": 6, "to_m": 6.4, "form": "wrinkled", "clock": [9, 3], "percent": 6 },
{ "kind": "lining defect", "from_m": 7, "to_m": 7.6, "form": "seam off", "clock": 11 },
{ "kind": "lining defect", "from_m": 9.9, "to_m": 10, "form": "end open", "clock": [3, 9], "width_mm": 8 })"),
              IsEmpty());
  EXPECT_THAT(in_a_liner(R"({ "kind": "lining defect", "from_m": 3, "to_m": 3.4, "form": "soft" })"),
              ElementsAre(HasSubstr("nothing is lined at 3.2 m")));
  EXPECT_THAT(in_a_liner(R"({ "kind": "lining defect", "from_m": 3.7, "to_m": 4.6, "form": "soft" })"),
              ElementsAre(HasSubstr("the lining reaches from 4 m to 10 m only")));
  EXPECT_THAT(in_a_liner(R"({ "kind": "lining defect", "from_m": 6, "to_m": 6.1, "form": "poor end" })"),
              ElementsAre(HasSubstr("only where the lining ends, at 4 m or 10 m")));
}
TEST(LiningFaults, ComeOffOneSeamOnly) {
  EXPECT_THAT(in_a_liner(R"(
{ "kind": "lining defect", "from_m": 6, "to_m": 6.6, "form": "seam off", "clock": 11 },
{ "kind": "lining defect", "from_m": 7, "to_m": 7.6, "form": "seam off", "clock": 1 })"),
              ElementsAre(HasSubstr("said to be at another clock too")));
  EXPECT_THAT(in_a_liner(R"(
{ "kind": "lining defect", "from_m": 6, "to_m": 6.6, "form": "seam off", "clock": 11 },
{ "kind": "lining defect", "from_m": 7, "to_m": 7.6, "form": "seam off", "clock": 11 })"),
              IsEmpty());
}

}  // namespace
}  // namespace haunch::scenario
