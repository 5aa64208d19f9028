// SPDX-License-Identifier: Apache-2.0
#include "report/owner_page.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "base/files.hpp"
#include "coding/doubtful.hpp"
#include "grading/doubt.hpp"
#include "report/owner_sample.hpp"
#include "report/owner_section.hpp"

namespace haunch::report {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

const std::vector<coding::Observation> some_findings{
    noted(2, "BAB", "B", 2),   noted(4, "BAC", "B", 30),       noted(6, "BBA", "B", 20),
    noted(8, "BCA", "A", 100), noted(9, "BDD", "A", 40, "A1"), noted(11, "BDD", "A", 40, "B1")};

std::size_t count(const std::string& text, const std::string& word) {
  std::size_t times = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++times;
  return times;
}

/// Tags in step, so that a browser need not guess: void elements aside, each is closed in its turn.
void expect_nested(const std::string& html) {
  static const std::regex tag(R"(<(/?)([a-zA-Z0-9]+)((?:[^<>"]|"[^"]*")*?)(/?)>)");
  std::vector<std::string> open;
  for (std::sregex_iterator at(html.begin(), html.end(), tag), end; at != end; ++at) {
    const std::string name = (*at)[2];
    if (name == "img" || name == "br" || name == "meta" || (*at)[4] == "/") continue;
    if ((*at)[1].length() == 0) {
      open.push_back(name);
      continue;
    }
    ASSERT_FALSE(open.empty()) << name;
    ASSERT_EQ(open.back(), name) << html.substr(static_cast<std::size_t>(at->position()), 200);
    open.pop_back();
  }
  EXPECT_TRUE(open.empty());
}

TEST(OwnerPage, SaysFirstWhatToDoThenWhatWasFoundAndHowSure) {
  const std::string page = article_of(clean_pipe(some_findings));
  const std::vector<std::string> order{"Pipe from K1 to K2",
                                       "What to do next",
                                       "Stop, and ask a qualified engineer",
                                       "What we found",
                                       "How sure is this?",
                                       "The pipe from the side",
                                       "most urgent first",
                                       "There is a hole in the pipe",
                                       "What else was recorded",
                                       "Signs of danger",
                                       "For whoever works on this drain",
                                       "Local codes and licensed practice decide"};
  std::size_t before = 0;
  for (const std::string& words : order) {
    const std::size_t at = page.find(words, before);
    ASSERT_NE(at, std::string::npos) << words;
    before = at;
  }
  EXPECT_THAT(page, AllOf(HasSubstr("provisional"), HasSubstr("are no official grade")));
  expect_nested(owner_head("x") + page + owner_foot());
}

TEST(OwnerPage, SaysThatASizeCanHardlyBeWhereAClassHangsOnIt) {
  const coding::Record record = clean_pipe({noted(4, "BBC", "B", 900), noted(6, "BBA", "B", 3)});
  grading::Grade grade = graded(record);
  OwnerPage page;
  page.record = &record;
  page.grade = &grade;
  EXPECT_THAT(owner_article(page), Not(HasSubstr("can hardly be right")));
  grading::mark_doubtful(grade, record, grading::Scheme::shipped(), {},
                         coding::doubtful_sizes(record, coding::CodeList::shipped()));
  EXPECT_THAT(owner_article(page),
              AllOf(HasSubstr("A size in the record can hardly be right"), HasSubstr("900"),
                    HasSubstr("the class of the whole pipe would be another")));
}

TEST(OwnerPage, IsSaneForScreenReaders) {
  const std::string page = article_of(clean_pipe(some_findings));
  EXPECT_EQ(count(page, "<h1"), 1U);
  EXPECT_THAT(page, Not(HasSubstr("<th>"))) << "every table head says what it heads";
  EXPECT_THAT(page, AllOf(HasSubstr("role=\"img\" aria-label="), HasSubstr("tabindex=\"0\"")));
  // No level of heading is left out.
  static const std::regex heading("<h([1-6])");
  int before = 0;
  for (std::sregex_iterator at(page.begin(), page.end(), heading), end; at != end; ++at) {
    const int level = std::stoi((*at)[1]);
    EXPECT_LE(level, before + 1);
    before = level;
  }
  static const std::regex id("id=\"([^\"]*)\"");
  std::vector<std::string> ids;
  for (std::sregex_iterator at(page.begin(), page.end(), id), end; at != end; ++at) ids.push_back((*at)[1]);
  std::sort(ids.begin(), ids.end());
  EXPECT_EQ(std::adjacent_find(ids.begin(), ids.end()), ids.end()) << "an id stands once";
}

