// SPDX-License-Identifier: Apache-2.0
#include "report/runs.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "report/findings_csv.hpp"
#include "report/owner_sample.hpp"

namespace haunch::report {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

RunRow row_of(std::uint32_t file, int inspection, const std::vector<coding::Observation>& found) {
  const coding::Record record = clean_pipe(found);
  return run_row(file, inspection, record, graded(record), advised(record), {1, 2, 3});
}

RunsTable three() {
  RunsTable table;
  table.files = {"jobs/a.txt", "jobs/=b.txt", "jobs/<c>.txt"};
  table.runs = {row_of(0, 1, {}), row_of(1, 1, {noted(3, "BBE", "G", 10)}), row_of(1, 2, {}),
                row_of(0, 2, {noted(3, "BAB", "B", 3)})};
  std::sort(table.runs.begin(), table.runs.end(), worse);
  table.not_graded = {{2, 0, {"jobs/<c>.txt:1:1: broken"}, 4}};
  return table;
}

TEST(Runs, AreWorstFirstWhateverTheOrderTheyCameIn) {
  const RunsTable table = three();
  std::vector<std::pair<std::uint32_t, int>> order;
  for (const RunRow& row : table.runs) order.emplace_back(row.file, row.inspection);
  const std::vector<std::pair<std::uint32_t, int>> wanted{{1, 1}, {0, 2}, {0, 1}, {1, 2}};
  EXPECT_EQ(order, wanted);
  std::vector<RunRow> turned(table.runs.rbegin(), table.runs.rend());
  std::sort(turned.begin(), turned.end(), worse);
  for (std::size_t i = 0; i < turned.size(); ++i) {
    EXPECT_EQ(turned[i].file, table.runs[i].file);
    EXPECT_EQ(turned[i].inspection, table.runs[i].inspection);
  }
}

TEST(Runs, AllFormsTellTheSameTable) {
  const RunsTable table = three();
  const Meanings& meanings = Meanings::shipped();
  const std::string text = runs_text(table, meanings, 60);
  EXPECT_THAT(text,
              AllOf(HasSubstr("Keep away, and call the gas company"), HasSubstr("jobs/a.txt, inspection 2"),
                    HasSubstr("Not graded"), HasSubstr("and 4 more problems"), HasSubstr("provisional")));
  const std::string html = runs_html(table, meanings, 60, 2);
  EXPECT_THAT(html,
              AllOf(HasSubstr("href=\"#p1\""), HasSubstr("href=\"#p2\""), Not(HasSubstr("href=\"#p3\"")),
                    HasSubstr("The 2 worst have a page"), HasSubstr("&lt;c&gt;.txt"), Not(HasSubstr("<c>"))));
  std::ostringstream json, csv;
  write_runs_json(table, meanings, json);
  const auto read = nlohmann::json::parse("{" + json.str() + "}");
  ASSERT_EQ(read.at("runs").size(), 4U);
  EXPECT_EQ(read.at("runs")[0].at("next"), "gas");
  EXPECT_EQ(read.at("runs")[0].at("errors"), 1);
  EXPECT_EQ(read.at("not_graded")[0].at("more_problems"), 4);
  write_runs_csv(table, meanings, csv);
  EXPECT_EQ(csv.str().substr(csv.str().find('\n') + 1, 2), "1,");
  EXPECT_THAT(csv.str(), HasSubstr("jobs/<c>.txt:1:1: broken"));
  // As many cells in each row as in the head.
  std::istringstream lines(csv.str());
  for (std::string line; std::getline(lines, line);)
    EXPECT_EQ(std::count(line.begin(), line.end(), ','), 19) << line;
}

TEST(Runs, AClassThatHangsOnADoubtfulSizeIsMarkedInEveryForm) {
  RunsTable table;
  table.files = {"a.txt"};
  const coding::Record record = clean_pipe({noted(5, "BAF", "C")});
  grading::Grade grade = grading::grade(record, grading::Scheme::shipped(), {});
  grade.doubtful = {"BBC A at 3 m: quantification 1 is 900 %"};
  for (const bool hangs : {false, true}) {
    grade.object_class_doubtful = hangs;
    table.runs.push_back(run_row(0, 1, record, grade, advice_for(record, grade), {}, {}));
  }
  const Meanings& meanings = Meanings::shipped();
  EXPECT_THAT(
      runs_text(table, meanings, 9),
      AllOf(HasSubstr("provisional, doubtful "), HasSubstr("Doubtful: the class of 2 hangs on BBC A at 3 m"),
            Not(HasSubstr("the class of 1 "))));
  const std::string html = runs_html(table, meanings, 9, 9);
  EXPECT_EQ(html.find(", doubtful</td>"), html.rfind(", doubtful</td>"));
  EXPECT_THAT(html, HasSubstr(", doubtful</td>"));
}

TEST(Runs, WhatCouldNotBeClassedIsSaidInEveryForm) {
  const grading::Scheme scheme = grading::Scheme::shipped_named("mean-and-worst").value();
  RunsTable table;
  table.files = {"a.txt"};
  table.overall = scheme.overall_ids();
  const auto add = [&](int inspection, const std::vector<coding::Observation>& found) {
    const coding::Record record = clean_pipe(found);
    const grading::Grade grade = grading::grade(record, scheme, {});
    table.runs.push_back(run_row(0, inspection, record, grade, advice_for(record, grade), {}, table.overall));
  };
  const coding::Observation step = noted(5, "BAJ", "B", 140);  // nobody gave the wall
  add(1, {step});
  add(2, {step, noted(8, "BAF", "C")});
  RunRow slight = table.runs[0], two = table.runs[1];
  slight.worst_class = 1;
  two.next = table.runs[0].next;
  EXPECT_TRUE(worse(table.runs[0], slight) && !worse(slight, table.runs[0]))
      << "it may be worse than class 1";
  EXPECT_TRUE(worse(two, table.runs[0]) && !worse(table.runs[0], two));
  RunRow nothing = slight;
  nothing.worst_class = -1;
  nothing.not_classed = 0;
  EXPECT_TRUE(worse(slight, nothing));
  const Meanings& meanings = Meanings::shipped();
  EXPECT_THAT(runs_text(table, meanings, 60), AllOf(HasSubstr("none"), HasSubstr("at least 2 provisional")));
  EXPECT_THAT(runs_html(table, meanings, 60, 2), HasSubstr("at least 2"));
  std::ostringstream json, csv;
  write_runs_json(table, meanings, json);
  const auto read = nlohmann::json::parse("{" + json.str() + "}").at("runs");
  EXPECT_TRUE(read[0].at("object_class").is_null());
  EXPECT_EQ(read[0].at("not_classed"), 1);
  EXPECT_TRUE(read[0].at("overall").at("structural").at("class").is_null());
  EXPECT_EQ(read[1].at("object_class"), 2);
  EXPECT_EQ(read[1].at("object_class_most"), 4);
  EXPECT_EQ(read[1].at("overall").at("structural").at("number"), 2);
  EXPECT_EQ(read[1].at("overall").at("structural").at("complete"), false);
  table.not_graded = {{0, 3, {"broken"}, 0}};
  write_runs_csv(table, meanings, csv);
  EXPECT_THAT(csv.str(), AllOf(HasSubstr("structural number,structural class,structural complete"),
                               HasSubstr(",2,2,4,1,"), HasSubstr(",2,2,no,yes,")));
  std::istringstream lines(csv.str());
  for (std::string line; std::getline(lines, line);)
    EXPECT_EQ(std::count(line.begin(), line.end(), ','), 19 + 4 * 6) << line;
}

TEST(Runs, TheSamePipeInspectedTwiceIsSaid) {
  const std::string html = runs_html(three(), Meanings::shipped(), 60, 2);
  EXPECT_THAT(html, AllOf(HasSubstr("named the same: "), HasSubstr("Provisional class")));
  RunsTable one;
  one.files = {"a.txt"};
  one.runs = {row_of(0, 1, {})};
  EXPECT_THAT(runs_html(one, Meanings::shipped(), 60, 2), Not(HasSubstr("named the same")));
}

TEST(Runs, WhatWasNotSeenComesBeforeWhatIsSound) {
  coding::Record record = clean_pipe();
  record.observations = {noted(0, "BCD", "A"), noted(9, "BDC", "A")};
  coding::number_observations(record);
  coding::Record noticed = clean_pipe();
  noticed.set_header("ADE", "yellow pipe at the outlet");
  RunsTable table;
  table.files = {"a.txt"};
  table.runs = {row_of(0, 1, {}), row_of(0, 2, {noted(3, "BAB", "A")}),
                run_row(0, 3, record, graded(record), advised(record), {}),
                run_row(0, 4, noticed, graded(noticed), advised(noticed), {}),
                row_of(0, 5, {noted(3, "BAB", "C", 3)})};
  std::sort(table.runs.begin(), table.runs.end(), worse);
  std::ostringstream json, csv;
  write_runs_json(table, Meanings::shipped(), json);
  write_runs_csv(table, Meanings::shipped(), csv);
  const auto runs = nlohmann::json::parse("{" + json.str() + "}").at("runs");
  const std::vector<std::pair<int, std::string>> wanted{{4, "call the gas utility"},
                                                        {5, "have it repaired"},
                                                        {3, "inspect the rest"},
                                                        {2, "carry on"},
                                                        {1, "carry on"}};
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_EQ(runs[i].at("inspection"), wanted[i].first);
    EXPECT_EQ(runs[i].at("action"), wanted[i].second);
    EXPECT_THAT(csv.str(), HasSubstr("," + wanted[i].second + ","));
  }
  EXPECT_EQ(runs[0].at("most_urgent"), "A remark in the record speaks of a yellow pipe or cable");
  EXPECT_THAT(runs_text(table, Meanings::shipped(), 60), HasSubstr("Have the rest of the pipe inspected"));
}

