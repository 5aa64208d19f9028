// SPDX-License-Identifier: Apache-2.0
// Distances and nodes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(ValidatePlaces, Distances) {
  Observation none = at_clock(make(1, "BBF", "A"), 12);
  none.distance_m = Number();
  EXPECT_THAT(lines(with({none})), Contains(HasSubstr("it has no distance; expected metres along the pipe")));
  none.distance_m = Number::from_text("Q7");
  EXPECT_THAT(lines(with({none})), Contains(HasSubstr("its distance is \"Q7\"")));
  EXPECT_THAT(lines(with({at_clock(make(-0.5, "BBF", "A"), 12)})),
              Contains(HasSubstr("its distance is -0.5 m; expected at least 0")));
  Record record = with({at_clock(make(20.5, "BBF", "A"), 12)});
  record.observations.back().distance_m = 20.5;
  EXPECT_THAT(lines(record),
              Contains(HasSubstr("warning: observation 2, BBF A at 20.5 m: its distance is 20.5 m, past the "
                                 "length in the header (ABQ); expected at most 20 m")));
  EXPECT_TRUE(
      base::has_errors(validate(with({at_clock(make(25, "BBF", "A"), 12)}), CodeList::shipped(), "r")));
}

TEST(ValidatePlaces, GoingBackIsAWarningAndCountingDownIsAllowed) {
  EXPECT_THAT(lines(with({at_clock(make(5, "BBF", "A"), 12), at_clock(make(4, "BBF", "A"), 12)})),
              ::testing::ElementsAre("r: warning: observation 3, BBF A at 4 m: its distance is out of order "
                                     "after 5 m; expected distances that grow"));
  Record down =
      with({run(at_clock(make(9, "BBF", "A"), 12), "A1"), run(at_clock(make(4, "BBF", "A"), 12), "B1")});
  down.observations.front().distance_m = 20.0;
  down.observations.back().distance_m = 0.0;
  EXPECT_THAT(lines(down), IsEmpty());
}

TEST(ValidatePlaces, WhatNobodyCouldSeeMayLieBeyondAnAbandonment) {
  Record record =
      with({at_clock(make(5, "BBF", "A"), 12), make(8, "BDC", "A", "E"), at_clock(make(12, "BBF", "B"), 12)});
  std::erase_if(record.observations, [](const Observation& row) { return row.code == "BCE"; });
  number_observations(record);
  EXPECT_THAT(lines(record), Contains(HasSubstr("BBF B at 12 m")));
  record.not_visible = {{record.observations.back().id, "beyond"}};
  EXPECT_THAT(lines(record), IsEmpty());
}

TEST(ValidatePlaces, NodesShouldBeThere) {
  Record record = with({});
  record.observations.pop_back();
  EXPECT_THAT(lines(record), ::testing::ElementsAre("r: warning: neither a finish node nor an abandonment is "
                                                    "recorded; expected an observation BCE or BDC"));
  record.observations.push_back(make(7, "BDC", "A"));
  EXPECT_THAT(lines(record), IsEmpty());
  record.observations.erase(record.observations.begin());
  EXPECT_THAT(lines(record), Contains(HasSubstr("no start node is recorded")));
  record.observations.clear();
  EXPECT_THAT(lines(record), ::testing::ElementsAre(HasSubstr("note: the record has no observations")));
}

TEST(ValidatePlaces, OnlyANumberOfMetresIsSaidInMetres) {
  Observation one = at_clock(make(1, "BAB", "B", "A", 1), 12);
  one.distance_m = Number::from_text("abc");
  EXPECT_THAT(lines(with({one})),
              Contains("r: observation 2, BAB B A at abc: its distance is \"abc\"; expected "
                       "metres along the pipe, a number"));
}

TEST(ValidatePlaces, EachRowThatGoesBackIsNamed) {
  const auto leak = [](double at) { return at_clock(make(at, "BBF", "A"), 12); };
  EXPECT_THAT(broken(with({leak(3), leak(5), at_clock(make(5, "BBF", "A"), 3), leak(9)})), IsEmpty());
  EXPECT_THAT(broken(with({leak(3), leak(5), leak(4), leak(9), leak(8)})),
              ElementsAre("distance-back", "distance-back"));
}

TEST(ValidatePlaces, TheFinishStandsAtTheLengthOfTheHeader) {
  Record record = with({});
  record.set_header("ABQ", "20.9");
  EXPECT_THAT(broken(record), IsEmpty()) << "within a metre";
  record.set_header("ABQ", "25");
  EXPECT_THAT(broken(record), ElementsAre("length-short"));
  record.observations.back() = make(20, "BDC", "A");
  EXPECT_THAT(broken(record), IsEmpty()) << "abandoned, and says so";
  Record down = with({});
  down.observations.front().distance_m = 20.0;
  down.observations.back().distance_m = 0.0;
  EXPECT_THAT(broken(down), IsEmpty()) << "counting down";
}

TEST(ValidatePlaces, NothingLiesOutsideTheNodes) {
  const auto leak = [](double at) { return at_clock(make(at, "BBF", "A"), 12); };
  Record record = with({leak(0.5), leak(19)});
  record.observations.front().distance_m = 0.2;
  EXPECT_THAT(broken(record), IsEmpty());
  record.observations.front().distance_m = 0.7;
  EXPECT_THAT(broken(record), ElementsAre("distance-back", "outside-nodes"));
  record.observations.front().distance_m = 0.2;
  record.observations.back() = make(18.5, "BDC", "A");
  EXPECT_THAT(broken(record), ElementsAre("distance-back", "outside-nodes")) << "past the abandonment";
}

TEST(ValidatePlaces, OneStartAndOneFinish) {
  EXPECT_THAT(broken(with({make(0.1, "BCD", "A")})), ElementsAre("node-twice"));
  EXPECT_THAT(broken(with({make(20, "BCE", "B")})), ElementsAre("node-twice"));
  EXPECT_THAT(broken(with({make(20, "BDC", "A")})), ElementsAre("after-abandoning"));
}

TEST(ValidatePlaces, NamesOfNodesGoTogether) {
  Record record = with({});
  record.set_header("AAB", "Q7");
  record.set_header("AAD", "Q7");
  record.set_header("AAF", "Q8");
  record.observations.front().q1 = Number::from_text("Q7");
  record.observations.back().q1 = Number::from_text("Q8");
  EXPECT_THAT(broken(record), IsEmpty());
  record.set_header("AAB", "Q8");
  EXPECT_THAT(broken(record), ElementsAre("node-names", "node-names"))
      << "the rows name them the other way round";
  record.set_header("AAB", "Q9");
  EXPECT_THAT(lines(record), ElementsAre(HasSubstr("\"Q9\", neither node 1 (AAD) nor node 2 (AAF)")));
  record.set_header("AAF", "Q7");
  EXPECT_THAT(lines(record), ElementsAre(HasSubstr("are both \"Q7\"; expected two nodes")));
}

TEST(ValidatePlaces, ADistanceWithItsUnitIsToldTheNumber) {
  Observation one = at_clock(make(1, "BBF", "A"), 12);
  one.distance_m = Number::from_text("4,5 m");
  EXPECT_THAT(lines(with({one})), Contains(HasSubstr("did you mean \"4.5\"?")));
}

}  // namespace
}  // namespace haunch::coding