TEST(OwnerPage, RunsNothingAndLoadsNothing) {
  const std::string page = owner_head("x") + article_of(clean_pipe(some_findings)) + owner_foot();
  EXPECT_THAT(page, AllOf(Not(HasSubstr("<script")), Not(HasSubstr("javascript:")), Not(HasSubstr("http:")),
                          Not(HasSubstr("https:")), Not(HasSubstr("onload"))));
  EXPECT_THAT(page, HasSubstr("default-src 'none'"));
}

TEST(OwnerPage, EveryWordOfTheFileIsEscaped) {
  const std::string evil = "\"><script>alert(1)</script><img src=x onerror='a'>&";
  coding::Record record = clean_pipe(some_findings);
  for (const char* code : {"AAA", "AAB", "AAF", "AAD", "AAJ", "AAN", "ABF", "ACD", "ACK", "AAK", "ABC"})
    record.set_header(code, evil);
  for (coding::Observation& seen : record.observations) seen.remark = seen.photo = seen.ch2 = evil + "\x01";
  const grading::Grade grade = graded(record);
  RecordPictures pictures("/nowhere");
  OwnerPage page;
  page.record = &record;
  page.grade = &grade;
  page.file = evil;
  page.pictures = &pictures;
  const std::string html = owner_head(evil) + owner_article(page) + owner_foot();
  EXPECT_THAT(html,
              AllOf(Not(HasSubstr("<script")), Not(HasSubstr("<img src=x")), HasSubstr("&lt;script&gt;")));
  EXPECT_EQ(html.find('\x01'), std::string::npos);
  expect_nested(html);
}

// Grey print and colour-blind readers lose nothing: marks differ by shape, and no colour has a meaning.
TEST(OwnerPage, HasNoTrafficLights) {
  const std::string css = base::read_file(base::content_dir() / "report" / "owner.css").value();
  static const std::regex hex("#([0-9a-fA-F]{3}(?:[0-9a-fA-F]{3})?)\\b");
  for (std::sregex_iterator at(css.begin(), css.end(), hex), end; at != end; ++at) {
    std::string digits = (*at)[1];
    if (digits.size() == 3) digits = {digits[0], digits[0], digits[1], digits[1], digits[2], digits[2]};
    const int r = std::stoi(digits.substr(0, 2), nullptr, 16),
              g = std::stoi(digits.substr(2, 2), nullptr, 16),
              b = std::stoi(digits.substr(4, 2), nullptr, 16);
    EXPECT_LE(std::max({r, g, b}) - std::min({r, g, b}), 40)
        << digits << " is a colour that may mean something";
  }
  const std::string all = css + article_of(clean_pipe(some_findings));
  for (const char* word : {"red;", "green", "amber", "orange;", "yellow;", "traffic-light"})
    EXPECT_THAT(all, Not(HasSubstr(word)));
  std::vector<std::string> shapes;
  for (std::size_t next = 0; next < Meanings::shipped().next().size(); ++next)
    shapes.push_back(step_mark_svg(next, ""));
  std::sort(shapes.begin(), shapes.end());
  EXPECT_EQ(std::adjacent_find(shapes.begin(), shapes.end()), shapes.end())
      << "each step has a mark of its own";
}

