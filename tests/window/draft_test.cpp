// SPDX-License-Identifier: Apache-2.0
// The observation that is built with the pointer alone.
#include "window/writing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "coding/validate.hpp"

namespace haunch::window {
namespace {

const coding::CodeList& list() { return coding::CodeList::shipped(); }

TEST(Draft, EveryCodeStandsInTheMenuOnce) {
  std::multiset<std::string> in_menu;
  for (const auto& group : groups()) {
    for (const auto* entry : codes_in(group.id, list())) in_menu.insert(entry->code);
  }
  EXPECT_EQ(in_menu.size(), list().codes().size());
  for (const auto& entry : list().codes()) EXPECT_EQ(in_menu.count(entry.code), 1U) << entry.code;
}

/// Whatever the menu lets through, the checks of a Record call valid: for every code and letter.
TEST(Draft, WhatTheMenuLetsThroughIsWellFormed) {
  int tried = 0;
  for (const auto& entry : list().codes()) {
    Draft first;
    choose_code(first, entry.code);
    std::vector<Choice> firsts = first_choices(first, list());
    if (firsts.empty()) firsts = {{"", ""}};
    for (const auto& [a, a_means] : firsts) {
      Draft second = first;
      if (!a.empty()) choose_first(second, a, list());
      std::vector<Choice> seconds = second_choices(second, list());
      if (seconds.empty()) seconds = {{"", ""}};
      for (const auto& [b, b_means] : seconds) {
        Draft draft = second;
        draft.observation.ch2 = b;
        for (const int which : {1, 2}) {
          auto& number = which == 1 ? draft.observation.q1 : draft.observation.q2;
          if (size_ask(draft, which, list())) number = 10;
        }
        if (asks_clock(draft, list())) set_clock(draft, {3, 3, false}, list());
        ASSERT_TRUE(still_needed(draft, list()).empty()) << entry.code << a << b;
        draft.observation.distance_m = 1;
        const auto problems = coding::validate({{}, {draft.observation}, {}, {}}, list(), "menu");
        EXPECT_FALSE(base::has_errors(problems))
            << entry.code << ' ' << a << ' ' << b << ": " << base::to_line(problems.front());
        ++tried;
      }
    }
  }
  EXPECT_GT(tried, 150);
}

TEST(Draft, ASizeBelongsToItsLetter) {
  Draft draft;
  choose_code(draft, "BAJ");
  choose_first(draft, "B", list());
  EXPECT_EQ(size_ask(draft, 1, list())->unit, "mm");
  draft.observation.q1 = 14;
  choose_first(draft, "C", list());
  EXPECT_TRUE(draft.observation.q1.empty()) << "14 mm of step is not 14 degrees of bend";
  EXPECT_EQ(size_ask(draft, 1, list())->unit, "degree");
}

TEST(Draft, SaysWhatIsStillNeeded) {
  Draft draft;
  EXPECT_EQ(still_needed(draft, list()).size(), 1U);
  choose_code(draft, "BAB");
  choose_first(draft, "B", list());
  draft.observation.ch2 = "A";
  EXPECT_EQ(still_needed(draft, list()).size(), 2U) << "a width and a clock";
  draft.observation.q1 = 2;
  set_clock(draft, {12, 12, false}, list());
  EXPECT_TRUE(still_needed(draft, list()).empty());
}

// On-screen hour = true hour - roll / 30 degrees (geometry): with the picture rolled 60 degrees, the
// bottom shows at 4 and something drawn at 10 on the screen is at the crown.
TEST(Clock, ThePlumbMarkUndoesTheRoll) {
  const double plumb = base::on_screen_hour(6, 60);
  EXPECT_DOUBLE_EQ(plumb, 4);
  const auto arc = true_arc({10, 11, false}, plumb);
  EXPECT_DOUBLE_EQ(arc.from_h, 12);
  EXPECT_DOUBLE_EQ(arc.to_h, 1);
  for (int roll = -90; roll <= 90; roll += 15) {
    for (int hour = 1; hour <= 12; ++hour) {
      const double shown = base::on_screen_hour(hour, roll);
      const auto back = true_arc({shown, shown, false}, base::on_screen_hour(6, roll));
      EXPECT_NEAR(base::hours_apart(back.from_h, hour), 0, 1e-9) << hour << " rolled by " << roll;
    }
  }
}

TEST(Clock, IsKeptInWholeHours) {
  Draft draft;
  choose_code(draft, "BBA");
  set_clock(draft, {9.8, 2.3, false}, list());
  EXPECT_EQ(draft.observation.clock_from, 10);
  EXPECT_EQ(draft.observation.clock_to, 2);
  set_clock(draft, {2.9, 3.2, false}, list());
  EXPECT_EQ(draft.observation.clock_from, 3);
  EXPECT_FALSE(draft.observation.clock_to) << "too short for a range";
  set_clock(draft, {5, 5, true}, list());
  EXPECT_EQ(draft.observation.clock_from, 12);
  EXPECT_EQ(draft.observation.clock_to, 12);
}

TEST(Clock, ACodeWithOneHourTakesTheMiddle) {
  Draft draft;
  choose_code(draft, "BCA");
  set_clock(draft, {1, 3, false}, list());
  EXPECT_EQ(draft.observation.clock_from, 2);
  EXPECT_FALSE(draft.observation.clock_to);
  set_clock(draft, {11, 1, false}, list());
  EXPECT_EQ(draft.observation.clock_from, 12);
}

TEST(Stretches, AreOpenUntilEnded) {
  coding::Record record;
  coding::Observation begin;
  begin.id = "o1";
  begin.code = "BBC";
  begin.ch1 = "A";
  begin.q1 = 10;
  begin.stretch = "A1";
  begin.distance_m = 2;
  record.observations.push_back(begin);
  EXPECT_EQ(open_stretches(record), std::vector<std::string>{"1"});
  const auto ending = ending_of(record, "o1");
  ASSERT_TRUE(ending);
  EXPECT_EQ(ending->stretch, "B1");
  EXPECT_EQ(ending->code, "BBC");
  EXPECT_TRUE(ending->distance_m.empty()) << "it ends where the counter stands";
  record.observations.push_back(*ending);
  EXPECT_TRUE(open_stretches(record).empty());
  EXPECT_FALSE(ending_of(record, "o1"));
}

}  // namespace
}  // namespace haunch::window
