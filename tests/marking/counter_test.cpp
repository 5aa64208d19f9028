// SPDX-License-Identifier: Apache-2.0
// A counter that ran off is found, told once, and taken off; people who misplace things are not excused.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "campaign.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using testing::careless;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::mark_plain;
using testing::random_record;
using testing::record_of;
using testing::seen;

/// Forty metres with forty things in it, and every kind of code at uneven places.
coding::Record long_run() {
  std::vector<coding::Observation> rows{seen(0, "BCD", "A")};
  base::Random random(12);
  const char* codes[] = {"BAJ", "BBA", "BAB", "BCA", "BBC", "BAF"};
  for (int i = 0; i < 40; ++i)
    rows.push_back(seen(std::round(100 * (0.9 * i + 1 + random.uniform(0, 0.6))) / 100,
                        codes[random.below(6)], "B", "", 10,
                        {static_cast<int>(random.below(12)) + 1, {}, false}));
  rows.push_back(seen(40, "BCE", "A"));
  return record_of(rows);
}
coding::Record counted(coding::Record record, double zero_m, double scale) {
  for (coding::Observation& one : record.observations)
    one.distance_m = std::round(100 * (zero_m + scale * *one.distance_m.value)) / 100;
  return record;
}

TEST(Counter, ThatStartsOffZeroIsFoundOnce) {
  for (const double zero : {-0.9, 0.45, 1.4}) {
    const Marking marking = mark_plain(long_run(), counted(long_run(), zero, 1));
    ASSERT_TRUE(marking.counter) << zero;
    EXPECT_NEAR(marking.counter->zero_m, zero, 0.01);
    EXPECT_EQ(marking.counter->scale, 1);
    EXPECT_EQ(marking.counter->agree, 42);
    EXPECT_THAT(marking.counter->sentences, ElementsAre(HasSubstr(zero > 0 ? "too far from the start on"
                                                                           : "too near from the start on")));
    EXPECT_EQ(marking.hits.size(), 42U);
    for (const Hit& hit : marking.hits)
      for (const Verdict& verdict : hit.verdicts)
        EXPECT_EQ(verdict.standing, Standing::right) << verdict.sentence;
    // It costs as much as one mark on nothing, of a total of far more.
    EXPECT_DOUBLE_EQ(marking.counter->penalty, 2);
    EXPECT_GT(marking.score, 97);
    EXPECT_LT(marking.score, 100);
  }
}

TEST(Counter, ThatRunsLongOrShortIsFoundAsScale) {
  for (const double scale : {0.97, 1.021}) {
    const Marking marking = mark_plain(long_run(), counted(long_run(), 0, scale));
    ASSERT_TRUE(marking.counter) << scale;
    EXPECT_NEAR(marking.counter->scale, scale, 0.001);
    EXPECT_NEAR(marking.counter->zero_m, 0, 0.02);
    EXPECT_THAT(marking.counter->sentences,
                ElementsAre(HasSubstr(scale > 1 ? "counts long: 2.1 %" : "counts short: 3 %")));
    EXPECT_EQ(marking.hits.size(), 42U);
    EXPECT_THAT(marking.missed, IsEmpty());
  }
}

TEST(Counter, BothErrorsAreEachToldOnce) {
  const Marking marking = mark_plain(long_run(), counted(long_run(), 0.8, 1.02));
  ASSERT_TRUE(marking.counter);
  EXPECT_NEAR(marking.counter->zero_m, 0.8, 0.05);
  EXPECT_NEAR(marking.counter->scale, 1.02, 0.002);
  EXPECT_THAT(marking.counter->sentences,
              ElementsAre(HasSubstr("from the start on"), HasSubstr("counts long")));
  EXPECT_DOUBLE_EQ(marking.counter->penalty, 4);
  EXPECT_THAT(marking.missed, IsEmpty());
}

