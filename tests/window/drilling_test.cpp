// SPDX-License-Identifier: Apache-2.0
// Answering questions by keys, without a display.
#include "window/drilling.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/clock.hpp"
#include "drills/made.hpp"

namespace haunch::window {
namespace {

using drills::Kind;
using State = Drilling::State;
using testing::HasSubstr;

std::shared_ptr<const drills::Item> made(const drills::Wanted& wanted) {
  return std::make_shared<const drills::Item>(drills::test::made(wanted));
}

/// With the first question asked.
struct Asked {
  explicit Asked(drills::Wanted wanted, bool feedback = true, int count = 0)
      : drilling(play::DrillSet(plan(wanted, feedback, count), "coder-07",
                                learning::fresh_person(learning::shipped_model()), 20500),
                 {}, [this](const scores::Answer& row) {
                   kept.push_back(row);
                   return std::string();
                 }) {
    EXPECT_TRUE(drilling.wanted());
    drilling.ask(made(wanted));
  }
  static play::DrillPlan plan(const drills::Wanted& wanted, bool feedback, int count) {
    play::DrillPlan plan{"t", {wanted.kind}};
    plan.feedback = feedback;
    plan.count = count;
    if (count > 0) plan.seconds = 0;
    return plan;
  }
  void type(const std::string& words) {
    for (const char letter : words) drilling.type(std::string(1, letter));
  }
  std::vector<scores::Answer> kept;
  Drilling drilling;
};

TEST(Drilling, ADigitAnswersAndEnterGoesOn) {
  Asked asked({Kind::name_it, "BBA", 0.7, {}, 1});
  Drilling& drilling = asked.drilling;
  EXPECT_EQ(drilling.look().highlight_fault, 0) << "nothing is told beforehand";
  std::size_t right = 0;
  while (drilling.item()->options[right].value != "BBA") ++right;
  drilling.tick(3);
  asked.type(std::to_string(right + 1));
  EXPECT_EQ(drilling.state(), State::answered);
  EXPECT_EQ(drilling.credit(), 1);
  EXPECT_EQ(drilling.look().highlight_fault, drilling.item()->fault) << "lit up";
  ASSERT_EQ(asked.kept.size(), 1U);
  EXPECT_EQ(asked.kept[0].seconds, 3);
  drilling.tick(30);  // looking at what came of it costs no time
  EXPECT_NEAR(drilling.set().seconds_left(), 117, 1e-9);
  drilling.press({Key::enter});
  EXPECT_EQ(drilling.state(), State::waiting);
}

TEST(Drilling, ANameMayBeTyped) {
  Asked asked({Kind::name_it, "BBA", 0.7, {}, 1});
  asked.type("bb");
  EXPECT_FALSE(asked.drilling.ready_to_answer());
  asked.drilling.press({Key::enter});
  EXPECT_EQ(asked.drilling.state(), State::asking) << "that is no code yet";
  asked.type("a");
  asked.drilling.press({Key::enter});
  EXPECT_EQ(asked.drilling.credit(), 1);
}

TEST(Drilling, NumbersAreTypedOrStepped) {
  Asked asked({Kind::size_it, "", 0.7, {}, 2});
  asked.type("1x2");
  EXPECT_FALSE(asked.drilling.ready_to_answer()) << "1x2 is no number";
  asked.drilling.press({Key::escape});
  EXPECT_EQ(asked.drilling.state(), State::asking) << "the line was cleared, the set goes on";
  asked.type("12");
  asked.drilling.press({Key::up});
  EXPECT_EQ(asked.drilling.answer().number, 13);
  asked.drilling.press({Key::enter});
  EXPECT_EQ(asked.kept.at(0).given, "13");
}

TEST(Drilling, HoursAreTypedInAnyWayThatPeopleWriteThem) {
  for (const char* words : {"10-2", "10 to 2", "10 2", "from 10 to 2"}) {
    Asked asked({Kind::clock, "", 0.7, {}, 3});
    asked.type(words);
    EXPECT_EQ(asked.drilling.answer().clock_from, 10) << words;
    EXPECT_EQ(asked.drilling.answer().clock_to, 2) << words;
  }
  Asked asked({Kind::clock, "", 0.7, {}, 3});
  asked.type("13");
  EXPECT_FALSE(asked.drilling.ready_to_answer()) << "there is no 13";
}

TEST(Drilling, TheBottomIsTurnedTo) {
  Asked asked({Kind::find_bottom, "", 0.5, {}, 1});
  const double there = base::on_screen_hour(6, asked.drilling.item()->clip.roll_deg);
  for (int i = 0; i < 120 && base::hours_apart(*asked.drilling.answer().bottom_h, there) > 0.06; ++i)
    asked.drilling.press({Key::right}, i > 0);
  asked.drilling.press({Key::enter});
  EXPECT_EQ(asked.drilling.credit(), 1) << asked.drilling.sentence();
}

TEST(Drilling, ClassesAreGivenOneAfterTheOther) {
  Asked asked({Kind::grade_it, "BAC", 0.7, {}, 1});
  const auto right = drills::right_answer(*asked.drilling.item());
  for (const std::string& goal : asked.drilling.item()->goals)
    asked.type(std::to_string(right.classes.at(goal)));
  EXPECT_EQ(asked.drilling.state(), State::asking);
  asked.drilling.press({Key::enter});
  EXPECT_EQ(asked.drilling.credit(), 1) << asked.drilling.sentence();
}

TEST(Drilling, AnExamTellsNothing) {
  Asked asked({Kind::which_of_two, "BAB", 0.7, {}, 1}, false, 2);
  asked.type("1");
  EXPECT_EQ(asked.drilling.state(), State::waiting);
  EXPECT_TRUE(asked.drilling.wanted());
  asked.drilling.ask(made({Kind::which_of_two, "BAC", 0.7, {}, 1}));
  asked.type("1");
  EXPECT_EQ(asked.drilling.state(), State::over);
  EXPECT_EQ(asked.kept.size(), 2U);
}

TEST(Drilling, TheNextIsMadeWhileOneIsShown) {
  Asked asked({Kind::which_of_two, "BAB", 0.7, {}, 1});
  EXPECT_TRUE(asked.drilling.wanted()) << "one ahead";
  EXPECT_FALSE(asked.drilling.wanted()) << "and no more";
}

TEST(Drilling, WhereNoPictureComesItEndsAndSaysWhy) {
  Asked asked({Kind::which_of_two, "BAB", 0.7, {}, 1});
  asked.type("1");
  asked.drilling.press({Key::enter});
  for (int i = 0; i < 10 && asked.drilling.state() != State::over; ++i) {
    if (asked.drilling.wanted() || i == 0) asked.drilling.none_came("no picture came");
  }
  EXPECT_EQ(asked.drilling.state(), State::over);
  EXPECT_EQ(asked.drilling.message(), "no picture came");
}

TEST(Drilling, EscapeStopsAndThenLeaves) {
  Asked asked({Kind::which_of_two, "BAB", 0.7, {}, 1});
  asked.drilling.press({Key::escape});
  EXPECT_EQ(asked.drilling.state(), State::over);
  EXPECT_FALSE(asked.drilling.left);
  asked.drilling.press({Key::enter});
  EXPECT_TRUE(asked.drilling.left);
}

}  // namespace
}  // namespace haunch::window
