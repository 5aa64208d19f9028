// SPDX-License-Identifier: Apache-2.0
// Header fields, and what refers to observations by name.
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

TEST(ValidateHeader, Headers) {
  Record record = with({});
  record.header = {{"ACB", "wide"},   {"ACC", "-3"},   {"ACD", "AA1"}, {"AAK", "Q"},
                   {"ABF", "2.3.26"}, {"ABG", "9:40"}, {"AXA", "1"},   {"ADE", "a"},
                   {"ADE", "b"},      {"AAN", "x"},    {"AAN", "y"},   {"ACM", ""}};
  const auto found = lines(record);
  EXPECT_THAT(found, Contains("r: header ACB (Height) is \"wide\"; expected a number"));
  EXPECT_THAT(found, Contains("r: header ACC (Width) is \"-3\"; expected a number of at least 0"));
  EXPECT_THAT(found,
              Contains(::testing::StartsWith("r: header ACD (Material) is \"AA1\"; expected one of AA, AB")));
  EXPECT_THAT(found, Contains("r: warning: header AAK (Direction of inspection) is \"Q\"; expected one of "
                              "A (with the flow), B (against the flow), C (flow not known)"));
  EXPECT_THAT(found, Contains(HasSubstr("expected a date such as 2026-03-02")));
  EXPECT_THAT(found, Contains(HasSubstr("expected a time such as 09:40")));
  EXPECT_THAT(found, Contains(HasSubstr("header code \"AXA\" is not known")));
  EXPECT_THAT(found, Contains(HasSubstr("header AAN is given twice")));
  EXPECT_EQ(found.size(), 8U);
}

TEST(ValidateHeader, AnInspectionOfAManholeIsToldAsOne) {
  Record record = with({make(1, "DAB", "B"), make(2, "DCG", "A"), make(3, "DXB")});
  record.header.push_back({"CBF", "2024-05-02"});
  const auto found = remarks_on(record, CodeList::shipped(), "r", {}, {});
  std::vector<std::string> said, kinds;
  for (const Remark& one : found) {
    said.push_back(base::to_line(one.problem));
    kinds.push_back(one.kind);
  }
  EXPECT_THAT(said,
              Contains("r: warning: header code \"CBF\" describes a manhole, and only pipes are read "
                       "here; expected an inspection of a pipe, whose header codes run from AAA to ADE"));
  EXPECT_THAT(said, Contains(::testing::EndsWith("the main code \"DAB\" describes a manhole, and only pipes "
                                                 "are read here; expected an inspection of a pipe, whose "
                                                 "codes begin with B")));
  EXPECT_EQ(std::count(kinds.begin(), kinds.end(), "a code for manholes, and only pipes are read here"), 2);
  EXPECT_THAT(said, Contains(HasSubstr("\"DXB\" is not known"))) << "no code of manholes either";
}

TEST(ValidateHeader, NamesThatPointNowhere) {
  Record record = with({});
  record.observations[0].id = record.observations[1].id = "o1";
  record.judgement = Judgement{{{"o7", {{"tightness", 3}}}}, {}, {}};
  record.not_visible = {{"o2", "under water"}};
  const auto found = lines(record);
  EXPECT_THAT(found, Contains(HasSubstr("the name \"o1\" is taken")));
  EXPECT_THAT(found, Contains(HasSubstr("the judgement names an observation \"o7\" that is not there")));
  EXPECT_THAT(found, Contains(HasSubstr("could not be seen names an observation \"o2\"")));
}