TEST(Runs, MoreThanFitAreCounted) {
  RunsTable table;
  table.files = {"a.txt"};
  for (int i = 1; i <= 70; ++i) table.runs.push_back(row_of(0, i, {}));
  EXPECT_THAT(runs_text(table, Meanings::shipped(), 60), HasSubstr("and 10 more"));
  EXPECT_THAT(runs_html(table, Meanings::shipped(), 60, 5), HasSubstr("And 10 more"));
}

TEST(FindingsCsv, CarriesClassRowAndReasonOfEachGoal) {
  coding::Record record = clean_pipe({noted(3, "BAB", "B", 3), noted(5, "BAC", "B", 30)});
  record.observations[1].remark = "=cmd|' /C calc'!A0";
  record.observations[1].photo = "+1.jpg";
  const grading::Grade grade = graded(record);
  const std::string head = findings_csv_head(grade.goals);
  const std::string rows =
      findings_csv("job.txt", 1, record, grade, advised(record),
                   measure_of(record, {ZeroAt::end}, base::LengthUnit::feet), Meanings::shipped());
  EXPECT_THAT(head,
              AllOf(HasSubstr("tightness class"), HasSubstr("stability row"), HasSubstr("operation reason")));
  EXPECT_THAT(rows,
              AllOf(HasSubstr("BAC/B/stability"), HasSubstr("refer"), HasSubstr("yes"), HasSubstr("55.774")));
  EXPECT_THAT(rows, AllOf(HasSubstr("'=cmd"), HasSubstr("'+1.jpg"), Not(HasSubstr(",=cmd"))));
  EXPECT_LT(rows.find("BAC"), rows.find("BAB")) << "most urgent first";
  EXPECT_THAT(head, HasSubstr(",worst_class,provisional,pipe_class,pipe_class_least,pipe_class_most,"));
  EXPECT_THAT(rows, HasSubstr(",5,yes,5,4,5,"));
  EXPECT_EQ(std::count(rows.begin(), rows.end(), '\n'), 2);
}

