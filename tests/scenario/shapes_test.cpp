// SPDX-License-Identifier: Apache-2.0
// Sections that are not circular, as files say them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scenario/problems.hpp"
#include "scenario/read.hpp"

namespace haunch::scenario {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string run(const std::string& section, const std::string& faults = "") {
  return R"({ "kind": "scenario", "edition": 1, "title": "x", "pipe": { "bore_mm": 200, "length_m": 10, "sections": [
{ "to_m": 5, "material": "concrete", "unit_length_m": 1 },
{ "to_m": 10, "material": "concrete", "unit_length_m": 1, )" +
         section + " } ] },\n\"faults\": [\n" + faults + "\n] }";
}

std::vector<std::string> lines(const std::string& text) { return scenario_test::problems(text); }

TEST(PipeShapes, AreReadWithTheirHeight) {
  const auto egg = scenario_from_json(run(R"("shape": "egg")"), "run.json");
  ASSERT_TRUE(egg.ok());
  EXPECT_EQ(egg.value().sections[0].shape, scene::PipeShape::circular);
  EXPECT_EQ(egg.value().sections[1].shape, scene::PipeShape::egg);
  EXPECT_EQ(scene::clear_height_mm(egg.value().sections[1]), 300);
  const auto box = scenario_from_json(run(R"("shape": "rectangular", "height_mm": 150)"), "run.json");
  ASSERT_TRUE(box.ok());
  EXPECT_EQ(scene::clear_height_mm(box.value().sections[1]), 150);
  const auto square = scenario_from_json(run(R"("shape": "rectangular")"), "run.json");
  ASSERT_TRUE(square.ok());
  EXPECT_EQ(scene::clear_height_mm(square.value().sections[1]), 200);
}

TEST(PipeShapes, HaveAHeightOfTheirOwnOnlyWhereItIsNotGiven) {
  EXPECT_THAT(
      lines(run(R"("shape": "egg", "height_mm": 300)")),
      ElementsAre(AllOf(HasSubstr("run.json:3:"), HasSubstr("an egg is half as high again as wide"))));
  EXPECT_THAT(lines(run(R"("height_mm": 300)")), ElementsAre(HasSubstr("a circular pipe has one bore")));
  EXPECT_THAT(lines(run(R"("shape": "rectangular", "height_mm": 900)")),
              ElementsAre(AllOf(HasSubstr("200 mm wide and 900 mm high"), HasSubstr("from 80 to 500 mm"))));
  EXPECT_THAT(lines(run(R"("shape": "oval")")), ElementsAre(AllOf(HasSubstr("oval"), HasSubstr("egg"))));
}

TEST(PipeShapes, TakeOnlyFaultsThatCanBeDrawnInThem) {
  const auto at = [](const char* z) {
    return std::string(R"({ "kind": "connection", "at_m": )") + z + R"(, "clock": 2, "bore_mm": 80 })";
  };
  EXPECT_THAT(lines(run(R"("shape": "egg")", at("2.5"))), IsEmpty());
  EXPECT_THAT(lines(run(R"("shape": "egg")", at("7.5"))),
              ElementsAre(AllOf(HasSubstr("run.json:5:1"), HasSubstr("the connection at 7.5 m"),
                                HasSubstr("a pipe that is egg: its mouth is cut out of a round wall"),
                                HasSubstr("in a circular pipe"))));
  for (const char* const fits :
       {R"({ "kind": "obstacle", "at_m": 7.5, "form": "bottle", "takes_percent": 6 })",
        R"({ "kind": "infiltration", "at_m": 7, "clock": 2, "form": "flows" })",
        R"({ "kind": "vermin", "at_m": 7.5, "form": "rat" })",
        R"({ "kind": "short lining", "from_m": 6, "to_m": 8 })"})
    for (const char* const shape : {R"("shape": "egg")", R"("shape": "rectangular")"})
      EXPECT_THAT(lines(run(shape, fits)), IsEmpty()) << fits;
  const std::string damage = R"({ "kind": "porous wall", "from_m": 4, "to_m": 6, "clock": [8, 4] })";
  EXPECT_THAT(lines(run(R"("shape": "rectangular")", damage)), IsEmpty());
  const std::string broken =
      R"({ "kind": "break", "at_m": 7.5, "clock": 2, "length_mm": 90, "width_mm": 60, "moved_mm": 6 })";
  EXPECT_THAT(lines(run(R"("shape": "rectangular")", broken)),
              ElementsAre(HasSubstr("the break at 7.455 m")));
  const std::string squashed =
      R"({ "kind": "squashed", "from_m": 6, "to_m": 8, "direction": "vertical", "percent": 5 })";
  EXPECT_THAT(lines(run(R"("shape": "egg")", squashed)), ElementsAre(HasSubstr("the squashed at 6 m")));
  EXPECT_THAT(
      lines(run(R"("shape": "egg")",
                R"({ "kind": "crack", "at_m": 7.5, "form": "around", "clock": [8, 4], "width_mm": 1 })")),
      IsEmpty());
}

}  // namespace
}  // namespace haunch::scenario
