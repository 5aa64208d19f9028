// SPDX-License-Identifier: Apache-2.0
// What the verbs that take records say of records that `check` rejects.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

std::string record_of(const std::string& observations) {
  return R"({ "kind": "record", "edition": 1, "header": { "ABQ": "6", "ACD": "AZ", "ACB": "100" },
  "observations": [
)" + observations +
         "\n  ]\n}\n";
}

const char* const start = R"(    { "distance_m": 0, "code": "BCD", "ch1": "A" },)";
const char* const unknown_code = R"(    { "distance_m": 1, "code": "BAX" })";
const char* const no_number =
    R"(    { "distance_m": 1, "code": "BAB", "ch1": "B", "ch2": "A", "q1": "wide" })";
const char* const unknown_letter =
    R"(    { "distance_m": 1, "code": "BAB", "ch1": "Q", "ch2": "A", "q1": 2, "clock_from": 3 })";
const char* const never_ended =
    R"(    { "distance_m": 1, "code": "BBB", "ch1": "B", "q1": 10, "stretch": "A1" })";

TEST(Records, NothingIsGradedFromACodeOrANumberThatCannotBe) {
  const Program haunch;
  for (const char* row : {unknown_code, no_number}) {
    haunch.write("record.json", record_of(std::string(start) + "\n" + row));
    const Ran checked = haunch.run({"check", "record.json"});
    const Ran graded = haunch.run({"grade", "record.json", "--json"});
    EXPECT_EQ(graded.code, 1) << row;
    expect_schema(graded.out, "grade");
    EXPECT_TRUE(Json::parse(graded.out).at("grades").empty());
    EXPECT_EQ(Json::parse(graded.out).at("not_graded").size(), 1U);
    EXPECT_EQ(graded.err, checked.out) << "all that check says";
    EXPECT_THAT(graded.err, HasSubstr("record.json:4:"));
  }
  // Every file's problems together.
  haunch.write("a.json", record_of(unknown_code));
  haunch.write("b.json", record_of(no_number));
  const Ran both = haunch.run({"grade", "a.json", "b.json"});
  EXPECT_EQ(both.code, 1);
  EXPECT_THAT(both.err, AllOf(HasSubstr("a.json:3:"), HasSubstr("b.json:3:")));
}

TEST(Records, WhatCanBeGradedIsGradedAndTheRestIsSaid) {
  const Program haunch;
  for (const char* row : {unknown_letter, never_ended}) {
    haunch.write("record.json", record_of(std::string(start) + "\n" + row));
    EXPECT_EQ(haunch.run({"check", "record.json"}).code, 1) << row;
    const Ran graded = haunch.run({"grade", "record.json", "--json"});
    EXPECT_EQ(graded.code, 0) << row;
    expect_schema(graded.out, "grade");
    EXPECT_THAT(graded.err, HasSubstr("record.json:4:"));
    EXPECT_THAT(graded.err, HasSubstr("warning: ")) << "not an error, because it is graded";
  }
}

TEST(Records, AnAttemptIsMarkedWithItsMistakesAndToldOfThem) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  haunch.write("attempt.json", record_of(std::string(start) + "\n" + unknown_code));
  const Ran marked = haunch.run({"mark", "clean.json", "attempt.json", "--json"});
  ASSERT_EQ(marked.code, 0) << marked.err;
  EXPECT_THAT(marked.err, AllOf(HasSubstr("attempt.json:4:"), HasSubstr("\"BAX\" is not known"),
                                HasSubstr("marked as it stands")));
  EXPECT_EQ(Json::parse(marked.out).at("invented").size(), 1U) << "a wrong code is a wrong mark";
  // A clock or a number that cannot be leaves nothing to mark.
  haunch.write("attempt.json", record_of(std::string(start) + "\n" + no_number));
  EXPECT_EQ(haunch.run({"mark", "clean.json", "attempt.json", "--json"}).code, 1);
  // And a truth has no such excuse.
  haunch.write("truth.json", record_of(unknown_code));
  haunch.write("fine.json", record_of(R"({ "distance_m": 0, "code": "BCD", "ch1": "A" })"));
  const Ran no_truth = haunch.run({"mark", "truth.json", "fine.json", "--json"});
  EXPECT_EQ(no_truth.code, 1);
  EXPECT_THAT(no_truth.err, HasSubstr("truth.json:3:"));
  EXPECT_EQ(no_truth.out, "");
}