TEST(Counter, WhatWasWrittenStaysInEveryWord) {
  const Marking marking = mark_plain(long_run(), counted(long_run(), 1.4, 1));
  const Hit& last = marking.hits.back();
  EXPECT_DOUBLE_EQ(*last.attempt_m, 41.4);
  const Verdict& place = testing::verdict_on(last, Aspect::place);
  EXPECT_EQ(place.given, "41.40 m");
  EXPECT_THAT(place.sentence,
              HasSubstr("At 41.40 m (40.00 m with the counter's error taken off), expected 40.00 m"));
}

TEST(Counter, ThatIsRightIsNotSpokenOf) {
  EXPECT_FALSE(mark_plain(long_run(), long_run()).counter);
  // Nor is one that is off by less than people read.
  EXPECT_FALSE(mark_plain(long_run(), counted(long_run(), 0.05, 1)).counter);
}

TEST(Counter, IsNotBlamedForWhatAPersonMisplaces) {
  base::Random random(3);
  const int rounds = campaign::rounds(200);
  int blamed = 0;
  for (int i = 0; i < rounds; ++i) {
    const coding::Record truth = random_record(random);
    blamed += mark_plain(truth, careless(truth, random)).counter ? 1 : 0;
    // A third of the marks off by as much is a person, not a counter.
    coding::Record attempt = long_run();
    for (coding::Observation& one : attempt.observations)
      if (random.below(3) == 0) one.distance_m = *one.distance_m.value + 0.8;
    blamed += mark_plain(long_run(), attempt).counter ? 1 : 0;
  }
  // Marks can agree by chance: of two thousand attempts no more than one.
  EXPECT_LE(blamed, rounds / 1000);
}

TEST(Counter, TakenOffNeverCostsMoreThanItBrings) {
  base::Random random(4);
  const Rules blind = testing::rules_from(R"({"kind": "marking-rules", "edition": 1, "title": "No counter",
                                     "based_on": "rules", "counter": null})");
  int found = 0, gained = 0;
  for (int i = 0; i < campaign::rounds(60); ++i) {
    const coding::Record truth = long_run();
    const coding::Record attempt =
        counted(careless(truth, random), random.uniform(-1.5, 1.5), random.uniform(0.97, 1.03));
    const Marking marking = mark_plain(truth, attempt);
    if (!marking.counter) continue;
    ++found;
    EXPECT_FALSE(marking.counter->sentences.empty());
    const double without = mark(truth, attempt, grading::Scheme::shipped(), {}, blind).score;
    EXPECT_GE(marking.score, without - 0.1000001) << "it is taken off only where that brings something";
    gained += marking.score > without + 5 ? 1 : 0;
  }
  EXPECT_GT(found, 20);
  EXPECT_GT(gained, found / 2);
}

TEST(Counter, ASmallScaleOverALongRunIsToldWhereItMovesMarks) {
  std::vector<coding::Observation> rows{seen(0, "BCD", "A")};
  for (int i = 1; i < 60; ++i)
    rows.push_back(seen(10.0 * i + i % 7, i % 2 == 0 ? "BAJ" : "BAB", "B", "", 10));
  rows.push_back(seen(600, "BCE", "A"));
  const coding::Record truth = record_of(rows);
  for (const double scale : {1.00045, 0.9994, 1.002}) {
    const Marking marking = mark_plain(truth, counted(truth, 0, scale));
    if (!marking.counter) continue;
    EXPECT_THAT(marking.counter->sentences, ElementsAre(HasSubstr("The counter counts"))) << scale;
  }
  EXPECT_TRUE(mark_plain(truth, counted(truth, 0, 1.002)).counter);
}

TEST(Counter, SetBackOnTheWayIsHalfRight) {
  // Marks before it was set back agree with what is there; they stay as written.
  coding::Record attempt = long_run();
  for (coding::Observation& one : attempt.observations)
    if (*one.distance_m.value > 8) one.distance_m = *one.distance_m.value + 1.1;
  const Marking marking = mark_plain(long_run(), attempt);
  ASSERT_TRUE(marking.counter);
  EXPECT_NEAR(marking.counter->zero_m, 1.1, 0.01);
  // Two of a kind that lie as far apart as the counter was off may be taken for each other.
  EXPECT_LE(marking.missed.size(), 1U);
}

}  // namespace
}  // namespace haunch::marking