TEST(ValidateHeader, ManyNamesThatPointNowhereTakeNoTimeToSpeakOf) {
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

/// One field of the header on top of a good record.
Record with_header(std::string code, std::string value) {
  Record record = with({});
  record.set_header(code, std::move(value));
  return record;
}

TEST(ValidateHeader, DatesAndTimesMustExist) {
  for (const char* day : {"2026-02-28", "2024-02-29", "1999-12-31"})
    EXPECT_THAT(broken(with_header("ABF", day)), IsEmpty()) << day;
  for (const char* day : {"2026-02-29", "2026-13-01", "2026-00-10", "26-01-01", "yesterday"})
    EXPECT_THAT(broken(with_header("ABF", day)), ElementsAre("header-date")) << day;
  EXPECT_THAT(lines(with_header("ABF", "02.03.2026")),
              ElementsAre(HasSubstr("did you mean \"2026-03-02\"?")));
  EXPECT_THAT(lines(with_header("ABF", "31.02.2026")),
              ElementsAre(::testing::Not(HasSubstr("did you mean"))));
  for (const char* time : {"00:00", "23:59", "09:40:59"})
    EXPECT_THAT(broken(with_header("ABG", time)), IsEmpty()) << time;
  for (const char* time : {"24:00", "09:60", "9:40", "09:40:60", "noon"})
    EXPECT_THAT(broken(with_header("ABG", time)), ElementsAre("header-time")) << time;
  EXPECT_THAT(broken(with_header("ACN", "1987")), IsEmpty());
  EXPECT_THAT(broken(with_header("ACN", "about 1987")), ElementsAre("header-date"));
}

TEST(ValidateHeader, AValueWrittenOutIsToldItsLetters) {
  EXPECT_THAT(lines(with_header("ACD", "clay")), ElementsAre(HasSubstr("did you mean \"AE\"?")));
  EXPECT_THAT(lines(with_header("ACD", "Concrete")), ElementsAre(HasSubstr("did you mean \"AG\"?")));
  EXPECT_THAT(lines(with_header("ACA", "egg")), ElementsAre(HasSubstr("did you mean \"C\"?")));
  EXPECT_THAT(lines(with_header("ACB", "150 mm")), ElementsAre(HasSubstr("did you mean \"150\"?")));
  EXPECT_THAT(lines(with_header("ABQ", "23,5")), ElementsAre(HasSubstr("did you mean \"23.5\"?")));
}

TEST(ValidateHeader, ValuesFromMemoryWarnAndSourcedOnesRefuse) {
  EXPECT_TRUE(base::has_errors(validate(with_header("ACD", "QQ"), CodeList::shipped(), "r")));
  EXPECT_TRUE(base::has_errors(validate(with_header("ACA", "Q"), CodeList::shipped(), "r")));
  for (const char* code : {"AAK", "ABC", "ABE", "ACE", "ACJ", "ACK", "ACM", "ADA", "ADC"}) {
    const auto found = validate(with_header(code, "Q"), CodeList::shipped(), "r");
    EXPECT_FALSE(found.empty()) << code;
    EXPECT_FALSE(base::has_errors(found)) << code;
    EXPECT_THAT(broken(with_header(code, "A")), IsEmpty()) << code;
  }
}

TEST(ValidateHeader, ARoundPipeIsAsHighAsWide) {
  Record record = with_header("ACA", "A");
  record.set_header("ACC", "150");
  EXPECT_THAT(broken(record), IsEmpty());
  record.set_header("ACC", "100");
  EXPECT_THAT(broken(record), ElementsAre("shape-sizes"));
  record.set_header("ACA", "C");
  EXPECT_THAT(broken(record), IsEmpty()) << "an egg is higher than wide";
}

TEST(ValidateHeader, TheClockWhereALateralStarts) {
  EXPECT_THAT(broken(with_header("AAI", "3")), IsEmpty());
  for (const char* clock : {"0", "13", "3.5", "top"})
    EXPECT_THAT(broken(with_header("AAI", clock)), ElementsAre("header-clock")) << clock;
}

TEST(ValidateHeader, PlacesAreThoseOfTheFields) {
  Record record = with({});
  record.header = {{"ABQ", "20"}, {"ACD", "QQ"}};
  RecordPlaces places;
  places.header = {{"job.txt", 7, 1}, {"job.txt", 7, 4}};
  EXPECT_THAT(lines(record, places), ElementsAre(::testing::StartsWith("job.txt:7:4: header ACD")));
  places.header.resize(1);
  EXPECT_THAT(lines(record, places), ElementsAre(::testing::StartsWith("job.txt:7:1: header ACD")));
}

}  // namespace
}  // namespace haunch::coding
