// SPDX-License-Identifier: Apache-2.0
// Every rule of a well-formed record, broken once.
#include "coding/validate.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace haunch::coding {
namespace {

using base::Severity;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

Observation make(double at, std::string code, std::string ch1 = {}, std::string ch2 = {}, Number q1 = {}) {
  Observation one;
  one.distance_m = at;
  one.code = std::move(code);
  one.ch1 = std::move(ch1);
  one.ch2 = std::move(ch2);
  one.q1 = std::move(q1);
  return one;
}
Observation at_clock(Observation one, std::optional<int> from, std::optional<int> to = {}) {
  one.clock_from = from;
  one.clock_to = to;
  return one;
}
Observation joint(Observation one) {
  one.at_joint = true;
  return one;
}
Observation run(Observation one, std::string mark) {
  one.stretch = std::move(mark);
  return one;
}

/// A record with nodes and whatever is between.
Record with(std::vector<Observation> between) {
  Record record;
  record.header = {{"ABQ", "20"}, {"ACB", "150"},        {"ACD", "AE"},
                   {"AAK", "A"},  {"ABF", "2026-03-02"}, {"ABG", "09:40"}};
  record.observations.push_back(make(0, "BCD", "A"));
  for (Observation& one : between) record.observations.push_back(std::move(one));
  record.observations.push_back(make(20, "BCE", "A"));
  return record;
}

std::vector<std::string> lines(const Record& record, const RecordPlaces& places = {}) {
  std::vector<std::string> out;
  for (const auto& problem : validate(record, CodeList::shipped(), "r", places))
    out.push_back(base::to_line(problem));
  return out;
}

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
              Contains(HasSubstr("did you mean \"B\"?")));
  EXPECT_THAT(lines(with({at_clock(make(1, "BBA", "B", "A", 4), 3)})),
              Contains(HasSubstr("characterisation 2 is \"A\"; expected none")));
  EXPECT_THAT(lines(with({at_clock(make(1, "BAB", "", "A", 4), 3)})),
              Contains(HasSubstr("warning: observation 2, BAB - A at 1 m: characterisation 1 is missing")));
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
  EXPECT_THAT(lines(with({change})), Contains(HasSubstr("characterisation 1 is missing")));
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
      at_clock(make(1, "BAD", "A", "A"), 3, 4),         // ch2 in one list only
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

TEST(Validate, Distances) {
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

TEST(Validate, OrderIsANoteAndCountingDownIsAllowed) {
  EXPECT_THAT(lines(with({at_clock(make(5, "BBF", "A"), 12), at_clock(make(4, "BBF", "A"), 12)})),
              ::testing::ElementsAre("r: note: observation 3, BBF A at 4 m: its distance is out of order "
                                     "after 5 m; expected distances that grow"));
  Record down =
      with({run(at_clock(make(9, "BBF", "A"), 12), "A1"), run(at_clock(make(4, "BBF", "A"), 12), "B1")});
  down.observations.front().distance_m = 20.0;
  down.observations.back().distance_m = 0.0;
  EXPECT_THAT(lines(down), IsEmpty());
}

TEST(Validate, Runs) {
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

TEST(Validate, QuantitiesMayDifferBetweenBeginAndEnd) {
  EXPECT_THAT(lines(with({run(make(1, "BDD", "A", "", 10), "A3"), run(make(2, "BDD", "A", "", 30), "B3")})),
              IsEmpty());
}

TEST(Validate, NodesShouldBeThere) {
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

TEST(Validate, NumbersThatAreNone) {
  Observation one = at_clock(make(1, "BBA", "A"), 3);
  one.q1 = Number::from_text("lots");
  EXPECT_THAT(lines(with({one})), Contains("r: observation 2, BBA A at 1 m: quantification 1 is \"lots\"; "
                                           "expected a number: share of the cross-section that is taken up"));
}

TEST(Validate, Headers) {
  Record record = with({});
  record.header = {{"ACB", "wide"},   {"ACC", "-3"},   {"ACD", "AA1"}, {"AAK", "Q"},
                   {"ABF", "2.3.26"}, {"ABG", "9:40"}, {"AXA", "1"},   {"ADE", "a"},
                   {"ADE", "b"},      {"AAN", "x"},    {"AAN", "y"},   {"ACM", ""}};
  const auto found = lines(record);
  EXPECT_THAT(found, Contains("r: header ACB (Height) is \"wide\"; expected a number"));
  EXPECT_THAT(found, Contains("r: header ACC (Width) is \"-3\"; expected a number of at least 0"));
  EXPECT_THAT(found,
              Contains(::testing::StartsWith("r: header ACD (Material) is \"AA1\"; expected one of AA, AB")));
  EXPECT_THAT(found,
              Contains("r: warning: header AAK (Direction of inspection) is \"Q\"; expected one of A, B, C"));
  EXPECT_THAT(found, Contains(HasSubstr("expected a date such as 2026-03-02")));
  EXPECT_THAT(found, Contains(HasSubstr("expected a time such as 09:40")));
  EXPECT_THAT(found, Contains(HasSubstr("header code \"AXA\" is not known")));
  EXPECT_THAT(found, Contains(HasSubstr("header AAN is given twice")));
  EXPECT_EQ(found.size(), 8U);
}

TEST(Validate, NamesThatPointNowhere) {
  Record record = with({});
  record.observations[0].id = record.observations[1].id = "o1";
  record.judgement = Judgement{{{"o7", {{"tightness", 3}}}}, {}, {}};
  record.not_visible = {{"o2", "under water"}};
  const auto found = lines(record);
  EXPECT_THAT(found, Contains(HasSubstr("the name \"o1\" is taken")));
  EXPECT_THAT(found, Contains(HasSubstr("the judgement names an observation \"o7\" that is not there")));
  EXPECT_THAT(found, Contains(HasSubstr("could not be seen names an observation \"o2\"")));
}

TEST(Validate, AChangeIsOfTheKindAndThePlaceOfItsRun) {
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

TEST(Validate, OnlyANumberOfMetresIsSaidInMetres) {
  Observation one = at_clock(make(1, "BAB", "B", "A", 1), 12);
  one.distance_m = Number::from_text("abc");
  EXPECT_THAT(lines(with({one})),
              Contains("r: observation 2, BAB B A at abc: its distance is \"abc\"; expected "
                       "metres along the pipe, a number"));
}

TEST(Validate, ManyNamesThatPointNowhereTakeNoTimeToSpeakOf) {
  Record record;
  record.judgement = Judgement{};
  for (int i = 0; i < 20000; ++i) {
    record.observations.push_back(make(i, "BAB", "B", "A", 1));
    record.observations.back().id = "a" + std::to_string(i);
    record.judgement->classes.push_back({"b" + std::to_string(i), {}});
  }
  const auto found = lines(record);
  EXPECT_EQ(std::count_if(found.begin(), found.end(),
                          [](const std::string& line) {
                            return line.find("the judgement names") != std::string::npos;
                          }),
            20000);
}

}  // namespace
}  // namespace haunch::coding
