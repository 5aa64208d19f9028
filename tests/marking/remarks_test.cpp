// SPDX-License-Identifier: Apache-2.0
// What of an attempt cannot be taken as it stands is said: names and classes that fit nothing, ids given
// twice, things recorded twice.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/json_document.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::Each;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::mark_plain;
using ::testing::Not;
using testing::record_of;
using testing::seen;

coding::Record two_defects() {
  return record_of(
      {seen(0, "BCD", "A"), seen(5, "BBC", "A", "", 25), seen(8, "BBF", "D"), seen(20, "BCE", "A")});
}

std::vector<std::string> remarks_for(const coding::Judgement& judgement) {
  coding::Record attempt = two_defects();
  attempt.judgement = judgement;
  return mark_plain(two_defects(), attempt).remarks;
}

TEST(Remarks, ARightRecordHasNone) {
  EXPECT_THAT(remarks_for(testing::own_classes(two_defects())), IsEmpty());
  EXPECT_THAT(mark_plain(two_defects(), {}).remarks, IsEmpty());
}

TEST(Remarks, ClassesForWhatIsNotThere) {
  EXPECT_THAT(
      remarks_for({{{"O2", {{"operation", 3}}}}, {}, {}}),
      ElementsAre("Classes were given to \"O2\", which the record does not have; they were not counted; "
                  "did you mean \"o2\"?"));
  // Nothing tells which of four ids it was meant to be.
  EXPECT_THAT(
      remarks_for({{{"o9", {{"operation", 3}}}}, {}, {}}),
      ElementsAre("Classes were given to \"o9\", which the record does not have; they were not counted."));
}

TEST(Remarks, AGoalThatTheSchemeDoesNotHave) {
  EXPECT_THAT(
      remarks_for({{{"o3", {{"tightnes", 5}}}}, {}, {}}),
      ElementsAre("BBF D at 8.00 m, \"tightnes\": the scheme has no such goal, only tightness, stability, "
                  "operation; the class given was not counted; did you mean \"tightness\"?"));
}

TEST(Remarks, ClassesOutOfTheRangeOfTheScheme) {
  const auto remarks = remarks_for({{{"o3", {{"tightness", 7}, {"operation", 0}}}}, 9, {}});
  EXPECT_THAT(remarks, ElementsAre("BBF D at 8.00 m, operation: class 0 was given; classes go from 1 to 5.",
                                   "BBF D at 8.00 m, tightness: class 7 was given; classes go from 1 to 5.",
                                   "Object class: class 9 was given; classes go from 0 to 5."));
  EXPECT_THAT(remarks_for({{}, 0, {}}), IsEmpty());
}

TEST(Remarks, TwoClassesForOneThing) {
  coding::Judgement judgement{{{"o3", {{"tightness", 4}}}, {"o3", {{"tightness", 5}}}}, {}, {}};
  const auto remarks = remarks_for(judgement);
  EXPECT_THAT(remarks,
              ElementsAre("BBF D at 8.00 m, tightness: more than one class was given; class 5, the worst, "
                          "was taken."));
  std::swap(judgement.classes[0], judgement.classes[1]);
  EXPECT_EQ(remarks_for(judgement), remarks);
}

TEST(Remarks, StandInTheJsonAsItsSchemaSays) {
  coding::Record attempt = two_defects();
  attempt.judgement = coding::Judgement{{{"o9", {{"operation", 3}}}}, {}, {}};
  const auto document =
      base::JsonDocument::read_text(to_json(mark_plain(two_defects(), attempt)), "m.json", "marking");
  ASSERT_TRUE(document.ok()) << base::to_line(document.problems().front());
  EXPECT_EQ(document.value().root().at("edition"), 1);
  EXPECT_EQ(document.value().root().at("remarks").size(), 1U);
}

TEST(Doubles, OneIdForTwoThingsMakesNoFalseConsequence) {
  const coding::Record truth = two_defects();
  coding::Record attempt = truth;
  attempt.observations[2].id = attempt.observations[1].id;  // all there, "o2" twice
  const Marking marking = mark_plain(truth, attempt);
  EXPECT_EQ(marking.score, 100);
  EXPECT_THAT(marking.consequence.sentences, IsEmpty());
  EXPECT_THAT(marking.remarks,
              ElementsAre("The id \"o2\" names 2 observations; it stands for the first along the "
                          "pipe, and the others were given ids of their own: o2/2."));
  // In the truth as well; what could not be seen by that name could not be seen at all.
  EXPECT_EQ(mark_plain(attempt, truth).score, 100);
  coding::Record hidden = attempt;
  hidden.not_visible = {{"o2", "mud"}};
  EXPECT_THAT(mark_plain(hidden, record_of({seen(0, "BCD", "A"), seen(20, "BCE", "A")})).missed, IsEmpty());
}

