// SPDX-License-Identifier: Apache-2.0
// Worked attempts: verdicts, weights and scores reckoned by hand from content/marking/rules.json (all
// ours), and what is said about danger, hidden findings, doubles and wrong names.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/json_document.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::mark_plain;
using testing::record_of;
using testing::seen;
using testing::verdict_on;

std::vector<coding::Observation> stretch(coding::Observation begin, double to_m, const std::string& number) {
  coding::Observation end = begin;
  begin.stretch = "A" + number;
  end.stretch = "B" + number;
  end.distance_m = to_m;
  return {begin, end};
}

/// Twenty metres of clay with an offset joint, roots, a void and standing water.
coding::Record yard() {
  auto water = stretch(seen(16, "BDD", "A", "", 30), 19, "1");
  return record_of({seen(0, "BCD", "A"), seen(6, "BAJ", "B", "", 14, {5, {}, true}),
                    seen(10, "BBA", "B", "", 15, {9, 12, true}), seen(14, "BAP", "", "", {}, {12, {}, false}),
                    water[0], water[1], seen(20, "BCE", "A")});
}

coding::Record clean_run() { return record_of({seen(0, "BCD", "A"), seen(20, "BCE", "A")}); }

const Hit& hit_on(const Marking& marking, const std::string& truth) {
  for (const Hit& hit : marking.hits)
    if (hit.truth == truth) return hit;
  throw std::runtime_error("no hit on " + truth);
}

TEST(Worked, OneAttemptToTheLastTenth) {
  auto water = stretch(seen(15.8, "BDD", "A", "", 33), 17.5, "4");
  const coding::Record attempt = record_of(
      {seen(0, "BCD", "A"), seen(3, "BAB", "B", "A", 2), seen(6.25, "BAJ", "B", "", 20, {8, {}, true}),
       seen(10, "BBB", "B", "", 15, {9, 12, true}), water[0], water[1], seen(20, "BCE", "A")});
  const Marking marking = mark_plain(yard(), attempt);

  // Offset joint: no firm class, so 2 + 1. Asked 95; 6 mm off with 5 allowed fades by a tenth; 3 h off.
  const Hit& joint = hit_on(marking, "o2");
  EXPECT_EQ(joint.weight, 3);
  EXPECT_NEAR(joint.earned, 3 * 0.873, 1e-9);  // 83 / 95, thousandths cut off
  EXPECT_EQ(verdict_on(joint, Aspect::place).standing, Standing::right);
  EXPECT_EQ(verdict_on(joint, Aspect::size).standing, Standing::partly);
  EXPECT_NEAR(verdict_on(joint, Aspect::size).earned, 0.9, 1e-9);
  EXPECT_THAT(verdict_on(joint, Aspect::size).sentence,
              HasSubstr("20 mm, expected 14 mm: too large by 6 mm"));
  EXPECT_EQ(verdict_on(joint, Aspect::clock).standing, Standing::wrong);
  EXPECT_THAT(verdict_on(joint, Aspect::clock).sentence, HasSubstr("off by 3 h"));
  EXPECT_EQ(verdict_on(joint, Aspect::joint).standing, Standing::right);

  // They call for another cleaning, so 2 + 2. Roots called deposits: 0.3 of place, clock and joint (30 of
  // 95).
  const Hit& roots = hit_on(marking, "o3");
  EXPECT_EQ(roots.weight, 4);
  EXPECT_NEAR(roots.earned, 4 * 0.094, 1e-9);
  EXPECT_EQ(verdict_on(roots, Aspect::code).standing, Standing::wrong);
  EXPECT_EQ(verdict_on(roots, Aspect::size).standing, Standing::not_asked);

  // Water: begins well, ends 1.5 m short: 1.5 m of 3.2 m shared.
  const Hit& pond = hit_on(marking, "o5");
  EXPECT_EQ(pond.weight, 2);
  EXPECT_NEAR(pond.earned, 2 * 0.940, 1e-9);
  EXPECT_NEAR(verdict_on(pond, Aspect::extent).earned, 0.468, 1e-9);

  // The closing node carries 20 m: 2 + 4.
  EXPECT_EQ(hit_on(marking, "o7").weight, 6);
  ASSERT_EQ(marking.missed.size(), 1U);
  EXPECT_EQ(marking.missed[0].truth, "o4");
  EXPECT_EQ(marking.missed[0].weight, 9);
  EXPECT_TRUE(marking.missed[0].dangerous);
  ASSERT_EQ(marking.invented.size(), 1U);
  EXPECT_EQ(marking.invented[0].attempt, "o2");
  EXPECT_EQ(marking.invented[0].penalty, 2);

  // (1 + 2.619 + 0.376 + 1.88 + 6) / 25 - 2 / 25.
  EXPECT_DOUBLE_EQ(marking.score, 39.5);
  ASSERT_FALSE(marking.warnings.empty());
  EXPECT_THAT(marking.warnings[0], HasSubstr("BAP at 14.00 m was not logged"));
  ASSERT_FALSE(marking.consequence.sentences.empty());
  EXPECT_THAT(marking.consequence.sentences[0], HasSubstr("The pipe would be put in class 3"));
  EXPECT_THAT(
      marking.consequence.sentences,
      Contains(HasSubstr("class 5 for tightness, class 5 for stability would be lost (provisional)")));
  EXPECT_EQ(marking.action.own_record, coding::Action::clean_again);
  EXPECT_EQ(marking.action.truth, coding::Action::stop_and_refer);
  EXPECT_FALSE(marking.action.right);
}

