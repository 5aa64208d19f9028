// SPDX-License-Identifier: Apache-2.0
// Places that were mended, and water that leaves: what files say of them, and what makes no sense.
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

std::string with(const std::string& faults, const std::string& pipe = {}) {
  return R"({ "kind": "scenario", "edition": 1, "title": "Clay",
"pipe": { "bore_mm": 150, "length_m": 10, )" +
         pipe + R"("sections": [ { "to_m": 10, "material": "clay", "unit_length_m": 1 } ] },
"faults": [ )" +
         faults + " ] }";
}
std::vector<std::string> lines(const std::string& faults, const std::string& pipe = {}) {
  std::vector<std::string> found;
  const auto read = scenario_from_json(with(faults, pipe), "run.json");
  for (const base::Problem& problem : read.problems()) found.push_back(base::to_line(problem));
  return found;
}

TEST(RepairFaults, AreReadAsWritten) {
  const auto read = scenario_from_json(with(R"(
{ "kind": "repair", "at_m": 1.4, "clock": 2, "form": "patch", "length_mm": 80, "width_mm": 60 },
{ "kind": "repair", "at_m": 3, "clock": [5, 8], "form": "mortar in joint", "flaw": "cracked", "crack_mm": 2, "direction": "round" },
{ "kind": "repair", "at_m": 4, "form": "sealant in joint", "flaw": "excess", "takes_percent": 6 },
{ "kind": "connection", "at_m": 5.5, "clock": 10, "bore_mm": 100, "fitting": "branch" },
{ "kind": "repair", "at_m": 5.5, "form": "connection lining", "flaw": "not reaching" },
{ "kind": "exfiltration", "at_m": 7, "clock": 6, "loses_percent": 40 })",
                                            R"("flow_l_s": 0.1, )"),
                                       "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_THAT(read.problems(), IsEmpty());
  const std::vector<Fault>& faults = read.value().faults;
  EXPECT_EQ(std::get<Repair>(faults[0].kind).form, RepairForm::patch);
  EXPECT_EQ(std::get<Repair>(faults[0].kind).width_mm, 60);
  EXPECT_EQ(std::get<Repair>(faults[1].kind).flaw, RepairFlaw::cracked);
  EXPECT_EQ(std::get<Repair>(faults[1].kind).way, FoldWay::around);
  EXPECT_EQ(std::get<Repair>(faults[2].kind).takes_percent, 6);
  EXPECT_EQ(std::get<Repair>(faults[4].kind).form, RepairForm::connection_lining);
  EXPECT_EQ(std::get<Exfiltration>(faults[5].kind).loses_percent, 40);
}

struct Wrong {
  const char* fault;
  const char* said;
};
class RepairFaultsOdd : public testing::TestWithParam<Wrong> {};
TEST_P(RepairFaultsOdd, AreSaidToBe) {
  EXPECT_THAT(lines(GetParam().fault, R"("flow_l_s": 0.1, )"), ElementsAre(HasSubstr(GetParam().said)))
      << GetParam().fault;
}
INSTANTIATE_TEST_SUITE_P(
    Faults, RepairFaultsOdd,
    testing::Values(
        Wrong{R"({ "kind": "repair", "at_m": 1.4, "form": "patch", "length_mm": 80, "width_mm": 60 })",
              "a patch is at one place of the wall"},
        Wrong{R"({ "kind": "repair", "at_m": 1.4, "clock": 2, "form": "patch" })",
              "how large the hole under the patch is"},
        Wrong{
            R"({ "kind": "repair", "at_m": 1.4, "clock": 2, "form": "patch", "length_mm": 80, "width_mm": 400 })",
            "would not hold"},
        Wrong{R"({ "kind": "repair", "from_m": 1, "to_m": 2, "form": "mortar in joint" })", "at one place"},
        Wrong{R"({ "kind": "repair", "at_m": 1.4, "form": "mortar in joint" })",
              "there is no joint at 1.4 m"},
        Wrong{R"({ "kind": "repair", "at_m": 2, "form": "mortar in joint", "length_mm": 50 })",
              "there is no hole under this form"},
        Wrong{R"({ "kind": "repair", "at_m": 2, "form": "mortar in joint", "flaw": "holed" })",
              "this cannot be wrong with such a repair"},
        Wrong{R"({ "kind": "repair", "at_m": 2, "form": "mortar in joint", "flaw": "excess" })",
              "how much of the bore it takes is not said"},
        Wrong{R"({ "kind": "repair", "at_m": 2, "form": "mortar in joint", "takes_percent": 5 })",
              "only what is too much takes of the bore"},
        Wrong{R"({ "kind": "repair", "at_m": 2, "form": "mortar in joint", "flaw": "cracked" })",
              "how wide the crack is open is not said"},
        Wrong{R"({ "kind": "repair", "at_m": 2.5, "form": "connection lining" })",
              "there is no connection at 2.5 m"},
        Wrong{R"({ "kind": "repair", "from_m": 0, "to_m": 10, "form": "pipe replaced" })",
              "the whole run is of one section"},
        Wrong{R"({ "kind": "repair", "from_m": 2, "to_m": 4, "form": "pipe replaced" })",
              "a replaced pipe is a section of its own"},
        Wrong{R"({ "kind": "exfiltration", "at_m": 2, "clock": 12, "loses_percent": 50 })",
              "water leaves by the bottom of the pipe"},
        Wrong{R"({ "kind": "exfiltration", "at_m": 2.5, "clock": 6, "loses_percent": 50 })",
              "nothing here for the water to go out by"},
        Wrong{R"({ "kind": "exfiltration", "at_m": 2, "clock": 6, "loses_percent": 5 })", "20"}));

TEST(ExfiltrationFaults, NeedWaterThatRuns) {
  EXPECT_THAT(lines(R"({ "kind": "exfiltration", "at_m": 2, "clock": 6, "loses_percent": 50 })"),
              ElementsAre(HasSubstr("no water runs in this pipe")));
}

}  // namespace
}  // namespace haunch::scenario
