// SPDX-License-Identifier: Apache-2.0
#include "progress/overview.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <stdexcept>

#include "progress/sample.hpp"

namespace haunch::progress {
namespace {

using test::driven;
using test::named;
using ::testing::HasSubstr;

Overview of(const Rows& rows, const std::string& now = "2026-03-20T09:00:00Z",
            const std::vector<courses::Exam>& exams = {}) {
  return overview_of("coder-07", rows, exams, learning::shipped_model(), coding::CodeList::shipped(),
                     *learning::days_of(now));
}
const CodeLine& line(const Overview& overview, const std::string& code) {
  for (const CodeLine& one : overview.codes)
    if (one.code == code) return one;
  throw std::runtime_error("no line for " + code);
}

TEST(Overview, OfNobodyYet) {
  const Overview overview = of({});
  EXPECT_EQ(overview.last_date, "");
  EXPECT_TRUE(overview.codes.empty());
  EXPECT_EQ(overview.never, static_cast<int>(learning::shipped_model().codes.size()));
  EXPECT_TRUE(overview.practise.empty());
}

TEST(Overview, CountsByCodeWithIntervals) {
  Rows rows;
  for (int i = 0; i < 10; ++i) rows.answers.push_back(named(2, i, "BAB", i < 8 ? "BAB" : "BAC"));
  const Overview overview = of(rows);
  const CodeLine& bab = line(overview, "BAB");
  EXPECT_EQ(bab.named.right, 8);
  EXPECT_EQ(bab.named.of, 10);
  // Wilson's 95 % interval of 8 of 10 is 0.490 to 0.943 (statsmodels 0.14, proportion_confint, from memory).
  EXPECT_NEAR(bab.named.interval.low, 0.490, 0.001);
  EXPECT_NEAR(bab.named.interval.high, 0.943, 0.001);
  EXPECT_EQ(bab.taken_for, (std::vector<std::pair<std::string, int>>{{"BAC", 2}}));
  EXPECT_EQ(bab.seconds, 4);
  EXPECT_EQ(bab.mastery.standing, learning::Standing::not_yet);
  EXPECT_EQ(bab.name, "Fissure");
  EXPECT_EQ(overview.answers, 10);
}

TEST(Overview, MasteredOverDaysAndNoLongerToPractise) {
  Rows rows;
  for (int day = 2; day <= 7; ++day)
    for (int i = 0; i < 4; ++i) rows.answers.push_back(named(day, i, "BAB", "BAB"));
  for (int i = 0; i < 4; ++i) rows.answers.push_back(named(7, 30 + i, "BBA", "BBB"));
  const Overview overview = of(rows, "2026-03-08T09:00:00Z");
  EXPECT_EQ(line(overview, "BAB").mastery.standing, learning::Standing::mastered);
  EXPECT_EQ(overview.mastered, 1);
  ASSERT_EQ(overview.practise.size(), 1U);
  EXPECT_EQ(overview.practise[0].code, "BBA");
  EXPECT_THAT(overview.practise[0].sentence, HasSubstr("more right"));
  // A month later it is due to be asked again.
  const Overview later = of(rows, "2026-04-15T09:00:00Z");
  EXPECT_EQ(later.practise.size(), 2U);
  EXPECT_GT(line(later, "BAB").now.success.high - line(later, "BAB").now.success.low,
            line(overview, "BAB").now.success.high - line(overview, "BAB").now.success.low)
      << "what was not asked becomes uncertain";
}

TEST(Overview, TheTrendIsByTheDayAndByTheWeekWhereThereAreMany) {
  Rows rows;
  for (int day = 1; day <= 21; ++day) rows.answers.push_back(named(day, 0, "BAB", day % 2 ? "BAB" : "BAC"));
  EXPECT_EQ(of(rows).trend.size(), 21U);
  EXPECT_EQ(of(rows).trend[0].date, "2026-03-01");
  for (int day = 22; day <= 31; ++day) rows.answers.push_back(named(day, 0, "BAB", "BAB"));
  const auto weeks = of(rows).trend;
  EXPECT_LE(weeks.size(), 6U);
  int all = 0;
  for (const Period& one : weeks) all += one.found_and_named.of;
  EXPECT_EQ(all, 31) << "nothing is left out";
}

TEST(Overview, RunsCountMissesOnce) {
  Rows rows;
  rows.attempts = {driven("2026-03-02T09:00:00Z")};
  const Overview overview = of(rows);
  ASSERT_EQ(overview.trend.size(), 1U);
  EXPECT_EQ(overview.trend[0].found_and_named.of, 3) << "two found, one missed";
  EXPECT_EQ(overview.trend[0].found_and_named.right, 1);
  ASSERT_EQ(overview.run_lines.size(), 1U);
  EXPECT_EQ(overview.run_lines[0].invented, 2);
  EXPECT_EQ(line(overview, "BBA").found.of, 1);
  EXPECT_EQ(line(overview, "BBA").found.right, 0);
}

TEST(Overview, SaysWhatCameOfExams) {
  const auto exam = courses::exam_from_text(
      R"({"kind": "exam", "edition": 1, "id": "e", "title": "E", "seed": "1",
          "questions": [{"kind": "name it", "count": 2}], "pass": {"questions": 0.3, "source": "ours"}})",
      "e.json");
  ASSERT_TRUE(exam);
  Rows rows;
  rows.answers = {named(2, 1, "BAB", "BAB"), named(2, 2, "BAB", "BAB")};
  for (auto& one : rows.answers) one.sitting = "s";
  rows.sittings = {{"s", "coder-07", "2026-03-02T09:00:00Z", "E", exam.value().hash, "1"},
                   {"t", "coder-07", "2026-03-03T09:00:00Z", "E", "another edition", "1"}};
  const Overview overview = of(rows, "2026-03-20T09:00:00Z", {exam.value()});
  ASSERT_EQ(overview.exams.size(), 2U);
  ASSERT_TRUE(overview.exams[0].result);
  EXPECT_TRUE(overview.exams[0].result->passed);
  EXPECT_FALSE(overview.exams[1].result) << "judged by no other edition than it was sat by";
}

}  // namespace
}  // namespace haunch::progress