TEST(Worked, AnEmptyAttemptOnACleanRunEarnsNothing) {
  EXPECT_EQ(mark_plain(clean_run(), {}).score, 0);
  EXPECT_EQ(mark_plain(clean_run(), clean_run()).score, 100);
}

TEST(Worked, ARunThatWasNotClosedLosesItsLength) {
  const Marking marking = mark_plain(clean_run(), record_of({seen(0, "BCD", "A")}));
  EXPECT_DOUBLE_EQ(marking.score, 14.3);  // 1 of 1 + 2 + 4
  ASSERT_EQ(marking.missed.size(), 1U);
  EXPECT_THAT(marking.missed[0].sentence, HasSubstr("was not closed"));
  // Closed in the middle of the run is not closed.
  EXPECT_DOUBLE_EQ(mark_plain(clean_run(), record_of({seen(0, "BCD", "A"), seen(10, "BCE", "A")})).score,
                   4.3);
}

TEST(Pairs, NodesStandOnlyForThemselves) {
  const Marking marking = mark_plain(record_of({seen(5, "BCE", "A")}),
                                     record_of({seen(5, "BCD", "A"), seen(5, "BDC", "A", "A")}));
  EXPECT_THAT(marking.hits, IsEmpty());
  EXPECT_EQ(marking.missed.size(), 1U);
  EXPECT_EQ(marking.invented.size(), 2U);
}

TEST(Pairs, AWildMismatchIsAMissAndAFalseCall) {
  const Marking marking =
      mark_plain(record_of({seen(5, "BBE", "G", "", 20)}), record_of({seen(5, "BAJ", "A", "", 20)}));
  EXPECT_THAT(marking.hits, IsEmpty());
  EXPECT_EQ(marking.missed.size() + marking.invented.size(), 2U);
}

TEST(Pairs, AWrongNameNeverTakesTheTruthFromARightOne) {
  // The break reaches the crack only; the crack mark reaches both. Most pairs would be two wrong names.
  const coding::Record truth = record_of({seen(5, "BAB", "B", "A", 2), seen(5.5, "BAJ", "B", "", 10)});
  const Marking marking =
      mark_plain(truth, record_of({seen(5.25, "BAB", "B", "A", 2), seen(4.75, "BAC", "A")}));
  ASSERT_EQ(marking.hits.size(), 1U);
  EXPECT_EQ(marking.hits[0].truth_code, "BAB B A");
  EXPECT_EQ(marking.hits[0].attempt_code, "BAB B A");
}

TEST(Pairs, TwoOfAKindGoByClockAndSize) {
  const coding::Record truth = record_of(
      {seen(5, "BCA", "A", "A", 100, {3, {}, false}), seen(5.1, "BCA", "A", "A", 150, {9, {}, false})});
  const coding::Record attempt = record_of(
      {seen(5.0, "BCA", "A", "A", 150, {9, {}, false}), seen(5.1, "BCA", "A", "A", 100, {3, {}, false})});
  EXPECT_EQ(mark_plain(truth, attempt).score, 100);
}

