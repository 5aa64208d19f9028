// SPDX-License-Identifier: Apache-2.0
// What no picture shows: what files say of it, and what makes no sense.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "scenario/problems.hpp"
#include "scenario/read.hpp"

namespace haunch::scenario {
namespace {

using namespace scene;

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string with(const std::string& notes) {
  return R"({ "kind": "scenario", "edition": 1, "title": "Clay",
"pipe": { "bore_mm": 150, "length_m": 10, "sections": [ { "to_m": 10, "material": "clay" } ] },
"notes": [
)" + notes +
         "\n] }";
}
std::vector<std::string> lines(const std::string& notes) { return scenario_test::problems(with(notes)); }

TEST(ScenarioNotes, AreReadAsWritten) {
  const auto read = scenario_from_json(with(R"(
{ "kind": "air", "at_m": 0, "gas": "methane", "reading": 4, "unit": "% LEL" },
{ "kind": "air", "at_m": 1, "gas": "other", "reading": 30, "unit": "ppm", "text": "petrol vapour" },
{ "kind": "remark", "at_m": 2, "text": "under the wall", "note": "for people" },
{ "kind": "photograph", "at_m": 3 },
{ "kind": "new video", "at_m": 4, "text": "V2" },
{ "kind": "new photographs", "at_m": 5, "text": "P2" },
{ "kind": "weather", "at_m": 6, "text": "rain" })"),
                                       "run.json");
  ASSERT_TRUE(read.ok()) << base::to_line(read.problems().front());
  EXPECT_THAT(read.problems(), IsEmpty());
  const std::vector<Note>& notes = read.value().notes;
  ASSERT_EQ(notes.size(), 7U);
  EXPECT_EQ(notes[0].kind, NoteKind::air);
  EXPECT_EQ(notes[0].gas, Gas::methane);
  EXPECT_EQ(notes[0].reading, 4);
  EXPECT_EQ(notes[0].unit, "% LEL");
  EXPECT_EQ(notes[1].text, "petrol vapour");
  EXPECT_EQ(notes[2].kind, NoteKind::remark);
  EXPECT_EQ(notes[2].at_m, 2);
  EXPECT_EQ(notes[3].kind, NoteKind::photograph);
  EXPECT_EQ(notes[4].kind, NoteKind::new_video);
  EXPECT_EQ(notes[5].kind, NoteKind::new_photographs);
  EXPECT_EQ(notes[6].kind, NoteKind::weather);
}

TEST(ScenarioNotes, WhatMakesNoSenseIsNamedWithItsPlace) {
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 12, "gas": "methane", "reading": 1, "unit": "%" })"),
              ElementsAre(AllOf(HasSubstr("run.json:4:"), HasSubstr("past the end of the pipe"))));
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 0, "gas": "oxygen", "reading": 20.9, "unit": "%" })"),
              ElementsAre(AllOf(HasSubstr("not too little"), HasSubstr("20.9 %"))));
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 0, "gas": "oxygen", "reading": 18, "unit": "ppm" })"),
              ElementsAre(HasSubstr("in percent of the air")));
  EXPECT_THAT(
      lines(R"({ "kind": "air", "at_m": 0, "gas": "hydrogen sulphide", "reading": 1, "unit": "% LEL" })"),
      ElementsAre(HasSubstr("long before it can explode")));
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 0, "gas": "methane", "reading": 101, "unit": "%" })"),
              ElementsAre(HasSubstr("more than all of the air")));
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 0, "gas": "other", "reading": 3, "unit": "ppm" })"),
              ElementsAre(HasSubstr("which gas")));
}

TEST(ScenarioNotes, WhatIsMissingOrUnknownIsNamedOnce) {
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 0, "gas": "methane", "reading": 1 })"),
              ElementsAre(HasSubstr("unit")));
  EXPECT_THAT(lines(R"({ "kind": "air", "at_m": 0, "gas": "methan", "reading": 1, "unit": "%" })"),
              ElementsAre(HasSubstr("methane")));
  EXPECT_THAT(lines(R"({ "kind": "remark", "at_m": 0 })"), ElementsAre(HasSubstr("text")));
  EXPECT_THAT(lines(R"({ "kind": "smell", "at_m": 0 })"), ElementsAre(HasSubstr("smell")));
  EXPECT_THAT(lines(R"({ "kind": "remark", "at_m": 0, "text": "x", "gas": "methane" })"),
              ElementsAre(HasSubstr("gas")));
}

}  // namespace
}  // namespace haunch::scenario
