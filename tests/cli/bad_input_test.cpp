// SPDX-License-Identifier: Apache-2.0
// Files that are wrong: located problems, exit code 1, no crash, nothing written over.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::HasSubstr;

std::string with_faults(
    const std::string& faults,
    const std::string& sections = R"([ { "to_m": 6.0, "material": "PVC", "unit_length_m": 3.0 } ])") {
  return R"({
  "kind": "scenario", "edition": 1, "title": "A run",
  "pipe": { "bore_mm": 100, "length_m": 6.0, "gradient_percent": 2,
            "sections": )" +
         sections + R"( },
  "faults": [)" +
         faults + R"(]
})";
}

struct Bad {
  const char* name;
  std::string text;
  const char* says;  ///< in some problem
  int at_least = 1;  ///< problems
};

const std::vector<Bad>& bad_scenarios() {
  static const std::vector<Bad> all = {
      {"broken", R"({ "kind": "scenario", "edition": 1, "title": )", "expected"},
      {"unknown-key",
       with_faults(R"({ "kind": "hole", "at_m": 3, "clock": 12, "length_mm": 50, "widht_mm": 40 })"),
       "widht_mm"},
      {"past-the-end",
       with_faults(R"({ "kind": "hole", "at_m": 9, "clock": 12, "length_mm": 50, "width_mm": 40 })"), "6"},
      {"140-percent",
       with_faults(R"({ "kind": "roots", "at_m": 3, "clock": 12, "form": "mass", "blocks_percent": 140 })"),
       "140"},
      {"ends-before-it-starts",
       with_faults(
           "",
           R"([ { "to_m": 4.0, "material": "PVC" }, { "to_m": 2.0, "material": "clay" }, { "to_m": 6.0, "material": "PVC" } ])"),
       "2"},
      {"three-at-once",
       with_faults(R"({ "kind": "hole", "at_m": 9, "clock": 12, "length_mm": 50, "width_mm": 40 },
                      { "kind": "hole", "at_m": 8, "clock": 12, "length_mm": 50, "width_mm": 40 },
                      { "kind": "hole", "at_m": 7, "clock": 12, "length_mm": 50, "width_mm": 40 })"),
       "7", 3},
      {"material", with_faults("", R"([ { "to_m": 6.0, "material": "cast irn" } ])"), "cast iron"},
  };
  return all;
}

TEST(BadInput, EveryVerbNamesEveryProblemAndWritesNothing) {
  const Program haunch;
  haunch.write("keep.txt", "old");
  haunch.write("attempt.json", R"({"kind": "record", "edition": 1, "observations": []})");
  for (const Bad& bad : bad_scenarios()) {
    const std::string file = std::string(bad.name) + ".json";
    haunch.write(file, bad.text);
    const Ran checked = haunch.run({"check", file});
    EXPECT_EQ(checked.code, 1) << bad.name;
    EXPECT_GE(problem_lines(checked.out, file), bad.at_least) << bad.name;
    EXPECT_THAT(checked.out, HasSubstr(bad.says)) << bad.name;
    for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
             {"truth", file, "-o", "keep.txt"},
             {"mark", file, "attempt.json", "--html", "keep.txt"},
             {"render", file, "--at", "1", "-o", "keep.txt", "--ids", "ids.png"}}) {
      const Ran ran = haunch.run(arguments);
      EXPECT_EQ(ran.code, 1) << bad.name << ' ' << arguments[0];
      problem_lines(ran.err, file);
      EXPECT_EQ(ran.out, "") << arguments[0];
      EXPECT_EQ(haunch.read("keep.txt"), "old") << bad.name << ' ' << arguments[0];
    }
  }
}