TEST(FindingsCsv, SaysThatCleaningWaitsWhereAJetMayDoHarm) {
  const auto rows = [](const std::vector<coding::Observation>& found) {
    const coding::Record record = clean_pipe(found);
    const grading::Grade grade = graded(record);
    return findings_csv("job.txt", 1, record, grade, advised(record),
                        measure_of(record, {}, base::LengthUnit::metres), Meanings::shipped());
  };
  EXPECT_THAT(findings_csv_head({}), HasSubstr(",next,waits,"));
  EXPECT_THAT(rows({noted(3, "BBA", "B", 20)}), HasSubstr(",clean again,no,"));
  EXPECT_THAT(rows({noted(3, "BBA", "B", 20), noted(5, "BAC", "B", 40)}),
              AllOf(HasSubstr(",clean again,yes,"), HasSubstr(",refer,no,")));
}

TEST(CsvCell, NeverRunsAsAFormula) {
  for (const char* text : {"=1+1", "+1", "-1", "@x", "\tx", "'=1"})
    EXPECT_EQ(csv_cell(text).find('\''), 0U) << text;
  EXPECT_EQ(csv_cell("=A1,B1"), "\"'=A1,B1\"");
  EXPECT_EQ(csv_cell("a,\"b\""), "\"a,\"\"b\"\"\"");
  EXPECT_EQ(csv_cell("plain"), "plain");
}

}  // namespace
}  // namespace haunch::report
