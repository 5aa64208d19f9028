// SPDX-License-Identifier: Apache-2.0
// Every rule of a well-formed record, broken once.
#include "coding/validate.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using base::Severity;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(Validate, AGoodRecordHasNothing) {
  EXPECT_THAT(lines(with({run(at_clock(make(1.2, "BAB", "B", "A", 1.5), 12), "A1"),
                          run(at_clock(make(4.8, "BAB", "B", "A", 2.0), 12), "B1"),
                          joint(at_clock(make(6, "BAJ", "B", "", 15), 6)), joint(make(8, "BAJ", "A", "", 15)),
                          [] {
                            Observation one = at_clock(make(9.35, "BCA", "A", "A", 150), 10);
                            return one;
                          }(),
                          make(10, "AED", "AX"), make(11, "BDD", "A", "", 30)})),
              IsEmpty());
}

TEST(Validate, UnknownCodeWithTheNearest) {
  EXPECT_THAT(lines(with({make(1, "BBZ")})),
              Contains(::testing::StartsWith("r: observation 2, BBZ at 1 m: the main code \"BBZ\" is not "
                                             "known; expected a main code of EN 13508-2")));
  EXPECT_THAT(lines(with({make(1, "bab")})), Contains(HasSubstr("did you mean \"BAB\"?")));
  EXPECT_THAT(lines(with({make(1, "")})), Contains(HasSubstr("it has no main code")));
}

TEST(Validate, PlacesComeFromTheFile) {
  const Record record = with({make(1, "BBZ")});
  const RecordPlaces places{{{"job.txt", 9, 1}, {"job.txt", 10, 1}, {"job.txt", 11, 1}}, {}, {}};
  EXPECT_THAT(lines(record, places),
              Contains(::testing::StartsWith("job.txt:10:1: BBZ at 1 m: the main code")));
}

TEST(Validate, Letters) {
  EXPECT_THAT(lines(with({at_clock(make(1, "BBA", "Q", "", 4), 3)})),
              Contains("r: observation 2, BBA Q at 1 m: characterisation 1 is \"Q\", which this code does "
                       "not know; expected one of A "
                       "(thick single root), B (fine roots), C (dense mass of roots)"));
  EXPECT_THAT(lines(with({at_clock(make(1, "BBA", "b", "", 4), 3)})),
              Contains(HasSubstr("did you mean \"BBA B\"?")));
  EXPECT_THAT(lines(with({at_clock(make(1, "BBA", "B", "A", 4), 3)})),
              Contains(HasSubstr("characterisation 2 is \"A\"; expected none")));
  EXPECT_THAT(lines(with({at_clock(make(1, "BAB", "", "A", 4), 3)})),
              Contains(HasSubstr("r: observation 2, BAB - A at 1 m: characterisation 1 is missing")));
  EXPECT_THAT(lines(with({at_clock(make(1, "BAB", "B", "", 4), 3)})),
              Contains(HasSubstr("characterisation 2 is missing")));
}

TEST(Validate, HabitsOfRealFilesAreNoErrors) {
  const auto found = validate(with({at_clock(make(1, "BAG", "A", "", 10), 3), make(2, "BDD", "B", "", 5),
                                    at_clock(make(3, "BAB", "Y", "A", 1), 3)}),
                              CodeList::shipped(), "r");
  EXPECT_FALSE(base::has_errors(found));
  EXPECT_EQ(found.size(), 3U);
  Record record = with({});
  record.observations.front().ch2 = "P";
  record.observations.front().q1 = Number::from_text("Q7");
  EXPECT_FALSE(base::has_errors(validate(record, CodeList::shipped(), "r")));
}

TEST(Validate, MaterialOfAChangeMayStandInTheRemark) {
  Observation change = make(3, "AED");
  EXPECT_THAT(lines(with({change})), Contains(HasSubstr("it does not say to which material")));
  change.remark = "AX from here";
  EXPECT_THAT(lines(with({change})), IsEmpty());
  change.ch1 = "QQ";
  EXPECT_THAT(lines(with({change})), Contains(HasSubstr("characterisation 1 is \"QQ\"")));
}

TEST(Validate, RulesFromMemoryOnlyWarn) {
  const std::vector<Observation> breaches{
      at_clock(make(1, "BAB", "B", "A"), 12),           // no width
      at_clock(make(1, "BBA", "A", "", 140), 3),        // above 100 %
      at_clock(make(1, "BBA", "A", "", -1), 3),         // below 0
      joint(at_clock(make(1, "BAJ", "C", "", 40), 3)),  // no joint bends so far
      make(1, "BBA", "A", "", 4),                       // no clock
      at_clock(make(1, "BDD", "A", "", 10), 6),         // a clock where there is none
      at_clock(make(1, "BAH", "D"), 3, 6),              // two clocks for one
      at_clock(make(1, "BAJ", "B", "", 12), 3),         // not at a joint
      joint(make(1, "BDD", "A", "", 10)),               // at a joint
      make(1, "BDA"),                                   // no photo
      make(1, "BDB"),                                   // no remark
      make(1, "BBH", "A", "A", 1.5),                    // half a rat
      at_clock(make(1, "BAB", "A", "A"), {}, 4),        // second clock alone
      at_clock(make(1, "BCA", "A", "A"), 3),            // height missing
  };
  for (const Observation& one : breaches) {
    const auto found = validate(with({one}), CodeList::shipped(), "r");
    EXPECT_FALSE(found.empty()) << show_code(one);
    EXPECT_FALSE(base::has_errors(found)) << base::to_line(found.front());
    for (const auto& problem : found)
      EXPECT_EQ(problem.severity, Severity::warning) << base::to_line(problem);
  }
}

TEST(Validate, ClocksOutsideTheDial) {
  EXPECT_THAT(
      lines(with({at_clock(make(1, "BBA", "A", "", 4), 13)})),
      Contains(HasSubstr(
          "r: observation 2, BBA A at 1 m: clock position 1 is 13; expected a whole hour from 1 to 12")));
  EXPECT_THAT(lines(with({at_clock(make(1, "BBA", "A", "", 4), 3, 0)})),
              Contains(HasSubstr("clock position 2 is 0")));
}

TEST(Validate, NumbersThatAreNone) {
  Observation one = at_clock(make(1, "BBA", "A"), 3);
  one.q1 = Number::from_text("lots");
  EXPECT_THAT(lines(with({one})), Contains("r: observation 2, BBA A at 1 m: quantification 1 is \"lots\"; "
                                           "expected a number: share of the cross-section that is taken up"));
}

}  // namespace
}  // namespace haunch::coding
