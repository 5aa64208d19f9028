// SPDX-License-Identifier: Apache-2.0
#include "progress/page.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "progress/charts.hpp"
#include "progress/sample.hpp"

namespace haunch::progress {
namespace {

using test::driven;
using test::named;
using ::testing::HasSubstr;
using ::testing::Not;

Overview person(const std::string& name) {
  Rows rows;
  for (int i = 0; i < 6; ++i) rows.answers.push_back(named(2 + i / 2, i, "BAB", i < 4 ? "BAB" : "BAC"));
  rows.answers.push_back(named(2, 30, "BBA", "BBA"));
  rows.attempts = {driven("2026-03-02T09:00:00Z"), driven("2026-03-04T09:00:00Z")};
  return overview_of(name, rows, {}, learning::shipped_model(), coding::CodeList::shipped(),
                     *learning::days_of("2026-03-09T09:00:00Z"));
}
int count_of(const std::string& text, const std::string& what) {
  int count = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
  return count;
}

TEST(Page, ShowsAPersonAndIsWhole) {
  const std::string page = html({person("coder-07")}, "2026-03-09");
  EXPECT_THAT(page, HasSubstr("Scores of coder-07"));
  EXPECT_THAT(page, HasSubstr("What to practise next"));
  EXPECT_THAT(page, HasSubstr("Fissure"));
  EXPECT_THAT(page, Not(HasSubstr("Who stands where"))) << "there is no team";
  EXPECT_THAT(page, Not(HasSubstr("{{")));
  EXPECT_THAT(page, Not(HasSubstr("http"))) << "it needs nothing beside it";
  EXPECT_EQ(count_of(page, "<svg"), count_of(page, "</svg>"));
}

TEST(Page, ShowsATeamAndEscapesNames) {
  const std::string page = html({person("coder-07"), person("<b>&\"x")}, "2026-03-09");
  EXPECT_THAT(page, HasSubstr("Who stands where"));
  EXPECT_THAT(page, HasSubstr("Code by code, all together"));
  EXPECT_THAT(page, Not(HasSubstr("<b>&")));
  EXPECT_THAT(page, HasSubstr("&lt;b&gt;&amp;"));
  EXPECT_THAT(html({}, "2026-03-09"), HasSubstr("Nothing has been kept yet"));
}

TEST(Page, ChartsStandWhereTheNumbersAre) {
  EXPECT_EQ(trend_svg({}), "");
  EXPECT_EQ(calls_svg({}), "");
  EXPECT_EQ(interval_svg({}), "");
  // 100 % lies at the top line of the grid, 0 % at the bottom one.
  const std::string one = trend_svg({{1, "2026-03-01", counted(5, 5)}, {2, "2026-03-02", counted(0, 5)}});
  EXPECT_THAT(one, HasSubstr(R"(cy="14" r="4")"));
  EXPECT_THAT(one, HasSubstr(R"(cy="190" r="4")"));
  const std::string calls = calls_svg({{"d", "s", "", 0, 3, 2, 0}, {"d", "s", "", 0, 3, 0, 4}});
  EXPECT_EQ(count_of(calls, "class=\"missed\""), 1);
  EXPECT_EQ(count_of(calls, "class=\"invented\""), 1);
}

TEST(Tables, JsonKeepsItsSchema) {
  const std::string text = json({person("coder-07"), person("coder-08")});
  const auto document = base::JsonDocument::read_text(text, "progress.json", "progress");
  ASSERT_TRUE(document) << base::to_line(document.problems().front());
  const auto& first = document.value().root().at("people").at(0);
  EXPECT_EQ(first.at("codes").at(0).at("code"), "BAB");
  EXPECT_EQ(first.at("codes").at(0).at("named").at("of"), 8) << "six answers and two runs";
}

TEST(Tables, CsvHasALineForEachPersonAndCodeAndNoFormula) {
  const std::string text = csv({person("=1+1"), person("a,\"b\"")});
  const auto lines = base::split(text, '\n');
  ASSERT_EQ(lines.size(), 1U + 2 * person("x").codes.size() + 1);
  const auto commas = std::count(lines[0].begin(), lines[0].end(), ',');
  EXPECT_EQ(std::count(lines[1].begin(), lines[1].end(), ','), commas);
  EXPECT_THAT(lines[1], testing::StartsWith("'=1+1,BAB,"));
  EXPECT_THAT(text, HasSubstr("\"a,\"\"b\"\"\",BAB"));
}

TEST(Tables, TextSaysWhatToPractise) {
  const std::string words = text({person("coder-07")});
  EXPECT_THAT(words, HasSubstr("coder-07: 7 answers, 2 runs"));
  EXPECT_THAT(words, HasSubstr("To practise: "));
}

}  // namespace
}  // namespace haunch::progress