TEST(BadInput, ATruncatedExchangeFileIsRefusedWhereItStops) {
  const Program haunch;
  ASSERT_EQ(haunch.run({"truth", shipped("canteen-branch").string(), "--text", "-o", "whole.txt"}).code, 0);
  const std::string whole = haunch.read("whole.txt");
  haunch.write("keep.json", "old");
  // Cut within a row, between the captions and the values of a header, and within the #A lines.
  const std::size_t row = whole.rfind("BC"), header = whole.find('\n', whole.find("#B01")) + 1, first = 7;
  for (const std::size_t cut : {row + 2, header, first}) {
    haunch.write("cut.txt", whole.substr(0, cut));
    const Ran checked = haunch.run({"check", "cut.txt"});
    EXPECT_EQ(checked.code, 1) << whole.substr(0, cut) << "\n=> " << checked.out;
    problem_lines(checked.out, "cut.txt");
    const Ran converted = haunch.run({"convert", "cut.txt", "keep.json", "--force"});
    EXPECT_EQ(converted.code, 1) << cut;
    EXPECT_EQ(haunch.read("keep.json"), "old");
    EXPECT_EQ(haunch.run({"grade", "cut.txt", "--json"}).code, 1);
    EXPECT_EQ(haunch.run({"mark", "whole.txt", "cut.txt", "--json"}).code, 1);
  }
}

TEST(BadInput, ARecordsProblemsHavePlacesToo) {
  const Program haunch;
  haunch.write("record.json", R"({ "kind": "record", "edition": 1,
  "observations": [
    { "distance_m": 1, "code": "BAX" },
    { "distance_m": -2, "code": "BAB", "ch1": "Q", "clock_from": 3 },
    { "distance_m": 3, "code": "BBB", "ch1": "B", "stretch": "A1" }
  ]
})");
  const Ran checked = haunch.run({"check", "record.json"});
  EXPECT_EQ(checked.code, 1);
  EXPECT_GE(problem_lines(checked.out, "record.json"), 4) << checked.out;
  for (const char* part : {"record.json:3:", "record.json:4:", "record.json:5:", "BAX", "Q"})
    EXPECT_THAT(checked.out, HasSubstr(part));
}

TEST(BadInput, EveryFileIsCheckedEvenAfterABadOne) {
  const Program haunch;
  haunch.write("bad.json", "{");
  haunch.write("odd.json", R"({"kind": "senario"})");
  haunch.write("mute.json", "{}");
  haunch.write("clean.json", clean_scenario);
  const Ran checked = haunch.run({"check", "bad.json", "odd.json", "mute.json", "clean.json"});
  EXPECT_EQ(checked.code, 1);
  EXPECT_THAT(checked.out, HasSubstr("bad.json:1:"));
  EXPECT_THAT(checked.out, HasSubstr("did you mean \"scenario\"?"));
  EXPECT_THAT(checked.out, HasSubstr("does not say what it is"));
  EXPECT_THAT(checked.out, HasSubstr("clean.json: scenario, no problems"));
}

TEST(BadInput, BytesThatMeanNothingAreNoCrash) {
  const Program haunch;
  std::string noise;
  for (int i = 0; i < 4096; ++i) noise += static_cast<char>((i * 7919 + i / 3) & 0xFF);
  for (const std::string& text :
       {std::string(), std::string("\0\0\0", 3), noise, std::string(20000, '['), std::string(20000, '{')}) {
    haunch.write("noise", text);
    for (const std::vector<std::string>& arguments :
         std::vector<std::vector<std::string>>{{"check", "noise"},
                                               {"truth", "noise"},
                                               {"mark", "noise", "noise"},
                                               {"grade", "noise"},
                                               {"convert", "noise", "out.csv"}}) {
      const Ran ran = haunch.run(arguments);
      EXPECT_EQ(ran.code, 1) << arguments[0] << " on " << text.substr(0, 20) << ' ' << ran.err;
    }
  }
  EXPECT_FALSE(std::filesystem::exists(haunch.path("out.csv")));
}

TEST(BadInput, ShippedFilesHaveNoProblems) {
  const Program haunch;
  int checked = 0;
  for (const char* folder : {"scenarios", "coding", "grading", "marking", "report"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(HAUNCH_SOURCE_DIR) / "content" / folder)) {
      if (entry.path().extension() != ".json") continue;
      const Ran ran = haunch.run({"check", entry.path().string()});
      EXPECT_EQ(ran.code, 0) << ran.out;
      EXPECT_THAT(ran.out, HasSubstr("no problems"));
      ++checked;
    }
  }
  EXPECT_GE(checked, 7);
}

}  // namespace
}  // namespace haunch::cli_test