TEST(Doubles, OrderNeverMatters) {
  base::Random random(8);
  for (int i = 0; i < 60; ++i) {
    const coding::Record truth = testing::random_record(random);
    coding::Record attempt = testing::careless(truth, random);
    for (coding::Observation& one : attempt.observations)
      if (random.below(3) == 0) one.id = "o1";
    const std::string before = to_json(mark_plain(truth, attempt));
    testing::shuffle(attempt.observations, random);
    EXPECT_EQ(to_json(mark_plain(truth, attempt)), before);
  }
}

TEST(Doubles, WhatIsRecordedTwiceIsNotSaidToBeMadeUp) {
  const coding::Record truth = two_defects();
  coding::Record attempt = truth;
  attempt.observations.push_back(seen(5.1, "BBC", "A", "", 25));
  coding::number_observations(attempt);
  const Marking marking = mark_plain(truth, attempt);
  EXPECT_TRUE(marking.invented.at(0).duplicate);
  EXPECT_THAT(marking.consequence.sentences,
              Contains(AllOf(HasSubstr("BBC A at 5.10 m is recorded twice: class 3"),
                             HasSubstr("would be counted once more"))));
  EXPECT_THAT(marking.consequence.sentences, Each(Not(HasSubstr("is not there"))));
}

TEST(Doubles, TheSameKindOnTheOtherSideOfThePipeIsNoDouble) {
  const coding::Record truth = record_of({seen(5, "BCA", "A", "A", 100, {3, {}, false})});
  coding::Record attempt = truth;
  attempt.observations.push_back(seen(5.4, "BCA", "A", "A", 100, {9, {}, false}));
  coding::number_observations(attempt);
  const Invented other_side = mark_plain(truth, attempt).invented.at(0);
  EXPECT_FALSE(other_side.duplicate);
  EXPECT_THAT(other_side.sentence, HasSubstr("lies elsewhere round the pipe"));
  attempt.observations.back().clock_from = 4;
  EXPECT_TRUE(mark_plain(truth, attempt).invented.at(0).duplicate);
}

/// A grade within a marking has the shape that the schema of grades gives it; the two say the same.
TEST(Schema, GradesWithinAMarkingAreThoseOfTheSchemaOfGrades) {
  const auto definitions = [](const std::string& name) {
    std::ifstream file(std::string(HAUNCH_SOURCE_DIR) + "/content/schemas/" + name + ".schema.json");
    return nlohmann::json::parse(file).at("definitions");
  };
  const nlohmann::json inside = definitions("marking"), alone = definitions("grade");
  EXPECT_EQ(inside.at("grade_class"), alone.at("class"));
  EXPECT_EQ(inside.at("graded").at("required"), alone.at("observation").at("required"));
  nlohmann::json properties = alone.at("grade").at("properties");
  // What comes next has its own place in a marking.
  for (const char* name : {"kind", "edition", "file", "inspection", "next"}) properties.erase(name);
  properties["observations"]["items"]["$ref"] = "#/definitions/graded";
  EXPECT_EQ(inside.at("grade").at("properties"), properties);
  properties = alone.at("observation").at("properties");
  properties["classes"]["additionalProperties"]["$ref"] = "#/definitions/grade_class";
  EXPECT_EQ(inside.at("graded").at("properties"), properties);
}

TEST(Remarks, AMarkBeyondTheRunIsSaidToBe) {
  const coding::Record truth = testing::record_of(
      {testing::seen(0, "BCD", "A"), testing::seen(6, "BAB", "B", "A", 2), testing::seen(20, "BCE", "A")});
  coding::Record attempt = truth;
  attempt.observations.push_back(testing::seen(57, "BAB", "B", "A", 2));
  attempt.observations.push_back(testing::seen(20.4, "BAB", "B", "A", 2));  // as near as a counter is read
  coding::number_observations(attempt);
  const Marking marking = testing::mark_plain(truth, attempt);
  EXPECT_THAT(marking.remarks,
              ::testing::ElementsAre(::testing::HasSubstr(
                  "BAB B A at 57.00 m lies outside what was inspected, which goes from 0.00 m to 20.00 m")));
  EXPECT_EQ(marking.hits.size(), 3U) << "the rest is marked all the same";
}

}  // namespace
}  // namespace haunch::marking
