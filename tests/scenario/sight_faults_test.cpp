// SPDX-License-Identifier: Apache-2.0
// What takes the sight, and what the camera's window looks like: what files
// say, and what makes no sense.
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

std::string with(const std::string& faults, const std::string& camera = "{}", const std::string& pipe = "") {
  return R"({ "kind": "scenario", "edition": 1, "title": "Clay",
"pipe": { "bore_mm": 150, "length_m": 10, "gradient_percent": 1,
)" + pipe +
         R"(
"sections": [ { "to_m": 10, "material": "clay", "unit_length_m": 1 } ] },
"faults": [ )" +
         faults + " ], \"camera\": " + camera + " }";
}
std::vector<std::string> lines(const std::string& text) { return scenario_test::problems(text); }

TEST(SightFaults, AreReadAsWritten) {
  const auto read =
      scenario_from_json(with(R"(
{ "kind": "steam", "from_m": 1, "to_m": 3, "sight_m": 0.2 },
{ "kind": "stirred silt", "from_m": 5, "to_m": 7, "sight_m": 0.1 },
{ "kind": "on lens", "from_m": 8, "to_m": 9, "matter": "web", "covers_percent": 40 })",
                              "{}", R"("low_spots": [ { "from_m": 4, "to_m": 8, "depth_mm": 160 } ],)"),
                         "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_THAT(read.problems(), IsEmpty());
  const std::vector<Fault>& faults = read.value().faults;
  EXPECT_EQ(std::get<Haze>(faults[0].kind).kind, HazeKind::steam);
  EXPECT_EQ(std::get<Haze>(faults[0].kind).sight_m, 0.2);
  EXPECT_EQ(std::get<Haze>(faults[1].kind).kind, HazeKind::silt);
  EXPECT_EQ(std::get<OnLens>(faults[2].kind).film, LensFilm::web);
  EXPECT_EQ(std::get<OnLens>(faults[2].kind).covers_percent, 40);
  EXPECT_EQ(stretch_of(faults[2]).to_m, 9);
  std::vector<std::string> words;
  for (const Fault& fault : faults) words.push_back(kind_word(fault));
  EXPECT_THAT(words, ElementsAre("steam", "stirred silt", "on lens"));
}

TEST(SightFaults, ThatMakeNoSenseAreNamedWithTheirPlace) {
  EXPECT_THAT(lines(with(R"(
{ "kind": "steam", "from_m": 3, "to_m": 2, "sight_m": 0.2 },
{ "kind": "steam", "from_m": 3, "to_m": 12, "sight_m": 0.2 },
{ "kind": "on lens", "from_m": 8, "to_m": 9, "matter": "soap", "covers_percent": 140 },
{ "kind": "steam", "from_m": 3, "to_m": 4, "sight_m": 0 })")),
              testing::UnorderedElementsAre(
                  HasSubstr("run.json:6:41: the steam ends at 2 m, before it begins at 3 m"),
                  HasSubstr("run.json:7:41: the end of the steam at 12 m lies past the "
                            "end of the pipe"),
                  HasSubstr("run.json:8:"), HasSubstr("run.json:8:"), HasSubstr("run.json:9:")));
}

TEST(SightFaults, SiltThatNoLensGoesIntoIsRemarkedOn) {
  const auto read = scenario_from_json(
      with(R"({ "kind": "stirred silt", "from_m": 5, "to_m": 7, "sight_m": 0.1 })"), "run.json");
  ASSERT_TRUE(read.ok());
  ASSERT_EQ(read.problems().size(), 1U);
  EXPECT_EQ(read.problems()[0].severity, base::Severity::warning);
  EXPECT_THAT(base::to_line(read.problems()[0]), HasSubstr("the lens stays above the water"));
}

TEST(WaterLooks, AreReadAsWrittenAndColoursHaveSense) {
  const auto water = [](const std::string& words) { return with("", "{}", words); };
  const auto read =
      scenario_from_json(water(R"("water": "cloudy and coloured", "water_colour": "milky",)"), "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_EQ(read.value().water, WaterLook::cloudy_coloured);
  EXPECT_EQ(read.value().water_colour, WaterColour::milky);
  EXPECT_THAT(lines(water(R"("water": "coloured", "water_colour": "red",)")), IsEmpty());
  EXPECT_THAT(lines(water(R"("water": "coloured",)")),
              ElementsAre(HasSubstr("run.json:3:10: coloured water has a colour")));
  EXPECT_THAT(lines(water(R"("water": "clear", "water_colour": "red",)")),
              ElementsAre(HasSubstr("run.json:3:35: the water is not said to be coloured")));
  EXPECT_THAT(lines(water(R"("water": "coloured", "water_colour": "milky",)")),
              ElementsAre(HasSubstr("nobody sees through water of this colour")));
}

}  // namespace
}  // namespace haunch::scenario
