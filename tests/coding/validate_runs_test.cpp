// SPDX-License-Identifier: Apache-2.0
// Continuous observations, and what begins or ends them wrongly.
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

TEST(ValidateRuns, Runs) {
  const auto leak = [](double at, std::string mark) {
    return run(at_clock(make(at, "BBF", "A"), 12), std::move(mark));
  };
  EXPECT_THAT(lines(with({leak(1, "A1")})),
              Contains(HasSubstr("stretch 1 begins and never ends; expected a row with B1")));
  EXPECT_THAT(lines(with({leak(1, "B1")})), Contains(HasSubstr("stretch 1 ends without a begin")));
  EXPECT_THAT(lines(with({leak(1, "A1"), leak(2, "A1"), leak(3, "B1")})),
              Contains(HasSubstr("stretch 1 begins again while it is open")));
  EXPECT_THAT(lines(with({leak(1, "A1"), leak(2, "B1"), leak(3, "A1"), leak(4, "B1")})),
              Contains(HasSubstr("its number is used again")));
  EXPECT_THAT(lines(with({leak(3, "A1"), leak(2, "B1")})),
              Contains(HasSubstr("stretch 1 ends at 2 m before it begins at 3 m")));
  EXPECT_THAT(lines(with({leak(2, "A1"), leak(2, "B1")})),
              Contains(HasSubstr("stretch 1 ends where it begins")));
  EXPECT_THAT(lines(with({leak(1, "C1")})), Contains(HasSubstr("stretch 1 changes while it is not open")));
  EXPECT_THAT(lines(with({leak(1, "D1")})), Contains(HasSubstr("the continuous mark is \"D1\"")));
  EXPECT_THAT(lines(with({leak(1, "A1"), run(at_clock(make(2, "BBG"), 12), "B1")})),
              Contains(HasSubstr("stretch 1 ends as BBG but began as BBF")));
  EXPECT_THAT(lines(with({leak(1, "A1"), run(at_clock(make(2, "BBF", "B"), 12), "B1")})),
              Contains(HasSubstr(
                  "warning: observation 3, BBF B at 2 m: stretch 1 ends with other characterisations")));
  EXPECT_THAT(lines(with({leak(1, "A1"), leak(2, "C1"), leak(3, "B1"), leak(3, "A2"), leak(4, "B2")})),
              IsEmpty());
}

TEST(ValidateRuns, QuantitiesMayDifferBetweenBeginAndEnd) {
  EXPECT_THAT(lines(with({run(make(1, "BDD", "A", "", 10), "A3"), run(make(2, "BDD", "A", "", 30), "B3")})),
              IsEmpty());
}

TEST(ValidateRuns, AChangeIsOfTheKindAndThePlaceOfItsRun) {
  const auto leak = [](double at, const char* mark) {
    return run(at_clock(make(at, "BBF", "A"), 3, 4), mark);
  };
  EXPECT_THAT(
      lines(with({leak(1, "A1"), run(make(2, "BBC", "A", "", 5), "C1"), leak(3, "B1")})),
      Contains(HasSubstr("stretch 1 changes as BBC but began as BBF; expected the code it began with")));
  EXPECT_THAT(
      lines(with({leak(1, "A1"), leak(3, "B1"), leak(4, "C1")})),
      Contains(HasSubstr("stretch 1 changes where it does not run; expected a distance from 1 to 3 m")));
}

}  // namespace
}  // namespace haunch::coding