TEST(Pairs, TheSameThingTwiceIsADoubleAndTheWeakerCounts) {
  const coding::Record truth =
      record_of({seen(0, "BCD", "A"), seen(5, "BBD", "A", "", 30), seen(20, "BCE", "A")});
  const coding::Record wrong =
      record_of({seen(0, "BCD", "A"), seen(5, "BBD", "A", "", 90), seen(20, "BCE", "A")});
  coding::Record both = wrong;
  both.observations.push_back(seen(5.05, "BBD", "A", "", 30));
  coding::number_observations(both);
  const Marking marking = mark_plain(truth, both);
  ASSERT_EQ(marking.invented.size(), 1U);
  EXPECT_TRUE(marking.invented[0].duplicate);
  EXPECT_EQ(marking.invented[0].attempt, "o2");
  // The right size is worth more than a false call costs; still it does not pay to try both.
  EXPECT_GT(marking.invented[0].penalty, 2);
  EXPECT_LT(marking.score, mark_plain(truth, wrong).score);
}

TEST(Sizes, TheLargerAlongAStretchIsCompared) {
  auto there = stretch(seen(5, "BBC", "A", "", 10), 9, "1"), here = there;
  there[1].q1 = 40;
  const Marking marking = mark_plain(record_of(there), record_of(here));
  EXPECT_EQ(verdict_on(marking.hits.at(0), Aspect::size).standing, Standing::wrong);
  here[0].q1 = 40;
  EXPECT_EQ(mark_plain(record_of(there), record_of(here)).score, 100);
}

TEST(Sizes, AChangeWithinAStretchCountsAsItDoesForTheGrade) {
  auto there = stretch(seen(5, "BBC", "A", "", 10), 9, "1"), here = there;
  coding::Observation change = seen(7, "BBC", "A", "", 60);
  change.stretch = "C1";
  there.push_back(change);
  const Marking missed_it = mark_plain(record_of(there), record_of(here));
  EXPECT_EQ(verdict_on(missed_it.hits.at(0), Aspect::size).standing, Standing::wrong);
  EXPECT_LT(missed_it.score, 100);
  EXPECT_THAT(missed_it.consequence.sentences, Contains(HasSubstr("too mild")));
  EXPECT_EQ(mark_plain(record_of(there), record_of(there)).score, 100);
  // Written at the end instead of between, it is the same finding.
  here[1].q1 = 60;
  EXPECT_EQ(mark_plain(record_of(there), record_of(here)).score, 100);
  // A class given to the change is given to the stretch.
  coding::Record attempt = record_of(there);
  attempt.judgement = coding::Judgement{{{"o3", {{"operation", 4}}}}, {}, {}};
  const Marking judged = mark_plain(record_of(there), attempt);
  ASSERT_FALSE(judged.grading.classes.empty());
  EXPECT_EQ(judged.grading.classes.at(0).observation, "o1");
  EXPECT_EQ(judged.grading.classes.at(0).given, 4);
}

TEST(Clock, IsRoundAndRangesGoByOverlap) {
  const auto earned = [](testing::grading_place truth, testing::grading_place given) {
    const Marking marking = mark_plain(record_of({seen(5, "BBB", "B", "", 10, truth)}),
                                       record_of({seen(5, "BBB", "B", "", 10, given)}));
    return verdict_on(marking.hits.at(0), Aspect::clock).earned;
  };
  EXPECT_EQ(earned({12, {}, false}, {1, {}, false}), 1);
  EXPECT_EQ(earned({12, {}, false}, {11, {}, false}), 1);
  EXPECT_EQ(earned({1, {}, false}, {11, {}, false}), 0.5);
  EXPECT_EQ(earned({12, {}, false}, {3, {}, false}), 0);
  EXPECT_EQ(earned({12, {}, false}, {}), 0);
  EXPECT_EQ(earned({10, 2, false}, {11, 1, false}), 1);
  EXPECT_EQ(earned({7, 5, false}, {8, 4, false}), 1);
  EXPECT_EQ(earned({12, 4, false}, {2, 6, false}), 0.333);  // 2 h of 6 h
  EXPECT_EQ(earned({12, 4, false}, {6, 9, false}), 0);
  EXPECT_EQ(earned({12, 12, false}, {12, 12, false}), 1);
  EXPECT_EQ(earned({12, 12, false}, {12, 6, false}), 0.5);
  EXPECT_EQ(earned({12, 4, false}, {2, {}, false}), 0.4);
}

