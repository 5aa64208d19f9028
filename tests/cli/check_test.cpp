// SPDX-License-Identifier: Apache-2.0
// haunch check as a person and as a script use it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::AllOf;
using testing::EndsWith;
using testing::HasSubstr;
using testing::Not;

std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

/// Inspections of one lateral each; `slips` adds rows with a code that nobody knows.
std::string exchange_file(int inspections, int laterals, int slips = 0) {
  std::string text = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
  for (int i = 1; i <= inspections; ++i) {
    text += "#B01=AAA;ABQ;ACB;ACD\nP" + std::to_string(i) + ";50;300;AE\n#C=I;A;B;C;D;G\n0;BCD;A;;;\n";
    for (int k = 1; k <= laterals; ++k) text += std::to_string(k) + ";BCA;A;A;;3\n";  // no height
    for (int k = 0; k < slips; ++k) text += std::to_string(40 + k) + ";BNA;;;;3\n";
    text += "50;BCE;A;;;\n#Z\n";
  }
  return text;
}

TEST(Check, FewProblemsAreALineEach) {
  const Program haunch;
  haunch.write("few.txt", exchange_file(2, 10));
  const Ran ran = haunch.run({"check", "few.txt"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(lines_of(ran.out), 21U) << "and the verdict";
  EXPECT_THAT(ran.out,
              HasSubstr("few.txt:11:1: warning: BCA A A at 1 m: quantification 1 is missing; expected "
                        "height of the connection in mm\n"));
  EXPECT_THAT(ran.out,
              EndsWith("few.txt: exchange text with 2 inspections, no problems beyond these remarks\n"));
}

TEST(Check, ManyAreSummedUpByKindErrorsFirst) {
  const Program haunch;
  haunch.write("many.txt", exchange_file(3, 10, 4));
  const Ran ran = haunch.run({"check", "many.txt"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_LT(lines_of(ran.out), 15U) << ran.out;
  EXPECT_THAT(ran.out,
              HasSubstr("many.txt: exchange text with 3 inspections and 48 observations: 12 errors, 30 "
                        "warnings\n"));
  const auto error = ran.out.find("12 x BNA: a main code that is not known"),
             warning = ran.out.find("30 x BCA: a size is missing; expected height of the connection in mm");
  ASSERT_NE(error, std::string::npos) << ran.out;
  ASSERT_NE(warning, std::string::npos) << ran.out;
  EXPECT_LT(error, warning);
  EXPECT_THAT(ran.out, HasSubstr("lines 21, 22, 23, 24, 41, 42, 43, 44 and 4 more, in 3 of 3 inspections"));
}

/// What a reader says has no rule; it is counted without what differs from place to place.
TEST(Check, WhatAReaderSaysIsSummedUpToo) {
  const Program haunch;
  std::string text = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A6=2010\n#B01=AAA\nP\n#C=I;A;K\n0;BCD;\n";
  for (int i = 0; i < 60; ++i)
    text += std::to_string(i) + ";BAN;m" + std::string(1, static_cast<char>('a' + i % 26)) + "\n";
  haunch.write("it's here.txt", text + "#Z\n");
  const Ran ran = haunch.run({"check", "it's here.txt"});
  EXPECT_THAT(ran.out, AllOf(HasSubstr("60 x the joint mark (K) is \"...\" and was left out"),
                             HasSubstr("`haunch check --every 'it'\\''s here.txt'` lists each")));
  EXPECT_LT(lines_of(ran.out), 30U) << ran.out;
  // However many kinds there are, a page it is.
  text = text.substr(0, text.find("0;BCD"));
  for (int i = 0; i < 200; ++i)
    text += "1;Q" + std::string(1, static_cast<char>('A' + i % 20)) + static_cast<char>('A' + i / 20) + ";\n";
  haunch.write("codes.txt", text + "#Z\n");
  const Ran many = haunch.run({"check", "codes.txt"});
  EXPECT_LT(lines_of(many.out), 60U);
  EXPECT_THAT(many.out, HasSubstr("of 1"));
  EXPECT_THAT(many.out, HasSubstr("other kinds\n"));
}

TEST(Check, EveryListsEachAsALine) {
  const Program haunch;
  haunch.write("many.txt", exchange_file(3, 10, 4));
  const Ran every = haunch.run({"check", "--every", "many.txt"});
  EXPECT_EQ(every.code, 1);
  EXPECT_EQ(problem_lines(every.out, "many.txt"), 42);
  EXPECT_EQ(lines_of(every.out), 42U);
  EXPECT_THAT(every.out, HasSubstr("did you mean \"BAN\"?"));
}

TEST(Check, JsonAddsUp) {
  const Program haunch;
  haunch.write("many.txt", exchange_file(3, 10, 4));
  haunch.write("clean.json", clean_scenario);
  for (const bool every : {false, true}) {
    std::vector<std::string> call{"check", "many.txt", "clean.json", "--json"};
    if (every) call.emplace_back("--every");
    const Ran ran = haunch.run(call);
    EXPECT_EQ(ran.code, 1);
    expect_schema(ran.out, "check");
    const Json told = Json::parse(ran.out);
    ASSERT_EQ(told.at("files").size(), 2U);
    const Json& file = told["files"][0];
    EXPECT_EQ(file["errors"], 12);
    EXPECT_EQ(file["warnings"], 30);
    EXPECT_EQ(file["inspections"], 3);
    ASSERT_EQ(file["kinds"].size(), 2U);
    EXPECT_EQ(file["kinds"][0]["rule"], "code-unknown");
    EXPECT_EQ(file["kinds"][1]["rule"], "size-missing");
    EXPECT_EQ(file["kinds"][1]["count"], 30);
    EXPECT_EQ(file["kinds"][1]["inspections"], 3);
    EXPECT_EQ(file["kinds"][1]["problems"].size(), every ? 30U : 20U);
    EXPECT_EQ(file["kinds"][0]["problems"][0]["inspection"], 1);
    EXPECT_TRUE(told["files"][1]["kinds"].empty());
  }
}

TEST(Check, RulesAreLeftOutByName) {
  const Program haunch;
  haunch.write("few.txt", exchange_file(1, 2, 1));
  EXPECT_EQ(problem_lines(haunch.run({"check", "few.txt"}).out, "few.txt"), 3);
  for (const char* name : {"memory", "size-missing", "list", "runs,memory"}) {
    const Ran ran = haunch.run({"check", "few.txt", "--without", name});
    EXPECT_EQ(problem_lines(ran.out, "few.txt"), 1) << name;
    EXPECT_THAT(ran.out, HasSubstr("BNA"));
    EXPECT_EQ(ran.code, 1) << "a switch never makes an error pass";
  }
  const Ran wrong = haunch.run({"check", "few.txt", "--without", "size-mising"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, HasSubstr("did you mean \"size-missing\"?"));
  EXPECT_EQ(haunch.run({"check", "few.txt", "--without", "code-unknown"}).code, 2);
  const Ran rules = haunch.run({"check", "--rules"});
  EXPECT_EQ(rules.code, 0);
  EXPECT_THAT(rules.out,
              AllOf(HasSubstr("memory"), HasSubstr("size-missing"), HasSubstr("warning"), HasSubstr("runs")));
}

TEST(Check, AFolderIsAllItsFiles) {
  const Program haunch;
  std::filesystem::create_directories(haunch.path("job/day2"));
  haunch.write("job/a.txt", exchange_file(1, 0));
  haunch.write("job/b.json", clean_scenario);
  haunch.write("job/day2/c.txt", exchange_file(1, 1, 1));
  haunch.write("job/notes.pdf", "not ours");
  haunch.write("job/.hidden.txt", "not ours");
  haunch.write("job/words.schema.json", "{\"not ours\": 1}");
  const Ran ran = haunch.run({"check", "job"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("job/a.txt: exchange text with 1 inspection, no problems"),
                    HasSubstr("job/b.json: scenario, no problems"), HasSubstr("job/day2/c.txt:"),
                    HasSubstr("3 files, 1 with errors"), Not(HasSubstr("not ours")), Not(HasSubstr("pdf"))));
}

TEST(Check, AnUnreadableRowHidesNothingElse) {
  const Program haunch;
  haunch.write("mixed.txt",
               exchange_file(1, 1, 1) + "#B01=AAA;ABQ\nP;x\n#C=I;A;G\n0;BCD;\n1;BAX;3\n2;BBF;noon\n");
  const Ran ran = haunch.run({"check", "mixed.txt"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.out, AllOf(HasSubstr("\"BNA\" is not known"), HasSubstr("\"BAX\" is not known"),
                             HasSubstr("noon"), HasSubstr("header ABQ")));
}

TEST(Check, AManyTimesLargerFileIsToldInTheSamePage) {
  const Program haunch;
  haunch.write("small.txt", exchange_file(5, 10));
  haunch.write("large.txt", exchange_file(1000, 10));
  const Ran small = haunch.run({"check", "small.txt"}), large = haunch.run({"check", "large.txt"});
  EXPECT_EQ(large.code, 0);
  EXPECT_EQ(lines_of(small.out), lines_of(large.out));
  EXPECT_THAT(large.out, HasSubstr("10000 x BCA: a size is missing"));
  EXPECT_THAT(large.out, HasSubstr("in 1000 of 1000 inspections"));
}

/// What a careful inspector would write has nothing to be said of, not even a note.
TEST(Check, TruthsOfShippedScenariosAreClean) {
  const Program haunch;
  for (const auto& scenario : shipped_scenarios()) {
    for (const char* form : {"--text", "--json"}) {
      ASSERT_EQ(haunch.run({"truth", scenario.string(), form, "-o", "truth", "--force"}).code, 0);
      const Ran ran = haunch.run({"check", "truth"});
      EXPECT_THAT(ran.out, EndsWith(", no problems\n")) << scenario;
      EXPECT_EQ(lines_of(ran.out), 1U) << scenario;
    }
  }
}

/// A real file by other people, read in place. Its habits are listed beside it: heights of connections are
/// missing, displaced joints carry clocks and runs, angles of joints are not credible.
TEST(Check, TheThirdPartyFileIsAPageThatAPersonCanAgreeWith) {
  const std::filesystem::path file = HAUNCH_SOURCE_DIR "/../shared/reference/example_13508_2.txt";
  if (!std::filesystem::exists(file)) GTEST_SKIP() << "the third-party file example_13508_2.txt is not here";
  const Program haunch;
  const Ran ran = haunch.run({"check", file.string()});
  EXPECT_EQ(ran.code, 0) << "nothing in it cannot be";
  EXPECT_LT(lines_of(ran.out), 50U) << "a page";
  EXPECT_THAT(
      ran.out,
      AllOf(HasSubstr("19 inspections and 335 observations: no errors"), HasSubstr("BCA: a size is missing"),
            HasSubstr("BAJ A: a clock all the way round is given"),
            HasSubstr("BDD: a clock position is given"), HasSubstr("BDD: it is marked as being at a joint"),
            HasSubstr("BAJ C: an angle that no joint holds"), HasSubstr("it is part of a run"),
            HasSubstr("XP (P is a mark of translated codings)")));
  const Json told = haunch.json({"check", file.string(), "--json", "--every"});
  std::size_t problems = 0;
  for (const Json& kind : told["files"][0]["kinds"]) problems += kind["problems"].size();
  EXPECT_EQ(problems, lines_of(haunch.run({"check", file.string(), "--every"}).out) - 1);
}

}  // namespace
}  // namespace haunch::cli_test