TEST(OwnerPage, CountsFromTheChosenZeroInTheChosenUnit) {
  const coding::Record record = clean_pipe({noted(5, "BAC", "B", 30)});
  EXPECT_THAT(article_of(record), HasSubstr("at 5.00\u00A0m."));
  EXPECT_THAT(article_of(record, {ZeroAt::end}),
              AllOf(HasSubstr("at 15.00\u00A0m."), HasSubstr("the far end of the pipe (K2)")));
  const std::string feet = article_of(record, {ZeroAt::start}, base::LengthUnit::feet);
  EXPECT_THAT(feet, AllOf(HasSubstr("at 16.4\u00A0ft."), HasSubstr("65.6 ft"), HasSubstr("5.9 in (150 mm)")));
  EXPECT_THAT(feet, Not(HasSubstr(" m.")));
}

TEST(OwnerPage, TheDrawingTellsFindingsBlindStretchesAndWaterInWords) {
  const coding::Record record = clean_pipe({noted(3, "BAC", "B", 30), noted(7, "BDG", "A", {}, "A1"),
                                            noted(8.5, "BDG", "A", {}, "B1"), noted(14, "BDD", "A", 30)});
  const Advice advice = advised(record);
  const Measure measure = measure_of(record, {}, base::LengthUnit::metres);
  const std::string svg =
      draw_owner_section({&record, &advice, &measure, &coding::CodeList::shipped(), "p1-"}).svg;
  EXPECT_THAT(svg, AllOf(HasSubstr("class=\"mark-word\""), HasSubstr(">hole<"),
                         HasSubstr(">not seen, 1.50 m<"), HasSubstr(">water 30 %<"), HasSubstr(">0<")));
}

TEST(OwnerPage, SaysWhenAndByWhomOrThatNobodyRecordedIt) {
  coding::Record record = clean_pipe();
  record.set_header("ABH", "coder-07");
  EXPECT_THAT(article_of(record), AllOf(HasSubstr("<dd>2026-03-02</dd>"), HasSubstr("<dd>coder-07</dd>")));
  record.set_header("ABH", "");
  record.set_header("ABF", "");
  EXPECT_THAT(article_of(record), AllOf(HasSubstr("<dt>Inspected on</dt><dd>not recorded</dd>"),
                                        HasSubstr("<dt>Inspected by</dt><dd>not recorded</dd>")));
}

TEST(OwnerPage, SpeaksNoTradeTalkOutsideTheRecordsOwnColumn) {
  coding::Record record = clean_pipe({noted(3, "BBA", "B", 20), noted(5, "BBC", "A", 10),
                                      noted(7, "BBE", "G", 10), noted(9, "BDD", "A", 60)});
  std::string page = article_of(record);
  static const std::regex recorded("class=\"recorded\">.*?</td>");
  page = std::regex_replace(page, recorded, "");
  for (const char* word : {" bore", "invert", "saddle", "combined", "foul", "preliminary object number",
                           "damage length number", "scheme file", "permit work", "kind of wastewater"})
    EXPECT_THAT(page, Not(HasSubstr(word)));
}

// A page with many findings has one head of the table, and says what a thing can lead to once.
TEST(OwnerPage, RepeatsNeitherHeadNorWords) {
  const std::string page =
      article_of(clean_pipe({noted(3, "BAB", "B", 1), noted(5, "BAB", "B", 9), noted(7, "BAB", "C", 2)}));
  EXPECT_EQ(count(page, ">As recorded</th>"), 2U) << "findings, and what else was recorded";
  EXPECT_EQ(count(page, Meanings::shipped().of("BAB", "B").leads_to), 1U);
  EXPECT_THAT(page, HasSubstr("The same as for finding"));
}

TEST(OwnerPage, NumbersAreSaidAsNumbersNotAsAFormHasThem) {
  coding::Record record = clean_pipe({noted(3, "BCA", "A"), noted(5, "BAB", "C")});
  record.observations[1].q1 = coding::Number::from_text("0150");
  record.observations[2].q1 = coding::Number::from_text("003.0");
  EXPECT_THAT(article_of(record),
              AllOf(HasSubstr("150 mm"), HasSubstr("3 mm"), Not(HasSubstr("0150")), Not(HasSubstr("003"))));
}