TEST(Hidden, IsNotHeldAgainstAnybodyAndNeverInvented) {
  coding::Record truth = yard();
  truth.not_visible = {{"o4", "behind roots"}, {"o5", "under cloudy water"}};
  coding::Record attempt = truth;
  attempt.not_visible.clear();
  std::erase_if(attempt.observations, [](const coding::Observation& one) { return one.id == "o4"; });
  const Marking marking = mark_plain(truth, attempt);
  EXPECT_EQ(marking.score, 100);
  EXPECT_THAT(marking.missed, IsEmpty());
  EXPECT_THAT(marking.warnings, IsEmpty());
  EXPECT_THAT(marking.consequence.sentences, IsEmpty());
  ASSERT_EQ(marking.not_visible.size(), 1U);
  EXPECT_EQ(marking.not_visible[0].truth, "o4");
  EXPECT_EQ(marking.not_visible[0].why, "behind roots");
  EXPECT_TRUE(hit_on(marking, "o5").neutral);
  EXPECT_EQ(hit_on(marking, "o5").weight, 0);
}

TEST(Danger, IsSaidFirstWhateverTheScore) {
  std::vector<coding::Observation> run = {seen(0, "BCD", "A"), seen(200, "BCE", "A")};
  for (int i = 1; i < 40; ++i) run.push_back(seen(i, "BAC", "A", "", 100, {12, 2, false}));
  coding::Record attempt = record_of(run);
  run.push_back(seen(120, "BBE", "G", "", 40, {8, 10, false}));
  const coding::Record truth = record_of(run);
  attempt.judgement = coding::Judgement{{}, {}, coding::Action::carry_on};
  const Marking marking = mark_plain(truth, attempt);
  EXPECT_GT(marking.score, 90);
  ASSERT_EQ(marking.warnings.size(), 2U);
  EXPECT_THAT(marking.warnings, Contains(HasSubstr("BBE G at 120.00 m was not logged")));
  EXPECT_THAT(
      marking.warnings,
      Contains(HasSubstr("\"carry on\" was given; what is there calls for \"call the gas utility\"")));
}

TEST(Danger, ADangerUnderAHarmlessNameIsNotNamed) {
  const Marking marking = mark_plain(record_of({seen(5, "BAP")}), record_of({seen(5, "BAB", "B", "A", 1)}));
  ASSERT_EQ(marking.hits.size(), 1U);
  ASSERT_EQ(marking.warnings.size(), 1U);
  EXPECT_THAT(marking.warnings[0], HasSubstr("BAP at 5.00 m was logged as BAB B A"));
}

TEST(OwnGrading, MisgradingAndMiscodingShowApart) {
  const coding::Record truth = yard();
  coding::Record attempt = truth;
  attempt.judgement = testing::own_classes(attempt);
  attempt.judgement->classes.at(0).classes.at("tightness") = 4;  // the offset joint: the scheme says 2
  Marking marking = mark_plain(truth, attempt);
  EXPECT_EQ(marking.score, 100);
  EXPECT_TRUE(marking.grading.given);
  EXPECT_EQ(marking.grading.asked - marking.grading.right, 1);
  auto json = nlohmann::json::parse(to_json(marking));
  int misgraded = 0;
  for (const auto& one : json.at("grading").at("classes")) {
    EXPECT_FALSE(one.at("miscoded").get<bool>());
    if (!one.at("misgraded").get<bool>()) continue;
    ++misgraded;
    EXPECT_EQ(one.at("observation"), "o2");
    EXPECT_EQ(one.at("goal"), "tightness");
    EXPECT_EQ(one.at("given"), 4);
    EXPECT_EQ(one.at("own_record"), 2);
    EXPECT_EQ(one.at("truth"), 2);
    EXPECT_THAT(one.at("sentence").get<std::string>(), HasSubstr("misgraded"));
  }
  EXPECT_EQ(misgraded, 1);

  // A size misread, then graded rightly for what was logged: miscoded, not misgraded.
  attempt = truth;
  attempt.observations[1].q1 = 31;
  attempt.judgement = testing::own_classes(attempt);
  marking = mark_plain(truth, attempt);
  EXPECT_LT(marking.score, 100);
  EXPECT_EQ(marking.grading.asked, marking.grading.right);
  json = nlohmann::json::parse(to_json(marking));
  const auto& joint = json.at("grading").at("classes").at(0);
  EXPECT_TRUE(joint.at("miscoded").get<bool>());
  EXPECT_FALSE(joint.at("misgraded").get<bool>());
}

