// SPDX-License-Identifier: Apache-2.0
// How the command line is called: help, wrong calls, exit codes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::HasSubstr;

const char* const verbs[] = {"train", "demo",  "check",   "truth", "render",
                             "mark",  "grade", "convert", "drill", "scores"};

TEST(Usage, HelpNamesEveryVerbAndEveryVerbHasHelp) {
  const Program haunch;
  const Ran help = haunch.run({"--help"});
  EXPECT_EQ(help.code, 0);
  for (const char* verb : verbs) {
    EXPECT_THAT(help.out, HasSubstr(std::string("\n  ") + verb)) << verb;
    const Ran one = haunch.run({verb, "--help"});
    EXPECT_EQ(one.code, 0) << verb;
    EXPECT_THAT(one.out, HasSubstr(std::string("haunch ") + verb)) << verb;
  }
  EXPECT_THAT(help.out, HasSubstr("does not replace local codes, a qualified assessment or a permit"));
  EXPECT_THAT(haunch.run({"--version"}).out, testing::MatchesRegex("haunch [0-9]+\\.[0-9]+\\.[0-9]+\n"));
}

TEST(Usage, WrongCallsExitWithTwoAndSayWhy) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  std::string push = clean_scenario;
  push.insert(push.rfind('}'), R"(, "camera": { "kind": "push" } )");
  haunch.write("push.json", push);
  const std::vector<std::pair<std::vector<std::string>, std::string>> wrong = {
      {{}, "usage"},
      {{"marc"}, "did you mean \"mark\"?"},
      {{"truth"}, "missing: SCENARIO"},
      {{"truth", "clean.json", "--jsn"}, "--jsn"},
      {{"truth", "clean.json", "--json", "--text"}, "not both"},
      {{"truth", "clean.json", "--units", "yards"}, "m or ft"},
      {{"mark", "clean.json"}, "missing: ATTEMPT"},
      {{"render", "clean.json", "-o", "f.png"}, "--at"},
      {{"render", "clean.json", "--at", "three", "-o", "f.png"}, "not a number"},
      {{"render", "clean.json", "--at", "99", "-o", "f.png"}, "outside the run"},
      {{"render", "clean.json", "--at", "1", "--size", "big", "-o", "f.png"}, "WIDTHxHEIGHT"},
      {{"render", "clean.json", "--at", "1", "--yaw", "91", "-o", "f.png"}, "between -90 and 90"},
      {{"render", "push.json", "--at", "1", "--pitch", "5", "-o", "f.png"}, "push camera does not turn"},
      {{"grade", "clean.json", "--site", "moon=far"}, "groundwater"},
      {{"convert", "clean.json", "clean.json"}, "same file"},
  };
  for (const auto& [arguments, words] : wrong) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 2) << testing::PrintToString(arguments) << ran.err;
    EXPECT_THAT(ran.err, HasSubstr(words)) << testing::PrintToString(arguments);
  }
  EXPECT_EQ(haunch.read("clean.json"), clean_scenario) << "a wrong call changed a file";
}

TEST(Usage, AnOutputNeverGoesOverItsInput) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  EXPECT_EQ(haunch.run({"truth", "clean.json", "--json", "-o", "./clean.json"}).code, 2);
  EXPECT_EQ(haunch.read("clean.json"), clean_scenario);
}

TEST(Usage, WithoutADisplayTrainSaysWhatToDoInstead) {
  const Program haunch;
  const Ran ran = haunch.run({"train", shipped("canteen-branch").string()});
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, HasSubstr("haunch demo"));
}