TEST(Records, AClockPastTwelveIsNoClock) {
  const Program haunch;
  // Exchange text can hold what the schema of JSON records cannot.
  haunch.write("clean.json", clean_scenario);
  haunch.write("clock.csv", "distance_m,code,ch1,ch2,q1,clock_from\n1,BAB,B,A,2,14\n");
  for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
           {"grade", "clock.csv"}, {"mark", "clean.json", "clock.csv"}, {"mark", "clock.csv", "clock.csv"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 1) << arguments[0] << ran.err;
    EXPECT_THAT(ran.err, AllOf(HasSubstr("clock.csv:2:"), HasSubstr("14")));
  }
}

/// Many remarks are the same page, whichever verb comes upon them.
TEST(Records, EveryVerbSumsThemUpAlike) {
  const Program haunch;
  std::string rows = start;
  for (int i = 0; i < 30; ++i)
    rows +=
        std::string("\n") + R"({ "distance_m": 2, "code": "BCA", "ch1": "A", "ch2": "A", "clock_from": 3 },)";
  rows += "\n" + std::string(unknown_letter);
  haunch.write("many.json", record_of(rows));
  const std::string
      counted =
          "\n  30 x BCA: a size is missing; expected height of the connection in mm [size-missing]\n"
          "      lines 4, 5, 6, 7, 8, 9, 10, 11 and 22 more; the first: ",
      call =
          "\n`haunch check --every many.json` lists each with its line; `--without NAME` leaves a "
          "rule out.\n";
  EXPECT_THAT(haunch.run({"check", "many.json"}).out, AllOf(HasSubstr(counted), HasSubstr(call)));
  haunch.write("clean.json", clean_scenario);
  for (const std::vector<std::string>& arguments :
       std::vector<std::vector<std::string>>{{"convert", "many.json", "out.txt"},
                                             {"grade", "many.json"},
                                             {"mark", "clean.json", "many.json"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 0) << arguments[0];
    EXPECT_THAT(ran.err, AllOf(HasSubstr("many.json: no errors, "), HasSubstr(counted), HasSubstr(call)))
        << arguments[0];
    EXPECT_LT(std::count(ran.err.begin(), ran.err.end(), '\n'), 20) << arguments[0];
  }
  // And where nothing can be done with it.
  haunch.write("many.json", record_of(rows + ",\n" + no_number));
  for (const std::vector<std::string>& arguments :
       std::vector<std::vector<std::string>>{{"grade", "many.json"}, {"mark", "clean.json", "many.json"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 1) << arguments[0];
    EXPECT_THAT(ran.err, AllOf(HasSubstr("\"wide\""), HasSubstr(counted))) << arguments[0];
  }
}

TEST(Records, ConvertCopiesAndSaysWhatCheckWould) {
  const Program haunch;
  haunch.write("record.json", record_of(std::string(start) + "\n" + unknown_code));
  const Ran ran = haunch.run({"convert", "record.json", "out.csv"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_THAT(ran.err, AllOf(HasSubstr("record.json:4:"), HasSubstr("BAX")));
  EXPECT_THAT(haunch.read("out.csv"), HasSubstr("BAX"));
}

TEST(Records, AScenarioIsToldApartWithWhatToDo) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  for (const std::vector<std::string>& arguments :
       std::vector<std::vector<std::string>>{{"grade", "clean.json"},
                                             {"mark", "clean.json", "clean.json"},
                                             {"convert", "clean.json", "out.csv"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 1);
    EXPECT_THAT(ran.err, AllOf(HasSubstr("this is a scenario"), HasSubstr("haunch truth clean.json")));
    EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
  }
}

}  // namespace
}  // namespace haunch::cli_test
