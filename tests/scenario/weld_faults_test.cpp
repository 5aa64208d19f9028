// SPDX-License-Identifier: Apache-2.0
// Failed welds as files say them, and where nobody welds.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scenario/problems.hpp"

namespace haunch::scenario {
namespace {

using scene::FailedWeld;
using scene::WeldWay;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string in(const std::string& material, const std::string& weld) {
  return R"({
"kind": "scenario", "edition": 1, "title": "Ten metres",
"pipe": { "bore_mm": 200, "length_m": 10, "sections": [ { "to_m": 10, "material": ")" +
         material + R"(", "unit_length_m": 2 } ] },
"faults": [
{ "kind": "failed weld", )" +
         weld + " }\n] }\n";
}
std::vector<std::string> lines(const std::string& weld, const std::string& material = "polyethylene") {
  return scenario_test::problems(in(material, weld));
}

TEST(FailedWelds, AreReadAsWritten) {
  const auto of = [](const std::string& weld) {
    return std::get<FailedWeld>(scenario_from_json(in("polyethylene", weld), "run.json").value().faults.at(0).kind);
  };
  const FailedWeld round = of(R"("at_m": 4, "clock": [10, 2], "gap_mm": 3)");
  EXPECT_EQ(round.way, WeldWay::around);
  EXPECT_EQ(round.gap_mm, 3);
  EXPECT_EQ(of(R"("from_m": 3, "to_m": 3.5, "clock": 10, "gap_mm": 3)").way, WeldWay::along);
  const FailedWeld spiral = of(R"("from_m": 3, "to_m": 3.5, "direction": "spiral", "clock": [7, 4], "gap_mm": 3)");
  EXPECT_EQ(spiral.way, WeldWay::spiral);
  EXPECT_EQ(spiral.arc.to_h, 4);
}

TEST(FailedWelds, StandWhereThereIsAWeld) {
  EXPECT_THAT(lines(R"("at_m": 4, "clock": [10, 2], "gap_mm": 3)"), IsEmpty());
  EXPECT_THAT(lines(R"("at_m": 4.7, "clock": [10, 2], "gap_mm": 3)"),
              ElementsAre(HasSubstr("the nearest is at 4 m")));
  EXPECT_THAT(lines(R"("at_m": 4, "clock": [10, 2], "gap_mm": 3)", "PVC"),
              ElementsAre(AllOf(HasSubstr("nobody welds PVC"), HasSubstr("polyethylene"))));
}

TEST(FailedWelds, GoTheWayTheySay) {
  EXPECT_THAT(lines(R"("from_m": 3, "to_m": 4, "direction": "round", "clock": [10, 2], "gap_mm": 3)"),
              ElementsAre(HasSubstr("at one place")));
  EXPECT_THAT(lines(R"("at_m": 4, "direction": "along", "clock": 10, "gap_mm": 3)"),
              ElementsAre(HasSubstr("needs a length")));
  EXPECT_THAT(lines(R"("from_m": 3, "to_m": 4, "clock": [10, 2], "gap_mm": 3)"),
              ElementsAre(HasSubstr("stands at one hour")));
  EXPECT_THAT(lines(R"("at_m": 4, "clock": 10, "gap_mm": 3)"), ElementsAre(HasSubstr("over an arc")));
  EXPECT_THAT(lines(R"("from_m": 3, "to_m": 4, "direction": "spiral", "clock": [10, 11], "gap_mm": 3)"),
              ElementsAre(HasSubstr("at least 3 hours")));
  EXPECT_THAT(lines(R"("at_m": 4, "clock": [10, 2], "gap_mm": 40)"), ElementsAre(HasSubstr("gap_mm")));
}

}  // namespace
}  // namespace haunch::scenario