TEST(Usage, TrainNamesItsOptionsAndLooksAtTheCallBeforeTheDisplay) {
  if (!std::filesystem::exists(HAUNCH_BIN_DIR "/haunch-train")) GTEST_SKIP() << "the window is not built";
  const Program haunch;
  const Ran help = haunch.run({"train", "--help"});
  EXPECT_EQ(help.code, 0);
  for (const char* option : {"--trainee", "--units", "--replay", "--width"})
    EXPECT_THAT(help.out, HasSubstr(option));
  const Ran missing = haunch.run({"train", "no.json"});
  EXPECT_EQ(missing.code, 1);
  EXPECT_THAT(missing.err, HasSubstr("no.json"));
  const Ran wrong = haunch.run({"train", "--no-such-option"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, HasSubstr("--no-such-option"));
}

TEST(Usage, ASiteConditionIsOneThatTheSchemeKnows) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  ASSERT_EQ(haunch.run({"truth", "clean.json", "--json", "-o", "record.json"}).code, 0);
  for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
           {"grade", "record.json", "--site", "groundwater=banana"},
           {"mark", "clean.json", "record.json", "--site", "groundwater=banana"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.out, "");
    // The three of Tab. A-3-3 in the shipped scheme.
    for (const char* value : {"invert above the aquifer", "in the fluctuation zone", "in the aquifer"})
      EXPECT_THAT(ran.err, HasSubstr(value));
  }
  const Ran near = haunch.run({"grade", "record.json", "--site", "system=foul wather"});
  EXPECT_THAT(near.err, HasSubstr("did you mean \"foul water\"?"));
  for (const char* good : {"soil=loam, clay", "water-endangering=yes", "water-endangering=no"})
    EXPECT_EQ(haunch.run({"grade", "record.json", "--site", good}).code, 0) << good;
}

TEST(Usage, WhichInspectionIsAWholeNumberWithinTheFile) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  ASSERT_EQ(haunch.run({"truth", "clean.json", "--json", "-o", "one.json"}).code, 0);
  const std::string one = haunch.read("one.json");
  haunch.write("two.json", R"({"kind": "records", "edition": 1, "records": [)" + one + "," + one + "]}");
  for (const char* number : {"1.7", "1e30", "-1", "0", "3", "nan", "inf", "one", ""}) {
    const Ran ran = haunch.run({"mark", "clean.json", "two.json", "--inspection=" + std::string(number)});
    EXPECT_EQ(ran.code, 2) << number;
    EXPECT_THAT(ran.err, *number == 0 ? HasSubstr("inspection") : HasSubstr("a number from 1 to 2"))
        << number;
    if (*number != 0) {
      EXPECT_THAT(ran.err, HasSubstr("holds 2 inspections"));
    }
  }
  EXPECT_EQ(haunch.run({"mark", "clean.json", "two.json", "--inspection", "2"}).code, 0);
  EXPECT_THAT(haunch.run({"mark", "clean.json", "one.json", "--inspection", "2"}).err,
              HasSubstr("a number from 1 to 1: one.json holds 1 inspection\n"));
  EXPECT_THAT(haunch.run({"mark", "clean.json", "two.json"}).err, HasSubstr("holds 2 inspections"))
      << "which one was marked is no secret";
}

TEST(Usage, AFileThatIsNotThereIsAProblemOfTheInput) {
  const Program haunch;
  for (const std::vector<std::string>& arguments :
       std::vector<std::vector<std::string>>{{"check", "no.json"},
                                             {"truth", "no.json"},
                                             {"mark", "no.json", "no.json"},
                                             {"grade", "no.json"},
                                             {"convert", "no.json", "out.json"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 1) << arguments[0];
    EXPECT_THAT(ran.out + ran.err, HasSubstr("no.json: there is no such file")) << arguments[0];
  }
}

TEST(Usage, AnOutputThatCannotBeWrittenStopsTheWork) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  EXPECT_EQ(haunch.run({"truth", "clean.json", "-o", "no/such/folder/out.txt"}).code, 3);
}

TEST(Usage, FeetOnRequest) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  EXPECT_THAT(haunch.run({"truth", "clean.json"}).out, HasSubstr("6.00 m"));
  // 6 m is 19.685 ft (the international foot, 0.3048 m).
  EXPECT_THAT(haunch.run({"truth", "clean.json", "--units", "ft"}).out, HasSubstr("19.7 ft"));
}

TEST(Usage, NoScoresYetIsNoError) {
  const Program haunch;
  EXPECT_EQ(haunch.run({"scores"}).out, "nothing has been kept yet\n");
  EXPECT_EQ(haunch.run({"scores", "--attempts"}).out, "no attempts yet\n");
  const Ran ran = haunch.run({"scores", "--attempts", "--json"});
  EXPECT_EQ(ran.code, 0);
  expect_schema(ran.out, "scores");
  expect_schema(haunch.run({"scores", "--json"}).out, "progress");
  EXPECT_EQ(haunch.run({"scores", "--store", "elsewhere.sqlite"}).code, 1);
}

}  // namespace
}  // namespace haunch::cli_test