TEST(OwnGrading, WhatTheJobSheetSaysNeedNotBeRepeated) {
  coding::Record attempt = yard();
  attempt.header.clear();
  EXPECT_THAT(mark_plain(yard(), attempt).consequence.sentences, IsEmpty());
  const coding::Record truth = record_of({seen(5, "BAJ", "A", "", 25)});
  coding::Record other = truth;
  other.set_header("ACB", "600");
  // Their own header counts as theirs.
  EXPECT_THAT(mark_plain(truth, other).consequence.truth.observations.at(0).goals.at(0).row,
              "BAJ/A/tightness/to-400");
  EXPECT_THAT(mark_plain(truth, other).consequence.attempt.observations.at(0).goals.at(0).row,
              "BAJ/A/tightness/over-400");
}

TEST(OwnGrading, NotGivenIsSaidAsNotGiven) {
  const auto json = nlohmann::json::parse(to_json(mark_plain(yard(), yard())));
  EXPECT_EQ(json.at("grading"), "not given");
  EXPECT_TRUE(json.at("action").at("given").is_null());
}

TEST(Actions, TheMostSeriousHolds) {
  const auto action = [](std::vector<coding::Observation> all) {
    return action_for(record_of(std::move(all)), Rules::shipped()).action;
  };
  using coding::Action;
  EXPECT_EQ(action({seen(1, "BCD", "A"), seen(2, "BBA", "B", "", 4)}), Action::carry_on);
  EXPECT_EQ(action({seen(2, "BBA", "B", "", 5)}), Action::clean_again);
  EXPECT_EQ(action({seen(2, "BBA", "B", "", 50), seen(3, "BAO")}), Action::stop_and_refer);
  EXPECT_EQ(action({seen(2, "BAB", "C", "A", 4.9)}), Action::carry_on);
  EXPECT_EQ(action({seen(2, "BAB", "C", "A", 5)}), Action::do_not_jet);
  EXPECT_EQ(action({seen(2, "BAC", "B", "", 50), seen(3, "BAP")}), Action::stop_and_refer);
  EXPECT_EQ(action({seen(2, "BAC", "C"), seen(3, "BBE", "G", "", 2)}), Action::call_gas_utility);
}

TEST(Json, FollowsItsSchema) {
  base::Random random(21);
  for (int i = 0; i < 40; ++i) {
    const coding::Record truth = testing::random_record(random);
    coding::Record attempt = testing::careless(truth, random);
    if (i % 2 == 0) attempt.judgement = testing::own_classes(attempt);
    const auto document =
        base::JsonDocument::read_text(to_json(mark_plain(truth, attempt)), "marking.json", "marking");
    ASSERT_TRUE(document.ok()) << base::to_line(document.problems().front());
  }
}

TEST(Hostile, OddRecordsAreMarkedWithoutHarm) {
  coding::Observation nowhere;
  nowhere.code = "BAB";
  coding::Observation odd = seen(-1e300, "??", "ZZZ", "", 1e300, {99, -4, true});
  odd.stretch = "B77";
  coding::Observation open = seen(4, "BBC", "A", "", 10);
  open.stretch = "A9";
  const coding::Record record = record_of({nowhere, nowhere, odd, open, open});
  EXPECT_EQ(mark_plain(record, record).score, 100);
  EXPECT_EQ(mark_plain(record, {}).score, 0);
  EXPECT_LE(mark_plain({}, record).score, 100);
  EXPECT_EQ(mark_plain({}, {}).score, 100);
}

TEST(Hostile, ManyMarksOnOneSpot) {
  std::vector<coding::Observation> spot;
  for (int i = 0; i < 150; ++i) spot.push_back(seen(5, "BAC", "A", "", i, {12, 2, false}));
  const coding::Record record = record_of(spot);
  EXPECT_EQ(mark_plain(record, record).score, 100);
}

}  // namespace
}  // namespace haunch::marking
