// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "report/exercise_page.hpp"
#include "report/output_json.hpp"
#include "report/plain_text.hpp"
#include "report/sample.hpp"

namespace haunch::report {
namespace {

std::string page_text(const ExercisePage& page) {
  return exercise_html(page, coding::CodeList::shipped(), shipped_cautions());
}

/// Tags that open and close in step; void elements aside.
std::string unbalanced(const std::string& html) {
  static const std::regex tag("<(/?)([a-z][a-z0-9]*)([^<>]*)>");
  const std::string no_style = std::regex_replace(html, std::regex("<style>[^<]*</style>"), "");
  std::vector<std::string> open;
  for (std::sregex_iterator it(no_style.begin(), no_style.end(), tag), end; it != end; ++it) {
    const std::string name = (*it)[2].str(), rest = (*it)[3].str();
    if (name == "meta" || name == "img" || name == "link" || name == "br" || name == "input" ||
        (!rest.empty() && rest.back() == '/'))
      continue;
    if ((*it)[1].str().empty()) {
      open.push_back(name);
    } else {
      if (open.empty() || open.back() != name) return "</" + name + "> at " + std::to_string(it->position());
      open.pop_back();
    }
  }
  return open.empty() ? std::string() : "<" + open.back() + "> is not closed";
}

TEST(ExercisePage, SaysEveryVerdictWithItsReason) {
  const std::string html = page_text(sample_page());
  for (const char* part :
       {"Grease is B; A is encrustation.", "Roots at the joint were not logged.", "dangerous to miss",
        "fine roots take 4 % of the bore", "There is no crack here.", "under cloudy water",
        "The roots would have been left to grow.", "2026-03-02 09:40 UTC", "coder-07", "<b>63.4</b> of 100",
        "Cleaning again is right.", "Provisional:", "Not known about the site: soil."}) {
    EXPECT_NE(html.find(part), std::string::npos) << part;
  }
  EXPECT_NE(html.find("does not replace local codes, a qualified assessment or a permit"), std::string::npos);
}

TEST(ExercisePage, EachPictureStandsWhereItBelongs) {
  ExercisePage page = sample_page();
  page.pictures = {{"t2", 2, false, "grease", "data:plain"},
                   {"t2", 2, true, "grease, lit up", "data:lit"},
                   {"", 12, false, "where BAB was logged", "data:nothing", "o4"},
                   {"", 7, false, "half way", "data:way"}};
  const std::string html = page_text(page);
  const auto at = [&](const std::string& text) { return html.find(text); };
  const std::size_t found = at("Found, mark by mark"), invented = at("Logged, but not there"),
                    way = at("Along the way");
  for (const char* address : {"data:plain", "data:lit"}) {
    EXPECT_GT(at(address), found) << address;
    EXPECT_LT(at(address), way) << address;
  }
  EXPECT_GT(at("data:nothing"), invented);
  EXPECT_LT(at("data:nothing"), found);
  EXPECT_GT(at("data:way"), way);
}

TEST(ExercisePage, SaysWhatWeightsClassesAndSourcesMean) {
  ExercisePage page = sample_page();
  page.marking.missed[0].weight_why = "1 for a finding of its kind, 2 for class 3";
  page.object_classes = {"1: slight <defects>"};
  const std::string html = page_text(page);
  for (const char* part :
       {"weight 3 (1 for a finding of its kind, 2 for class 3)", "1: slight &lt;defects&gt;",
        "a value of our own", "Classes for the record as coded", "Without what no careful drive could show"})
    EXPECT_NE(html.find(part), std::string::npos) << part;
  EXPECT_EQ(html.find(">ours<"), std::string::npos);
}

TEST(ExercisePage, FullMarksAreOnlyShownWhenNothingWasLost) {
  ExercisePage page = sample_page();
  for (const auto& [score, shown] : std::vector<std::pair<double, std::string>>{{100, "<b>100</b>"},
                                                                                {99.9, "<b>99.9</b>"},
                                                                                {99.97, "<b>99.9</b>"},
                                                                                {99.5, "<b>99.5</b>"},
                                                                                {0, "<b>0</b>"}}) {
    page.marking.score = score;
    EXPECT_NE(page_text(page).find(shown), std::string::npos) << score;
    const std::string text = marking_text(page.marking, page.truth, page.attempt, coding::CodeList::shipped(),
                                          base::LengthUnit::metres);
    EXPECT_NE(text.find("Coding score: " + shown.substr(3, shown.size() - 7) + " of 100"), std::string::npos);
  }
}

TEST(ExercisePage, EachProvisionalClassSaysSo) {
  ExercisePage page = sample_page();
  marking::Consequence& graded = page.marking.consequence;
  graded.attempt.object_class = 2;
  const auto classed = [](const char* id, bool provisional) {
    return grading::ObservationGrade{
        id,
        {{"tightness", grading::Outcome::classed, 3, 240.0, "row", "because", "ours", provisional}},
        240.0,
        0.3,
        provisional};
  };
  graded.attempt.observations = {classed("o2", false)};
  graded.truth.observations = {classed("t2", true)};
  page.marking.grading.given = true;
  page.marking.grading.classes = {{"o2", "tightness", 4, 3, 5, false, true, "Too strict."}};
  const std::string html = page_text(page);
  EXPECT_NE(html.find("<td data-name=\"as it is\">3 (provisional)</td><td data-name=\"as coded\">2</td>"),
            std::string::npos)
      << "the object classes";
  EXPECT_NE(
      html.find(
          "<td data-name=\"for the record\">3</td><td data-name=\"for the truth\">5 (provisional)</td>"),
      std::string::npos);
  const std::string text = marking_text(page.marking, page.truth, page.attempt, coding::CodeList::shipped(),
                                        base::LengthUnit::metres);
  EXPECT_NE(text.find("object class as it is: 3 (provisional), as coded: 2\n"), std::string::npos) << text;
}

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

TEST(ExercisePage, ATolerancesFindingsStandBesideIt) {
  ExercisePage page = sample_page();
  auto& verdicts = page.marking.hits[1].verdicts;
  verdicts[1].aspect = marking::Aspect::place;
  verdicts[1].tolerance = "within 0.45 m";
  const std::string html = page_text(page);
  EXPECT_NE(
      html.find("<td data-name=\"tolerance\">within 0.45 m</td><td data-name=\"used for\">BBB (2)</td>"),
      std::string::npos);
  EXPECT_NE(
      html.find("<td data-name=\"tolerance\">the same code</td><td data-name=\"used for\">BBB (2), BCD (1)"
                "</td>"),
      std::string::npos)
      << "one tolerance, two codes";
}

TEST(ExercisePage, ATableIsNeverWiderThanANarrowScreen) {
  // Below 40 rem rows stand as blocks, and each cell says what it is.
  const std::string html = page_text(sample_page());
  static const std::regex table("<table class=\"([a-z]+)\">"), cell("<td(?! class=)(?! data-name=)[^>]*>");
  int tables = 0;
  for (std::sregex_iterator it(html.begin(), html.end(), table), end; it != end; ++it, ++tables)
    EXPECT_NE(html.find("." + (*it)[1].str() + " tr"), std::string::npos) << (*it)[1];
  EXPECT_GE(tables, 3);
  EXPECT_FALSE(std::regex_search(html, cell)) << "a cell without its heading";
}

/// As the three-goal scheme says it of a real run.
grading::Grade noted_grade() {
  grading::Grade grade;
  grade.scheme = "three goals";
  grade.provisional = true;
  grade.missing = {"soil", "groundwater"};
  grade.notes = {"Provisional: class rows that decided are from memory.",
                 "Site conditions that are not known count 0 points: soil; groundwater", "AED: not graded"};
  grade.observations = {
      {"t4",
       {{"tightness", grading::Outcome::classed, 3, 240.0, "row",
         "class 3 whatever; source: from memory (provisional)", "from memory", true},
        {"stability", grading::Outcome::no_row, {}, {}, {}, "no row is known for BBA", {}, false}},
       240.0,
       0.3,
       true}};
  return grade;
}

TEST(ExercisePage, EachNoteIsSaidOnce) {
  ExercisePage page = sample_page();
  page.marking.consequence.truth = noted_grade();
  const std::string html = page_text(page);
  EXPECT_EQ(times(html, "groundwater"), 1U);
  EXPECT_EQ(times(html, "rows that decided"), 1U);
  EXPECT_EQ(times(html, "AED: not graded"), 1U);
  EXPECT_EQ(times(html, "from memory</span>"), 1U);
  EXPECT_EQ(times(html, "source: from memory"), 0U) << "it stands beside the reason";
  EXPECT_EQ(times(html, "class 3 (provisional). class 3 whatever "), 1U);
  EXPECT_EQ(times(html, "no row"), 1U);
}

TEST(GradeText, EachNoteIsSaidOnce) {
  const std::string text =
      grade_text(noted_grade(), sample_page().truth, coding::CodeList::shipped(), base::LengthUnit::metres);
  EXPECT_EQ(times(text, "groundwater"), 1U) << text;
  EXPECT_EQ(times(text, "rows that decided"), 1U);
  EXPECT_EQ(times(text, "from memory"), 2U) << "of the grade, of the row";
  EXPECT_EQ(times(text, "(provisional)"), 1U);
}

TEST(GradeText, EachProvisionalClassSaysSo) {
  const ExercisePage page = sample_page();
  grading::Grade grade;
  grade.goals = {"tightness"};
  grade.observations = {{"t4",
                         {{"tightness", grading::Outcome::classed, 3, 240.0, "row", "because", "ours", true}},
                         240.0,
                         0.3,
                         true}};
  grade.object_class = 4;
  grade.provisional = true;
  const auto text = [&] {
    return grade_text(grade, page.truth, coding::CodeList::shipped(), base::LengthUnit::metres);
  };
  EXPECT_NE(text().find("class 3 (provisional)"), std::string::npos);
  EXPECT_NE(text().find("object class: 4 (provisional)\n"), std::string::npos);
  grade.provisional = grade.observations[0].goals[0].provisional = false;
  EXPECT_EQ(text().find("rovisional"), std::string::npos);
}

TEST(GradeText, SaysALowerBoundAndEveryNumberOfTheWholePipe) {
  coding::Record record;
  record.set_header("ACD", "AE");
  record.set_header("ACB", "800");
  const auto add = [&](double at_m, const char* code, const char* ch1, const coding::Number& q1) {
    coding::Observation one;
    one.distance_m = at_m;
    one.code = code;
    one.ch1 = ch1;
    one.q1 = q1;
    record.observations.push_back(one);
  };
  add(0, "BCD", "A", {});
  add(5, "BAJ", "B", 140);
  add(9, "BAF", "C", {});
  add(20, "BCE", "A", {});
  coding::number_observations(record);
  const grading::Grade grade =
      grading::grade(record, grading::Scheme::shipped_named("mean-and-worst").value(), {});
  std::string text = grade_text(grade, record, coding::CodeList::shipped(), base::LengthUnit::metres);
  for (char& letter : text)
    if (letter == '\n') letter = ' ';
  for (auto at = text.find("  "); at != std::string::npos; at = text.find("  ")) text.erase(at, 1);
  for (const char* said :
       {"object class: at least 2 (provisional)",
        "structural condition (F): 2, class 2 or worse (provisional): damage that is getting worse",
        "mean 2 = 2 / 1, worst 2", "over 1; bounds from memory", "functional condition (G): 0, class 1",
        "structural density (SM): 0.05",
        "Not known: wall thickness of the pipe; so what is measured by it has no class",
        "ground round the pipe; so there is no repair index (RI)"})
    EXPECT_NE(text.find(said), std::string::npos) << said << "\n" << text;
  EXPECT_EQ(text.find("counted as 0"), std::string::npos);
  EXPECT_EQ(times(text, "Not known: wall"), 1U);
  add(12, "BAC", "C", {});
  coding::number_observations(record);
  const std::string worst =
      grade_text(grading::grade(record, grading::Scheme::shipped_named("mean-and-worst").value(), {}), record,
                 coding::CodeList::shipped(), base::LengthUnit::metres);
  EXPECT_NE(worst.find("structural condition (F): 10, class 4 (provisional)"), std::string::npos) << worst;
  EXPECT_EQ(worst.find("4 or worse"), std::string::npos) << "nothing is worse than the worst";
  EXPECT_NE(worst.find("object class: 4 (provisional)"), std::string::npos);
}

TEST(ExercisePage, WarningsStandBeforeTheScoreIsExplained) {
  const std::string html = page_text(sample_page());
  EXPECT_LT(html.find("A &lt;gas&gt; pipe was not called out"), html.find("id=\"long\""));
}

TEST(ExercisePage, TextFromFilesCannotBecomeMarkup) {
  ExercisePage page = sample_page();
  const std::string attack = "<script>alert(1)</script>\"'{{title}}{{{style}}}";
  page.title = page.trainee = page.finished_at = attack;
  page.attempt.observations[3].remark = attack;
  page.truth.observations[3].reason = attack;
  page.marking.missed[0].sentence = page.marking.warnings[0] = attack;
  page.marking.invented[0].sentence = attack;
  page.marking.hits[1].verdicts[1].given = attack;
  page.made_with = {{attack, attack}};
  page.pictures = {{"t4", 9, true, attack, attack}};
  const std::string html = page_text(page);
  EXPECT_EQ(html.find("<script"), std::string::npos);
  EXPECT_NE(html.find("{{title}}"), std::string::npos) << "braces in text stay text";
  EXPECT_EQ(unbalanced(html), "");
}

TEST(ExercisePage, IsWellFormedAndNeedsNothingBesideIt) {
  const std::string html = page_text(sample_page());
  EXPECT_EQ(unbalanced(html), "");
  EXPECT_EQ(html.find("{{"), std::string::npos) << "a tag of the template was left over";
  for (const char* outside : {"http://", "https://", "<link", "@import", "src=\"/"}) {
    EXPECT_EQ(html.find(outside), std::string::npos) << outside;
  }
}

TEST(ExercisePage, PicturesStandWithWhatTheyShow) {
  ExercisePage page = sample_page();
  page.pictures = {{"t4", 9, true, "lit roots", "data:image/jpeg;base64,AA=="},
                   {"", 3, false, "a view", "frames/view.png"}};
  const std::string html = page_text(page);
  const auto missed = html.find("id=\"missed\""), invented = html.find("id=\"invented\""),
             views = html.find("id=\"views\"");
  const auto lit = html.find("alt=\"lit roots\""), view = html.find("alt=\"a view\"");
  EXPECT_TRUE(missed < lit && lit < invented);
  EXPECT_TRUE(views < view);
}

TEST(ExercisePage, AnEmptyAttemptHasAPageToo) {
  ExercisePage page;
  page.title = "Nothing";
  const std::string html = page_text(page);
  EXPECT_EQ(unbalanced(html), "");
  EXPECT_NE(html.find("Nothing was found."), std::string::npos);
}

TEST(Cautions, TheShippedOnesNameCodesThatExist) {
  for (const Caution& caution : shipped_cautions()) {
    for (const std::string& code : caution.codes) {
      const coding::CodeEntry* entry = coding::CodeList::shipped().find(code.substr(0, 3));
      ASSERT_NE(entry, nullptr) << code;
      EXPECT_TRUE(code.size() == 3 || entry->ch1.contains(code.substr(4))) << code;
    }
    for (const std::string& material : caution.materials) {
      EXPECT_NE(coding::CodeList::shipped().material(material), nullptr) << material;
    }
  }
}

std::vector<std::string> ids(const coding::Record& record, coding::Action action) {
  std::vector<std::string> found;
  for (const Caution& one : cautions_for(record, action, shipped_cautions())) found.push_back(one.id);
  return found;
}

TEST(Cautions, FollowWhatIsThereAndWhatToDo) {
  coding::Record record;
  const auto plain = ids(record, coding::Action::carry_on);
  EXPECT_EQ(std::count(plain.begin(), plain.end(), "gas"), 0);
  EXPECT_EQ(std::count(plain.begin(), plain.end(), "entry"), 1) << "never enter: on every report";
  record.observations = {seen("t1", 3, "BBE", "G")};
  EXPECT_EQ(ids(record, coding::Action::carry_on).front(), "gas");
  record.observations = {seen("t1", 3, "BBE", "A")};
  EXPECT_NE(ids(record, coding::Action::carry_on).front(), "gas");
  EXPECT_EQ(ids(record, coding::Action::call_gas_utility).front(), "gas");
  record.observations = {seen("t1", 3, "BAB", "C")};
  const auto cracked = ids(record, coding::Action::carry_on);
  EXPECT_EQ(std::count(cracked.begin(), cracked.end(), "jet-doubt"), 1)
      << "to be repaired, and not cleaned before";
  record.set_header("ACD", "AA");
  const auto cement = ids(record, coding::Action::carry_on);
  EXPECT_EQ(std::count(cement.begin(), cement.end(), "asbestos"), 1);
}

TEST(GradeJson, KeepsItsSchema) {
  const ExercisePage page = sample_page();
  grading::Grade grade;
  grade.goals = {"tightness"};
  grade.observations = {
      {"t4",
       {{"tightness", grading::Outcome::classed, 3, 240.0, "BBA/tightness", "because", "ours", true},
        {"stability", grading::Outcome::no_row, {}, {}, "", "", "", false}},
       240.0,
       0.3,
       true}};
  const GradedRecord one{"a.json", 1, &page.truth, grade};
  const auto read = base::JsonDocument::read_text(grade_to_json(one), "grade", "grade");
  for (const auto& problem : read.problems()) ADD_FAILURE() << base::to_line(problem);
  std::string broken = grade_to_json(one);
  broken.replace(broken.find("\"provisional\""), 13, "\"provisionel\"");
  EXPECT_FALSE(base::JsonDocument::read_text(broken, "grade", "grade").ok())
      << "the schema must not wave everything through";
}

TEST(ScoresJson, KeepsItsSchema) {
  scores::Attempt attempt;
  attempt.id = "a1";
  attempt.trainee = "coder-07 \xFF";  // not UTF-8: shown, never a crash
  attempt.score = 61.5;
  attempt.action_right = true;
  const auto read = base::JsonDocument::read_text(scores_to_json({attempt, {}}), "scores", "scores");
  EXPECT_FALSE(read.ok()) << "an attempt without an id is none";
  EXPECT_TRUE(base::JsonDocument::read_text(scores_to_json({attempt}), "scores", "scores").ok());
}

}  // namespace
}  // namespace haunch::report