TEST(OwnerPage, AClassThatMayBeWorseIsSaidAsOne) {
  const coding::Record record = clean_pipe({noted(3, "BAB", "B", 3)});
  grading::Grade grade = graded(record);
  ASSERT_EQ(grade.overall.size(), 1U);
  grade.overall.front().grade = 2;
  grade.overall.front().complete = false;
  OwnerPage page;
  page.record = &record;
  page.grade = &grade;
  grade.object_class = 2;
  EXPECT_THAT(owner_article(page), AllOf(HasSubstr("The whole pipe is in class 2 or worse, where 5 is worst"),
                                         Not(HasSubstr("Taken together"))));
  grade.object_class = grade.object_least = 3;
  grade.object_most = 5;
  EXPECT_THAT(owner_article(page),
              HasSubstr("Taken together the pipe is in class 3 or worse, where 5 is worst"));
}

TEST(OwnerPage, NeverMakesUpAFall) {
  coding::Record record = clean_pipe();
  EXPECT_THAT(article_of(record), HasSubstr("the fall of the pipe is not known and it is drawn level"));
  record.set_header("ACH", "1.2");
  record.set_header("ACI", "1.9");
  EXPECT_THAT(article_of(record), AllOf(HasSubstr("1.20 m below ground"), HasSubstr("1.90 m below ground"),
                                        HasSubstr("its true fall is not known")));
}

TEST(OwnerPage, WhatWasNotSeenIsSaid) {
  coding::Record record = clean_pipe();
  record.observations = {noted(0, "BCD", "A"), noted(6, "BDC", "A")};
  coding::number_observations(record);
  const std::string page = article_of(record);
  EXPECT_THAT(page, AllOf(HasSubstr("What was not inspected"), HasSubstr(">not seen, 14.00 m<"),
                          HasSubstr("No fault was recorded in what was seen of the pipe"),
                          Not(HasSubstr("Nothing needs doing"))));
}

TEST(OwnerPage, ManyFindingsStayInTheDrawingAndOnThePage) {
  std::vector<coding::Observation> many;
  for (int i = 0; i < 400; ++i) many.push_back(noted(5 + (i % 7) * 0.01, i % 2 ? "BAB" : "BAJ", "B", 3));
  const coding::Record record = clean_pipe(many);
  const Advice advice = advised(record);
  const Measure measure = measure_of(record, {}, base::LengthUnit::metres);
  const DrawnSection drawn =
      draw_owner_section({&record, &advice, &measure, &coding::CodeList::shipped(), "p1-"});
  EXPECT_GT(drawn.unnumbered, 300U);
  EXPECT_EQ(count(drawn.svg, "tick-only"), drawn.unnumbered);
  const std::string page = article_of(record);
  EXPECT_THAT(page,
              AllOf(HasSubstr("stand as short ticks without a number"), HasSubstr("more of the same kind")));
  EXPECT_LT(page.size(), 200000U);
}

TEST(OwnerPage, RecordsWithLittleInThemHaveAPageToo) {
  coding::Record record;
  EXPECT_THAT(article_of(record), HasSubstr("Pipe without a name"));
  coding::Observation lost = noted(0, "BAC", "B", 30);
  lost.distance_m = {};
  record.observations = {lost};
  coding::number_observations(record);
  EXPECT_THAT(article_of(record), AllOf(HasSubstr("no distance"), HasSubstr("are not drawn"),
                                        HasSubstr("material not stated"), HasSubstr("not recorded")));
  expect_nested(article_of(record));
}

TEST(OwnerPage, IsTheSameEveryTime) {
  EXPECT_EQ(article_of(clean_pipe(some_findings)), article_of(clean_pipe(some_findings)));
}

TEST(OwnerWords, PlacesRoundThePipeArePlain) {
  coding::Observation seen;
  EXPECT_EQ(round_the_pipe(seen), "");
  seen.clock_from = 12;
  EXPECT_EQ(round_the_pipe(seen), "top");
  seen.clock_to = 12;
  EXPECT_EQ(round_the_pipe(seen), "all round");
  seen.clock_from = 9;
  seen.clock_to = 3;
  EXPECT_EQ(round_the_pipe(seen), "left to right");
  seen.clock_from = 5;
  seen.clock_to = 7;
  EXPECT_EQ(round_the_pipe(seen), "bottom");
}

}  // namespace
}  // namespace haunch::report
