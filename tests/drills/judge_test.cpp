// SPDX-License-Identifier: Apache-2.0
// What an answer is worth, on both sides of what is let pass.
#include "drills/judge.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/clock.hpp"
#include "drills/made.hpp"
#include "drills/make.hpp"

namespace haunch::drills {
namespace {

using test::made;
using ::testing::HasSubstr;

TEST(Judge, TheBottomIsWhereTheRollPutIt) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const Item item = made({Kind::find_bottom, "", 0.5, {}, seed});
    // On the screen an hour is the true hour less the roll over thirty degrees (geometry).
    const double there = base::wrap_hours(6 - item.clip.roll_deg / 30);
    Answer answer;
    answer.bottom_h = there;
    EXPECT_DOUBLE_EQ(judge(item, answer).credit, 1);
    answer.bottom_h = base::wrap_hours(there + 12);
    EXPECT_DOUBLE_EQ(judge(item, answer).credit, 1) << "12 hours on is the same place";
    answer.bottom_h = base::wrap_hours(there + 3);
    EXPECT_EQ(judge(item, answer).credit, 0);
    EXPECT_THAT(judge(item, answer).sentence, HasSubstr("3 h off"));
  }
}

TEST(Judge, HoursGoRoundAndAreLessRightTheFartherOff) {
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    const Item item = made({Kind::clock, "", 0.5, {}, seed});
    Answer answer = right_answer(item);
    EXPECT_DOUBLE_EQ(judge(item, answer).credit, 1);
    const auto later = [](std::optional<int> hour, int by) {
      return hour ? std::optional<int>((*hour + by - 1) % 12 + 1) : hour;
    };
    const Answer right = answer;
    answer.clock_from = later(right.clock_from, 6);
    answer.clock_to = later(right.clock_to, 6);
    // An arc that goes most of the way round is partly there on the other side as well.
    const double wide_h = right.clock_to ? base::wrap_hours(*right.clock_to - *right.clock_from) : 0;
    EXPECT_LT(judge(item, answer).credit, wide_h > 3 ? 1 : 0.5) << judge(item, answer).sentence;
  }
}

TEST(Judge, SizesAreHeldToTheMarkingsTolerances) {
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    const Item item = made({Kind::size_it, "", 0.7, {}, seed});
    Answer answer;
    answer.number = *item.there.q1.value;
    EXPECT_DOUBLE_EQ(judge(item, answer).credit, 1);
    answer.number = *item.there.q1.value * 8 + 60;
    EXPECT_LT(judge(item, answer).credit, 0.5) << judge(item, answer).sentence;
    answer.number = -1;
    EXPECT_EQ(judge(item, answer).credit, 0);
  }
}

TEST(Judge, ClassesAreHeldToTheSchemesRows) {
  const Item item = made({Kind::grade_it, "BAB", 0.7, {}, 2});
  const Answer right = right_answer(item);
  ASSERT_FALSE(right.classes.empty());
  EXPECT_DOUBLE_EQ(judge(item, right).credit, 1);
  Answer wrong = right;
  for (auto& [goal, grade] : wrong.classes) grade = grade == 5 ? 1 : 5;
  EXPECT_EQ(judge(item, wrong).credit, 0);
  EXPECT_THAT(item.why, HasSubstr("provisional")) << "rows from memory say so";
}

TEST(Judge, JettingABrokenPipeIsWrong) {
  const Item item = made({Kind::next_step, "BAC", 0.7, {}, 1});
  Answer answer;
  answer.option = "clean again";
  EXPECT_EQ(judge(item, answer).credit, 0);
  answer.option = "whistle";
  EXPECT_EQ(judge(item, answer).credit, 0);
  EXPECT_FALSE(answers(item, answer));
}

TEST(Judge, WhatWasSaidIsKeptInWords) {
  Answer answer;
  answer.clock_from = 10;
  EXPECT_EQ(show(answer), "10");
  answer.clock_to = 2;
  EXPECT_EQ(show(answer), "10 to 2");
  EXPECT_EQ(show(Answer{"BAB", {}, {}, {}, {}, {}}), "BAB");
  Answer classes;
  classes.classes = {{"stability", 3}, {"tightness", 2}};
  EXPECT_EQ(show(classes), "stability 3, tightness 2");
}

}  // namespace
}  // namespace haunch::drills
