// SPDX-License-Identifier: Apache-2.0
// haunch grade over files and folders: what is left out, what the exit code says, and what is written.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

const std::string head = "#A1=UTF-8\n#A2=en\n#A3=,\n#A4=.\n#A5=\"\n#A6=2010\n";

/// An inspection of 20 m in exchange text; `rows` stand between its ends.
std::string run_of(const std::string& name, const std::string& rows) {
  return "#B01=AAA,AAD,AAF,AAB,AAK,ABF,ABQ,ACA,ACB,ACC,ACD\n" + name +
         ",K1,K2,K1,A,2026-03-02,20,A,150,150,AZ\n#C=I,A,B,C,D,G,H,M\n0,BCD,A,,,,,\n" + rows +
         "20,BCE,A,,,,,\n#Z\n";
}

const std::string hole = "5.5,BAC,B,,59,9,3,four.png\n", fine_crack = "3,BAB,A,A,1,12,,\n";
const std::string no_code = "3,QQQ,A,A,1,12,,\n";

/// Text of a page without its style sheet.
std::string body_of(const std::string& html) { return html.substr(html.find("</style>")); }

TEST(Grade, WhateverIsFoundTheExitCodeIsZero) {
  const Program haunch;
  haunch.write("hole.txt", head + run_of("H", hole));
  const Ran ran = haunch.run({"grade", "hole.txt", "--html", "page.html", "--csv", "rows.csv"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_THAT(body_of(haunch.read("page.html")),
              AllOf(HasSubstr("There is a hole in the pipe"), HasSubstr("Stop, and ask a qualified engineer"),
                    HasSubstr("Local codes and licensed practice decide"), HasSubstr("no such file")));
  EXPECT_THAT(haunch.read("rows.csv"), HasSubstr("BAC"));
  haunch.write("four.png", std::string("\x89PNG\r\n\x1A\n", 8) + "and so on");
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--html", "page.html", "--force"}).code, 0);
  EXPECT_THAT(body_of(haunch.read("page.html")),
              AllOf(HasSubstr("<img src=\"data:image/png"), Not(HasSubstr("no such file"))));
}

TEST(Grade, AFolderGivesATableAndABrokenFileStopsNoOther) {
  const Program haunch;
  fs::create_directories(haunch.path("job/deeper"));
  haunch.write("job/a.txt", head + run_of("CRACK", fine_crack));
  haunch.write("job/b.txt", head + "#B01=AAA\n\"never closed");
  haunch.write("job/deeper/c.txt", head + run_of("HOLE", hole));
  haunch.write("job/film.mp4", "no record");
  const Ran ran =
      haunch.run({"grade", "job", "--json", "--html", "all.html", "--csv", "all.csv", "--runs", "runs.csv"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("b.txt:"), Not(HasSubstr("film.mp4"))));
  expect_schema(ran.out, "grade");
  const Json batch = Json::parse(ran.out);
  ASSERT_EQ(batch.at("runs").size(), 2U);
  EXPECT_THAT(batch.at("runs").at(0).at("file").get<std::string>(), HasSubstr("c.txt")) << "worst first";
  ASSERT_EQ(batch.at("not_graded").size(), 1U);
  EXPECT_THAT(batch.at("not_graded").at(0).dump(), HasSubstr("b.txt"));
  const std::string page = body_of(haunch.read("all.html"));
  EXPECT_LT(page.find("Stop, and ask a qualified engineer"), page.find("Watch it"));
  EXPECT_THAT(page, AllOf(HasSubstr("id=\"p1\""), HasSubstr("id=\"p2\""), HasSubstr("b.txt")));
  const std::string runs = haunch.read("runs.csv");
  EXPECT_LT(runs.find("c.txt"), runs.find("a.txt"));
  EXPECT_THAT(runs, HasSubstr("b.txt"));
  const Ran text = haunch.run({"grade", "job"});
  EXPECT_EQ(text.code, 1);
  EXPECT_THAT(text.out, AllOf(HasSubstr("Worst first"), HasSubstr("b.txt")));
}

TEST(Grade, AFileOfAnotherProgramIsNoInspection) {
  const Program haunch;
  fs::create_directories(haunch.path("job"));
  haunch.write("job/a.txt", head + run_of("CRACK", fine_crack));
  haunch.write("job/package.json", R"({"name": "site", "version": "1.0.0"})");
  const Ran ran = haunch.run({"grade", "job"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("  job/package.json\n    job/package.json:1:1: this is some other JSON, not a "
                              "record: it has \"name\", \"version\"; expected a record"),
                    Not(HasSubstr("package.json, inspection"))));
}

/// A step of 140 mm is measured by the wall, which no inspection file tells.
TEST(Grade, WhatCannotBeClassedMakesNoPipeSound) {
  const Program haunch;
  haunch.write("step.txt", head + run_of("S", "5,BAJ,B,,140,12,12,\n"));
  haunch.write("two.txt", head + run_of("T", "5,BAJ,B,,140,12,12,\n9,BAF,C,A,,12,12,\n"));
  const std::vector<std::string> second{"--scheme", "mean-and-worst"};
  const auto with = [&](std::vector<std::string> words) {
    words.insert(words.end(), second.begin(), second.end());
    return haunch.run(words);
  };
  const Ran text = with({"grade", "step.txt", "--html", "step.html"});
  EXPECT_EQ(text.code, 0) << text.err;
  EXPECT_THAT(text.out, AllOf(HasSubstr("object class: not given"), HasSubstr("wall thickness of the pipe"),
                              Not(HasSubstr("counted as 0"))));
  EXPECT_THAT(body_of(haunch.read("step.html")), HasSubstr("The pipe as a whole has no class"));
  const Ran json = with({"grade", "step.txt", "--json"});
  expect_schema(json.out, "grade");
  const Json grade = Json::parse(json.out);
  EXPECT_TRUE(grade.at("object_class").is_null());
  EXPECT_THAT(grade.at("open").at(0).at("what").get<std::string>(), HasSubstr("wall thickness"));
  EXPECT_EQ(grade.at("overall").at(0).at("id"), "structural");
  const Ran both = with({"grade", "step.txt", "two.txt", "--json", "--runs", "runs.csv"});
  expect_schema(both.out, "grade");
  EXPECT_EQ(Json::parse(both.out).at("runs").at(0).at("not_classed"), 1);
  EXPECT_THAT(haunch.read("runs.csv"), HasSubstr("structural_density number"));
  EXPECT_THAT(with({"grade", "step.txt", "two.txt"}).out, HasSubstr("at least 2 provisional"));
  EXPECT_THAT(with({"grade", "step.txt", "--site", "wall-thickness-mm=100"}).out,
              HasSubstr("object class: 3 (provisional)"));
}

TEST(Grade, ASenselessInspectionStopsNoneAfterIt) {
  const Program haunch;
  haunch.write("three.txt", head + run_of("ONE", fine_crack) + run_of("TWO", no_code) + run_of("SIX", hole));
  const Ran ran = haunch.run({"grade", "three.txt", "--json"});
  EXPECT_EQ(ran.code, 1);
  const Json batch = Json::parse(ran.out);
  ASSERT_EQ(batch.at("runs").size(), 2U) << ran.err;
  EXPECT_EQ(batch.at("runs").at(0).at("inspection"), 3);
  EXPECT_EQ(batch.at("runs").at(1).at("inspection"), 1);
  ASSERT_EQ(batch.at("not_graded").size(), 1U);
  EXPECT_EQ(batch.at("not_graded").at(0).at("inspection"), 2);
}

TEST(Grade, ADocumentIsWrittenWhenTheOnlyInspectionCannotBeGraded) {
  const Program haunch;
  haunch.write("bad.txt", head + run_of("TWO", no_code));
  const Ran ran = haunch.run({"grade", "bad.txt", "--json"});
  EXPECT_EQ(ran.code, 1);
  expect_schema(ran.out, "grade");
  const Json batch = Json::parse(ran.out);
  EXPECT_TRUE(batch.at("grades").empty());
  ASSERT_EQ(batch.at("not_graded").size(), 1U);
  EXPECT_THAT(batch.at("not_graded").at(0).dump(), HasSubstr("QQQ"));
}

std::size_t count_of(const std::string& text, const std::string& words) {
  std::size_t count = 0;
  for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++count;
  return count;
}

TEST(Grade, AJsonRecordThatCannotBeReadWholeIsToldOfOnce) {
  const Program haunch;
  haunch.write("bad.json",
               "{\"kind\": \"record\", \"header\": {\"ABQ\": 20}, \"observations\": [\n"
               "{\"code\": \"BCD\", \"ch1\": \"A\", \"distance_m\": 0},\n"
               "{\"code\": \"BAC\", \"ch1\": \"B\", \"q1\": 9, \"distance_m\": 1, \"clock_from\": 13, "
               "\"clock_to\": 12},\n"
               "{\"code\": \"BAB\", \"ch1\": \"B\", \"ch2\": \"A\", \"distance_m\": 2, \"clock_from\": 12},\n"
               "{\"code\": \"BCE\", \"ch1\": \"A\", \"distance_m\": 20}]}\n");
  const Ran ran = haunch.run({"grade", "bad.json"});
  EXPECT_EQ(ran.code, 1);
  EXPECT_EQ(count_of(ran.err, "bad.json:3:"), 1U) << ran.err;
  EXPECT_EQ(count_of(ran.err, "bad.json:4:"), 1U) << ran.err;
  EXPECT_THAT(ran.err, Not(HasSubstr("stands without position 1")));
}

/// With `--csv` and `--runs` the tables come to lie beside the inspections.
TEST(Grade, ItsOwnTablesInAFolderAreNoInspections) {
  const Program haunch;
  fs::create_directories(haunch.path("job"));
  haunch.write("job/a.txt", head + run_of("HOLE", hole));
  ASSERT_EQ(haunch.run({"grade", "job", "--csv", "job/findings.csv", "--runs", "job/runs.csv"}).code, 0);
  std::string again = haunch.read("job/runs.csv");
  std::replace(again.begin(), again.end(), ',', ';');
  haunch.write("job/saved again.csv", "\xEF\xBB\xBF" + again);
  const Ran ran = haunch.run({"grade", "job", "--json"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(Json::parse(ran.out).at("runs").size(), 1U);
  EXPECT_EQ(count_of(ran.err, "a table that haunch grade wrote, no inspection"), 3U) << ran.err;
  for (const char* table : {"job/findings.csv", "job/runs.csv"}) {
    const Ran alone = haunch.run({"grade", table});
    EXPECT_EQ(alone.code, 1);
    EXPECT_EQ(count_of(alone.err, "findings.csv:1:1:") + count_of(alone.err, "runs.csv:1:1:"), 1U)
        << alone.err;
    EXPECT_THAT(alone.err, HasSubstr("this is a table that haunch grade wrote"));
    EXPECT_EQ(haunch.run({"check", table}).code, 0);
  }
}

/// The only data row of a CSV by the names of its head; cells here hold no commas.
std::map<std::string, std::string> only_row(const std::string& csv) {
  const auto cells = [&](std::size_t line) {
    std::istringstream lines(csv);
    std::string text;
    for (std::size_t i = 0; i <= line; ++i) std::getline(lines, text);
    std::vector<std::string> found;
    std::istringstream row(text);
    for (std::string cell; std::getline(row, cell, ',');) found.push_back(cell);
    return found;
  };
  const auto names = cells(0), values = cells(1);
  std::map<std::string, std::string> row;
  for (std::size_t i = 0; i < names.size() && i < values.size(); ++i) row[names[i]] = values[i];
  return row;
}

// Whoever reads the outputs for machines alone must not jet a pipe that may break.
TEST(Grade, NoOutputCleansWhatIsToBeRepaired) {
  const Program haunch;
  int file = 0;
  for (const char* rows : {"3,BAB,C,A,3,12,,\n", "3,BAB,C,A,,12,,\n", "3,BAA,A,,60,,,\n", "3,BAK,J,,,12,,\n",
                           "3,BBG,,,,6,,\n"}) {
    const std::string name = std::to_string(++file) + ".txt";
    haunch.write(name, head + run_of("R", rows));
    const Ran ran = haunch.run({"grade", name, "--json", "--runs", name + ".csv"});
    ASSERT_EQ(ran.code, 0) << rows << ran.err;
    expect_schema(ran.out, "grade");
    const Json next = Json::parse(ran.out).at("next");
    EXPECT_NE(next.at("action"), "clean again") << rows;
    EXPECT_NE(next.at("action"), "carry on") << rows;
    for (const Json& step : next.at("steps")) EXPECT_NE(step.at("action"), "clean again") << rows;
    EXPECT_EQ(only_row(haunch.read(name + ".csv")).at("action"), next.at("action"));
  }
}

TEST(Grade, EveryOutputSaysOfAnAbandonedInspectionWhatThePageSays) {
  const Program haunch;
  std::string abandoned = run_of("GIVEN-UP", "9,BDC,A,,,,,\n");
  abandoned.erase(abandoned.find("20,BCE"), std::string("20,BCE,A,,,,,\n").size());
  haunch.write("job.txt", head + run_of("SOUND", "") + abandoned + run_of("CRACK", fine_crack));
  const Ran ran = haunch.run({"grade", "job.txt", "--json", "--runs", "runs.csv", "--html", "page.html"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  expect_schema(ran.out, "grade");
  const Json runs = Json::parse(ran.out).at("runs");
  EXPECT_EQ(runs.at(0).at("inspection"), 2) << "what nobody saw may be worse than a hairline";
  EXPECT_EQ(runs.at(0).at("next"), "inspect the rest");
  EXPECT_EQ(runs.at(0).at("action"), "inspect the rest");
  EXPECT_EQ(Json::parse(ran.out).at("grades").at(1).at("next").at("action"), "inspect the rest");
  EXPECT_EQ(only_row(haunch.read("runs.csv")).at("action"), "inspect the rest");
  EXPECT_THAT(body_of(haunch.read("page.html")), HasSubstr("Have the rest of the pipe inspected"));
}

TEST(Grade, GasInARemarkIsNeverNothing) {
  const Program haunch;
  std::string text = head + run_of("R", "");
  const std::string columns = "#C=I,A,B,C,D,G,H,M";
  text.replace(text.find(columns), columns.size(), "#C=I,A,B,C,D,G,H,F");
  haunch.write("plain.txt", text);
  text.insert(text.find("20,BCE"), "7,BDB,,,,,,yellow pipe through the drain\n");
  haunch.write("gas.txt", text);
  EXPECT_EQ(haunch.json({"grade", "plain.txt", "--json"}).at("next").at("action"), "carry on");
  const Ran ran = haunch.run({"grade", "gas.txt", "--json", "--html", "page.html", "--runs", "runs.csv"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  expect_schema(ran.out, "grade");
  const Json next = Json::parse(ran.out).at("next");
  EXPECT_EQ(next.at("action"), "call the gas utility");
  ASSERT_EQ(next.at("remarks").size(), 1U);
  EXPECT_EQ(next.at("remarks").at(0).at("words"), "yellow pipe through the drain");
  EXPECT_EQ(next.at("remarks").at(0).at("at_m"), 7);
  EXPECT_THAT(only_row(haunch.read("runs.csv")).at("most_urgent"), HasSubstr("yellow pipe"));
  EXPECT_THAT(haunch.run({"grade", "gas.txt"}).out,
              HasSubstr("what comes next: Keep away, and call the gas company or the emergency number."));
  EXPECT_THAT(haunch.run({"grade", "plain.txt"}).out, HasSubstr("what comes next: Nothing needs doing."));
  EXPECT_THAT(
      body_of(haunch.read("page.html")),
      AllOf(HasSubstr("Keep away, and call the gas company or the emergency number"),
            HasSubstr("Nobody cuts, rods or jets this drain"), Not(HasSubstr("Nothing needs doing"))));
}

// Many open joints that are none of them grave: the second scheme has the pipe in its worst class.
TEST(Grade, WhatComesNextIsNoMilderThanTheClassOfTheScheme) {
  const Program haunch;
  std::string rows;
  for (int i = 0; i < 8; ++i) rows += "5." + std::to_string(10 + i * 10) + ",BAJ,A,,12,,,\n";
  haunch.write("many.txt", head + run_of("MANY", rows));
  const Ran ran =
      haunch.run({"grade", "many.txt", "--scheme", "mean-and-worst", "--json", "--html", "page.html"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  const Json grade = Json::parse(ran.out);
  ASSERT_EQ(grade.at("object_class"), 4) << "the worst there is";
  EXPECT_EQ(grade.at("next").at("id"), "ask within days");
  const std::string page = body_of(haunch.read("page.html"));
  EXPECT_THAT(page, AllOf(HasSubstr("Show it to a qualified person within days"),
                          HasSubstr("The pipe as a whole is in class 4, the worst that there is"),
                          Not(HasSubstr("No work now"))));
}

TEST(Grade, ManyRemarksAreCountedByKind) {
  const Program haunch;
  std::string rows;
  for (int i = 1; i < 200; ++i) rows += "1." + std::to_string(100 + i) + ",BAB,B,A,,12,,\n";
  haunch.write("many.txt", head + run_of("M", rows));
  const Ran ran = haunch.run({"grade", "many.txt"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("199 x BAB: a size is missing"), HasSubstr("[size-missing]"),
                             HasSubstr("`haunch check --every many.txt` lists each with its line")));
  EXPECT_LT(std::count(ran.err.begin(), ran.err.end(), '\n'), 20);
}

/// A size that can hardly be decides a class, and every output says so.
TEST(Grade, AClassFromADoubtfulSizeIsMarked) {
  const Program haunch;
  haunch.write("mud.txt", head + run_of("M", "3,BBC,A,,900,6,,\n"));
  haunch.write("fine.txt", head + run_of("F", "3,BBC,A,,60,6,,\n"));
  const std::string size = "BBC A at 3 m: quantification 1 is 900 %";
  const Ran text = haunch.run({"grade", "mud.txt"});
  EXPECT_THAT(text.out, AllOf(HasSubstr("DOUBTFUL: " + size), HasSubstr("class 5 (provisional, doubtful)"),
                              HasSubstr("doubtful: quantification 1 is 900 %")));
  const Json grade = haunch.json({"grade", "mud.txt", "--json"});
  expect_schema(grade.dump(), "grade");
  EXPECT_EQ(grade.at("doubtful"), Json({size}));
  EXPECT_EQ(grade.at("object_class_doubtful"), true);
  EXPECT_EQ(grade.at("overall").at(0).at("doubtful"), true);
  EXPECT_EQ(grade.at("object_class_least"), Json()) << "without the size there is no class, so no bound";
  EXPECT_THAT(text.out, HasSubstr(", doubtful\n"));
  EXPECT_EQ(text.out.find("object class: "), text.out.rfind("object class: ")) << "it is said once";
  EXPECT_THAT(grade.at("object_reason").get<std::string>(),
              AllOf(HasSubstr("; doubtful: it would be "), HasSubstr(" without " + size)));
  EXPECT_EQ(grade.at("observations")[0].at("classes").at("operation").at("doubtful"), true);
  EXPECT_EQ(grade.at("observations")[0].at("classes").at("tightness").at("doubtful"), false);
  const Ran both = haunch.run({"grade", "mud.txt", "fine.txt", "--runs", "runs.csv", "--csv", "rows.csv"});
  EXPECT_THAT(both.out, AllOf(HasSubstr("5 provisional, doubtful"), HasSubstr("hangs on " + size)));
  const std::string runs = haunch.read("runs.csv");
  EXPECT_THAT(runs, AllOf(HasSubstr(",doubtful,not_graded_because\r\n"), HasSubstr("," + size + ",\r\n")));
  EXPECT_THAT(haunch.read("rows.csv"), HasSubstr("; doubtful: quantification 1 is 900 %"));
  const Json runs_json = haunch.json({"grade", "mud.txt", "fine.txt", "--json"});
  expect_schema(runs_json.dump(), "grade");
  int doubted = 0;
  for (const Json& run : runs_json.at("runs")) doubted += run.at("doubtful").is_null() ? 0 : 1;
  EXPECT_EQ(doubted, 1);
}

TEST(Grade, TheZeroAndTheUnitsAreAsked) {
  const Program haunch;
  haunch.write("hole.txt", head + run_of("H", hole));
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--html", "end.html", "--zero", "end"}).code, 0);
  EXPECT_THAT(body_of(haunch.read("end.html")), HasSubstr("14.50"));
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--html", "feet.html", "--units", "ft"}).code, 0);
  EXPECT_THAT(body_of(haunch.read("feet.html")), HasSubstr("18.0"));
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--zero", "somewhere"}).code, 2);
  for (const char* outside : {"999", "20.5", "-1"}) {
    const Ran ran =
        haunch.run({"grade", "hole.txt", "--html", "far.html", "--csv", "far.csv", "--zero", outside});
    EXPECT_EQ(ran.code, 2) << outside;
    EXPECT_THAT(ran.err, HasSubstr("haunch: --zero " + std::string(outside) +
                                   " lies outside the pipe: distances are "
                                   "recorded from 0.00 m to 20.00 m"));
    EXPECT_EQ(ran.out, "");
    EXPECT_FALSE(fs::exists(haunch.path("far.html")) || fs::exists(haunch.path("far.csv")));
  }
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--html", "far.html", "--zero", "20"}).code, 0);
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--html", "end.html"}).code, 1) << "nothing is written over";
  EXPECT_EQ(haunch.run({"grade", "hole.txt", "--csv", "hole.txt", "--force"}).code, 2);
  EXPECT_THAT(haunch.read("hole.txt"), HasSubstr("#B01"));
}

}  // namespace
}  // namespace haunch::cli_test
