// SPDX-License-Identifier: Apache-2.0
#include "report/advice.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.hpp"
#include "base/words.hpp"
#include "campaign.hpp"
#include "report/owner_sample.hpp"

namespace haunch::report {
namespace {

using coding::Action;
using testing::AnyOf;
using testing::HasSubstr;
using testing::Not;

std::string next_of(const coding::Record& record) {
  return Meanings::shipped().next()[advised(record).next].id;
}

/// 9 of 20 m.
coding::Record broken_off() {
  coding::Record record = clean_pipe();
  record.observations = {noted(0, "BCD", "A"), noted(9, "BDC", "A")};
  coding::number_observations(record);
  return record;
}

TEST(Advice, EachStepHasAFindingThatCallsForIt) {
  EXPECT_EQ(next_of(clean_pipe()), "nothing");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAB", "A")})), "watch");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BBA", "B", 10)})), "clean again");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAG", "", 20)})), "spot repair");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAB", "C", 6)})), "do not jet");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAC", "B", 40)})), "refer");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BBE", "G", 10)})), "gas");
  EXPECT_EQ(next_of(broken_off()), "inspect the rest");
}

const std::string& action_of(const coding::Record& record) {
  return Meanings::shipped().next()[advised(record).next].action_words;
}

// To clean is to jet, and a jet breaks what is only held together by the ground.
TEST(Advice, WhatIsToBeRepairedIsNotCleaned) {
  for (const coding::Observation& found :
       {noted(3, "BAB", "C"), noted(3, "BAB", "C", 3), noted(14, "BAA", "A", 60), noted(14, "BAA", "", 60),
        noted(3, "BAK", "J"), noted(3, "BAK", "I"), noted(3, "BBG"), noted(3, "BAM", "A"),
        noted(3, "BAG", "", 20)}) {
    const Advice advice = advised(clean_pipe({found}));
    EXPECT_NE(action_of(clean_pipe({found})), "clean again") << found.code << ' ' << found.ch1;
    EXPECT_NE(action_of(clean_pipe({found})), "carry on") << found.code << ' ' << found.ch1;
    EXPECT_EQ(advice.action, Action::carry_on) << found.code << ": no rule of marking cleans it";
  }
  EXPECT_EQ(action_of(clean_pipe({noted(3, "BAB", "C", 3)})), "have it repaired");
  // Roots are to be cut, but not before the crack is judged.
  const coding::Record both = clean_pipe({noted(3, "BAB", "C", 3), noted(5, "BBA", "B", 10)});
  EXPECT_EQ(action_of(both), "have it repaired");
  EXPECT_EQ(advised(both).action, Action::clean_again);
}

// Clay to 12 m, plastic beyond: what cannot bend and has, is broken.
TEST(Advice, AJetIsKeptFromPipesThatMayNotBearIt) {
  for (const coding::Observation& found :
       {noted(3, "BAJ", "A", 120), noted(3, "BAJ", "B", 140), noted(3, "BAA", "A", 40)}) {
    const coding::Record record = clean_pipe({found, noted(3, "BBC", "B", 30), noted(3, "BBA", "C", 20)});
    EXPECT_EQ(next_of(record), "do not jet") << found.code << found.ch1;
    EXPECT_TRUE(advised(record).no_jet);
    EXPECT_THAT(article_of(record), testing::AllOf(HasSubstr("Do not jet a pipe that may not bear it"),
                                                   Not(HasSubstr("Have the pipe cleaned"))));
  }
  EXPECT_FALSE(advised(clean_pipe({noted(14, "BAA", "A", 40)})).no_jet) << "plastic bends";
  EXPECT_FALSE(advised(clean_pipe({noted(3, "BAJ", "A", 20), noted(3, "BAJ", "B", 20)})).no_jet);
}

std::vector<OwnerStep> steps_of(const coding::Record& record) {
  return next_steps(record, advised(record), graded(record), measure_of(record, {}, base::LengthUnit::metres),
                    Meanings::shipped());
}

// One rule decides in training and on real jobs.
TEST(Advice, IsNeverMilderThanTheActionThatTraineesAreMarkedAgainst) {
  base::Random random(11);
  const auto& codes = coding::CodeList::shipped().codes();
  for (int round = 0; round < campaign::rounds(300); ++round) {
    std::vector<coding::Observation> found;
    for (std::uint32_t i = random.below(7); i > 0; --i) {
      const coding::CodeEntry& entry = codes[random.below(static_cast<std::uint32_t>(codes.size()))];
      // Nodes and changes of the pipe are no findings: they change what the others mean.
      if (entry.code == "BCD" || entry.code == "BCE" || entry.group == "header-change") continue;
      std::string letter;
      if (!entry.ch1.empty()) {
        auto at = entry.ch1.begin();
        std::advance(at, random.below(static_cast<std::uint32_t>(entry.ch1.size())));
        letter = at->first;
      }
      found.push_back(noted(1 + random.below(19), entry.code, letter, random.below(61)));
    }
    const coding::Record record = clean_pipe(found);
    const Action wanted = marking::action_for(record, marking::Rules::shipped()).action;
    const Advice advice = advised(record);
    EXPECT_GE(advice.action, wanted);
    EXPECT_GE(advice.next, Meanings::shipped().next_for(wanted));
    // Cleaning is said where something is to be cleaned, and nowhere else.
    const std::size_t cleaning = Meanings::shipped().next_for(Action::clean_again);
    const bool any_to_clean = std::any_of(advice.groups.begin(), advice.groups.end(),
                                          [&](const FindingGroup& group) { return group.next == cleaning; });
    EXPECT_TRUE(any_to_clean || advice.action != Action::clean_again);
    EXPECT_EQ(action_of(record) == "clean again", advice.next == cleaning);
    EXPECT_TRUE(any_to_clean || advice.next != cleaning);
    EXPECT_EQ(advised(record).no_jet, advised(record).next >= Meanings::shipped().no_jet_from());

    // One finding more never makes it less careful, and the order of the rows changes nothing.
    if (!found.empty()) {
      std::vector<coding::Observation> fewer(found.begin(), found.end() - 1);
      EXPECT_GE(advised(record).next, advised(clean_pipe(fewer)).next);
      EXPECT_GE(advised(record).no_jet, advised(clean_pipe(fewer)).no_jet);
    }
    coding::Record turned = record;
    std::reverse(turned.observations.begin(), turned.observations.end());
    for (coding::Observation& seen : turned.observations) seen.id.clear();
    coding::number_observations(turned);
    EXPECT_EQ(article_of(turned), article_of(record));
  }
}

TEST(Advice, RanksByWhatComesNextThenByClass) {
  const coding::Record record =
      clean_pipe({noted(2, "BAB", "A"), noted(4, "BAJ", "B", 10), noted(6, "BAC", "B", 30),
                  noted(8, "BBA", "B", 20), noted(9, "BAB", "A")});
  const Advice advice = advised(record);
  ASSERT_EQ(advice.finding_count, 5U);
  std::size_t before = 99;
  int number = 0;
  for (const FindingGroup& group : advice.groups) {
    EXPECT_LE(group.next, before);
    before = group.next;
    int worst = 99;
    for (const RankedFinding& one : group.findings) {
      EXPECT_EQ(one.number, ++number);
      EXPECT_LE(one.worst_class.value_or(0), worst);
      worst = one.worst_class.value_or(0);
    }
  }
  EXPECT_EQ(advice.most_urgent()->seen->code, "BAC");
  EXPECT_EQ(advice.groups.back().findings.size(), 2U) << "two hairlines mean the same";
}

TEST(Advice, AStretchIsOneFinding) {
  const Advice advice = advised(clean_pipe({noted(2, "BBB", "B", 12, "A1"), noted(7, "BBB", "B", 12, "B1")}));
  ASSERT_EQ(advice.finding_count, 1U);
  EXPECT_TRUE(advice.most_urgent()->continuous);
  EXPECT_DOUBLE_EQ(*advice.most_urgent()->to_m, 7);
}

TEST(Advice, PitchFibreIsNotJettedWhateverIsFound) {
  coding::Record record = clean_pipe({noted(3, "BBA", "B", 20)});
  record.set_header("ACD", "AC");
  EXPECT_EQ(next_of(record), "do not jet");
  const auto steps = steps_of(record);
  EXPECT_THAT(steps.front().text, HasSubstr("pitch fibre"));
  coding::Record later = clean_pipe({noted(5, "AED", "AC")});
  EXPECT_EQ(next_of(later), "do not jet") << "a change of material counts like the header";
}

TEST(Steps, NothingIsCleanedWhereAJetMayDoHarm) {
  const coding::Record record = clean_pipe({noted(3, "BBA", "B", 20), noted(5, "BAC", "B", 40)});
  const auto steps = steps_of(record);
  EXPECT_EQ(steps.front().heading, "Stop, and ask a qualified engineer");
  EXPECT_EQ(steps.front().numbers, std::vector<int>{1});
  for (const OwnerStep& step : steps) EXPECT_THAT(step.heading, Not(HasSubstr("Have the pipe cleaned")));
  EXPECT_THAT(article_of(record), Not(HasSubstr("Have the pipe cleaned")));
  EXPECT_THAT(article_of(record), HasSubstr("Cleaning has to wait"));
}

TEST(Steps, WhatIsOnlyWatchedIsNoReasonToCleanAPipeThatMayBreak) {
  const coding::Observation crust = noted(3, "BBB", "A", 1), hole = noted(5, "BAC", "B", 40);
  const std::string held = "No cleaning or cutting before what is more urgent is settled";
  EXPECT_THAT(article_of(clean_pipe({crust, hole})), HasSubstr(held));
  EXPECT_THAT(article_of(clean_pipe({crust})), Not(HasSubstr(held)));
}

// Where nothing may be cut, no word of the page says that something is cut.
TEST(Steps, NoWordInvitesToCutOrCleanAPipeThatMayBreak) {
  for (const char* letter : {"A", "B", "C"})
    for (const double percent : {1.0, 8.0, 45.0}) {
      const std::string page =
          article_of(clean_pipe({noted(3, "BBA", letter, percent), noted(5, "BAC", "B", 40)}));
      EXPECT_THAT(page, Not(HasSubstr("cut out"))) << letter << ' ' << percent;
      EXPECT_THAT(page, AnyOf(HasSubstr("No cleaning or cutting before what is more urgent is settled"),
                              HasSubstr("Cleaning has to wait")));
    }
}

TEST(Steps, WhatIsOnlyWatchedIsGivenNoWork) {
  const Meanings& meanings = Meanings::shipped();
  for (const coding::CodeEntry& entry : coding::CodeList::shipped().codes()) {
    std::vector<std::string> letters{""};
    for (const auto& [letter, named] : entry.ch1) letters.push_back(letter);
    for (const std::string& letter : letters) {
      const Meaning& meaning = meanings.of(entry.code, letter);
      if (meaning.usually != meanings.watch() || meaning.when_severe == meaning.usually) continue;
      EXPECT_FALSE(meaning.watched.empty())
          << entry.code << ' ' << letter << " calls for work where it is severe; it needs words without";
    }
  }
}

TEST(Steps, TheWorseHalfOfTheClassesIsNeverOnlyWatched) {
  const auto& codes = coding::CodeList::shipped().codes();
  base::Random random(12);
  for (int round = 0; round < campaign::rounds(200); ++round) {
    const coding::CodeEntry& entry = codes[random.below(static_cast<std::uint32_t>(codes.size()))];
    if (entry.code == "BCD" || entry.code == "BCE" || entry.group == "header-change" || entry.ch1.empty())
      continue;
    auto letter = entry.ch1.begin();
    std::advance(letter, random.below(static_cast<std::uint32_t>(entry.ch1.size())));
    const coding::Record record =
        clean_pipe({noted(1 + random.below(18), entry.code, letter->first, random.below(61))});
    for (const FindingGroup& group : advised(record).groups)
      for (const RankedFinding& one : group.findings)
        if (one.worst_class.value_or(0) >= 3) {
          EXPECT_GE(one.next, Meanings::shipped().ask()) << entry.code << ' ' << letter->first;
        }
  }
}

TEST(Steps, DeepStandingWaterIsNamedAtTheTop) {
  const coding::Record record = clean_pipe({noted(3, "BDD", "A", 69), noted(5, "BAC", "B", 40)});
  EXPECT_THAT(article_of(record), HasSubstr("Take note too: water in the pipe, 69\u00A0% of the height"));
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BDD", "A", 49)})), "watch");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BDD", "A", 50)})), "ask");
}

TEST(Steps, WhatTheCameraCouldNotSeeIsSaidInMetres) {
  const coding::Record record =
      clean_pipe({noted(6, "BDG", "A", {}, "A1"), noted(7.5, "BDG", "A", {}, "B1")});
  const auto steps = steps_of(record);
  EXPECT_EQ(steps.front().heading, "Have the part inspected that the camera could not see");
  EXPECT_THAT(steps.front().text, HasSubstr("from 6.00 m to 7.50 m (1.50 m) the camera could not see"));
  coding::Record short_of_end = clean_pipe();
  short_of_end.observations.back() = noted(9, "BDC", "A");
  coding::number_observations(short_of_end);
  EXPECT_THAT(steps_of(short_of_end).front().text,
              HasSubstr("from 12.00 m to 20.00 m (8.00 m) the camera did not get"));
}

TEST(Steps, TheRestOfAPipeIsAskedFor) {
  coding::Record record = clean_pipe();
  record.observations.pop_back();
  record.observations.push_back(noted(9, "BDC", "A"));
  coding::number_observations(record);
  const auto alone = steps_of(record);
  EXPECT_EQ(alone.front().heading, "Have the rest of the pipe inspected") << "no fault seen is not no fault";
  record.observations.push_back(noted(9, "BBE", "G", 30));
  coding::number_observations(record);
  const auto gas = steps_of(record);
  EXPECT_EQ(gas.front().heading, "Keep away, and call the gas company or the emergency number");
  EXPECT_TRUE(std::any_of(gas.begin(), gas.end(), [](const OwnerStep& step) {
    return step.heading == "Have the rest of the pipe inspected";
  }));
}

TEST(Steps, DeepWaterIsAFindingAndShallowWaterAPart) {
  EXPECT_EQ(advised(clean_pipe({noted(3, "BDD", "A", 19)})).finding_count, 0U);
  EXPECT_EQ(advised(clean_pipe({noted(3, "BDD", "A", 20)})).finding_count, 1U);
}

// Who reads the table alone must not take what nobody saw for sound.
TEST(Advice, WhatWasNotSeenIsMoreThanWatched) {
  const Meanings& meanings = Meanings::shipped();
  EXPECT_EQ(action_of(broken_off()), "inspect the rest");
  EXPECT_GT(advised(broken_off()).next, meanings.watch());
  const coding::Record blind = clean_pipe({noted(6, "BDG", "A")});
  EXPECT_EQ(next_of(blind), "inspect the rest");
  coding::Record nothing = clean_pipe();
  nothing.observations.clear();
  EXPECT_EQ(next_of(nothing), "inspect the rest");
  for (const coding::Record& record : {broken_off(), blind, nothing}) {
    EXPECT_EQ(steps_of(record).front().next, advised(record).next) << "machines are told what the page says";
    EXPECT_EQ(steps_of(record).size(), 1U);
  }
}

coding::Record remarked(const std::string& words, const char* code = "BDB") {
  coding::Observation seen = noted(7, code);
  seen.remark = words;
  return clean_pipe({seen});
}

TEST(Gas, WhateverMayBeGasLeadsToKeepingAway) {
  std::vector<coding::Record> records{remarked("yellow pipe through the crown"),
                                      remarked("Gasleitung?", "BCA"), clean_pipe()};
  records.back().set_header("ADE", "smell of gas at the manhole");
  for (const char* letter : {"D", "G", "H", "Z", ""})
    records.push_back(clean_pipe({noted(3, "BBE", letter, 5)}));
  for (const char* letter : {"A", "B", "C", "Z", ""})
    records.push_back(clean_pipe({noted(3, "BDF", letter)}));
  for (const coding::Record& record : records) {
    EXPECT_EQ(next_of(record), "gas");
    EXPECT_EQ(action_of(record), "call the gas utility");
    EXPECT_EQ(advised(record).action, Action::call_gas_utility);
    EXPECT_TRUE(advised(record).no_jet);
    const OwnerStep lead = steps_of(record).front();
    EXPECT_THAT(lead.heading, HasSubstr("Keep away, and call the gas company or the emergency number"));
    EXPECT_THAT(lead.text, testing::AllOf(HasSubstr("Nobody cuts, rods or jets this drain"),
                                          HasSubstr("local rules say"), HasSubstr("from outside")));
    const std::string page = article_of(record);
    EXPECT_THAT(page, testing::AllOf(Not(HasSubstr("Nothing needs doing")), HasSubstr("It may be gas"),
                                     HasSubstr("Local codes and licensed practice decide")));
  }
}

TEST(Gas, ARemarkIsQuotedWithItsPlaceAndEscaped) {
  const coding::Record record = remarked("<b>gas</b> main");
  EXPECT_THAT(steps_of(record).front().text,
              HasSubstr("The remark at 7.00 m says: \u201C<b>gas</b> main\u201D"));
  const std::string page = article_of(record);
  EXPECT_THAT(page, testing::AllOf(HasSubstr("Most urgent: a remark in the record speaks of gas, at 7.00"),
                                   Not(HasSubstr("<b>gas"))));
  EXPECT_EQ(*advised(record).most_urgent_title(), "A remark in the record speaks of gas");
}

TEST(Gas, RemarksThatNobodyJudgedAreToBeRead) {
  const coding::Record record = remarked("wall looks very bad");
  EXPECT_EQ(next_of(record), "nothing");
  const auto steps = steps_of(record);
  EXPECT_EQ(steps.front().heading, "Nothing needs doing by the codes; read the remarks");
  EXPECT_THAT(steps.front().text, HasSubstr("nothing else in it is judged here: read it"));
  EXPECT_THAT(steps_of(remarked("gas")).front().text,
              HasSubstr("nothing else in it is judged here: read it"));
  EXPECT_THAT(steps_of(clean_pipe()).front().text, Not(HasSubstr("remark")));
  EXPECT_EQ(steps_of(clean_pipe()).front().heading, "Nothing needs doing");
}

TEST(Advice, WhatHasNoClassForWantOfASizeIsNotOnlyWatched) {
  const coding::Record unmeasured = clean_pipe({noted(3, "BAJ", "A")});
  EXPECT_EQ(next_of(unmeasured), "ask");
  EXPECT_THAT(article_of(unmeasured), HasSubstr("Why: its size is not recorded"));
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAJ", "A", 1)})), "watch");
}

// The step is judged by the wall, which nobody told.
TEST(Advice, WhatHasNoClassForWantOfAConditionOrARowIsNotOnlyWatched) {
  const coding::Record step = clean_pipe({noted(3, "BAJ", "B", 20)});
  for (const auto outcome : {grading::Outcome::condition_unknown, grading::Outcome::no_row,
                             grading::Outcome::value_missing, grading::Outcome::no_defect}) {
    grading::Grade grade = graded(step);
    grade.overall.clear();
    grade.object_class = grade.object_least = grade.object_most = std::nullopt;
    ASSERT_EQ(grade.observations.size(), 1U);
    grade.observations.front().worst = std::nullopt;
    for (grading::GoalClass& goal : grade.observations.front().goals) {
      goal.grade = std::nullopt;
      goal.outcome = outcome;
    }
    const Advice advice = advice_for(step, grade);
    const bool slight = outcome == grading::Outcome::no_defect;
    EXPECT_EQ(Meanings::shipped().next()[advice.next].id, slight ? "watch" : "ask");
    EXPECT_EQ(advice.most_urgent()->cause.empty(), slight);
  }
}

// "Within days" above and "within some weeks" beneath would be two answers.
TEST(Steps, NothingBeneathAStepWithinDaysSetsALongerTime) {
  for (const coding::Observation& urgent :
       {noted(2, "BAC", "B", 40), noted(2, "BAB", "C", 6), noted(2, "BBE", "G", 10)}) {
    const auto steps = steps_of(clean_pipe({urgent, noted(4, "BAG", "", 20), noted(6, "BAB", "A"),
                                            noted(8, "BDD", "A", 55), noted(9, "BBA", "B", 10)}));
    ASSERT_GE(steps.size(), 4U);
    for (const OwnerStep& step : steps)
      EXPECT_THAT(step.text, testing::AllOf(Not(HasSubstr("ithin some weeks")), Not(HasSubstr("No work now")),
                                            Not(HasSubstr("No emergency"))));
  }
  const auto mild = steps_of(clean_pipe({noted(4, "BAG", "", 20), noted(6, "BAB", "A")}));
  EXPECT_THAT(mild.front().text, HasSubstr("within some weeks"));
}

grading::Grade in_class(const coding::Record& record, int object_class, int worst) {
  grading::Grade grade = graded(record);
  grade.overall.clear();
  grade.object_class = object_class;
  grade.worst_class = worst;
  return grade;
}

// A pipe whose list says "act at once" is not told to wait.
TEST(Advice, IsNeverMilderThanTheClassOfTheWholePipe) {
  const coding::Record record = clean_pipe({noted(3, "BAB", "A")});
  const Meanings& meanings = Meanings::shipped();
  const Measure measure = measure_of(record, {}, base::LengthUnit::metres);
  ASSERT_EQ(next_of(record), "watch");
  for (const int worst : {4, 5})
    for (int whole = 0; whole <= worst; ++whole) {
      const grading::Grade grade = in_class(record, whole, worst);
      const Advice advice = advice_for(record, grade);
      EXPECT_EQ(meanings.next()[advice.next].id, whole == worst      ? "ask within days"
                                                 : whole * 2 > worst ? "ask"
                                                                     : "watch");
      const auto steps = next_steps(record, advice, grade, measure, meanings);
      if (whole * 2 <= worst) continue;
      EXPECT_THAT(steps.front().text, HasSubstr("The pipe as a whole is in class " + std::to_string(whole)));
      for (const OwnerStep& step : steps) EXPECT_THAT(step.text, Not(HasSubstr("No work now")));
    }
  grading::Grade least = in_class(record, 3, 5);
  least.object_least = 3;
  least.object_most = 5;
  EXPECT_THAT(advice_for(record, least).about_class, HasSubstr("in class 3 or worse, where 5 is worst"));
  least.object_class = 5;
  least.object_least = 4;
  EXPECT_THAT(advice_for(record, least).about_class, HasSubstr("in class 5 (4 to 5 possible), where 5 is"));
  least.object_class = 3;
  least.object_least = 2;
  EXPECT_THAT(advice_for(record, least).about_class, HasSubstr("in class 3 (2 to 5 possible), where 5 is"));
  for (const int overall : {1, 3}) {
    least.overall.assign(1, {"object", "object class", {}, overall, "", "", "", false, false});
    const std::string said =
        base::join(found_sentences(record, advice_for(record, least), least, measure), " ");
    EXPECT_THAT(said, HasSubstr("in class 3 (2 to 5 possible), where 5 is worst"));
    EXPECT_THAT(said, Not(HasSubstr("3 or worse")));
  }
  // What is graver already needs no lift, and what is graver in a part of the grade counts.
  const coding::Record hole = clean_pipe({noted(3, "BAC", "B", 40)});
  EXPECT_FALSE(advice_for(hole, in_class(hole, 5, 5)).lifted_by_class);
  grading::Grade parts = in_class(record, 1, 4);
  parts.overall.push_back({"structural", "structural class", {}, 4, "", "", "", true});
  EXPECT_EQ(advice_for(record, parts).next, meanings.ask_within_days());
}

TEST(Steps, ListsOfNumbersAreShort) {
  EXPECT_EQ(number_list({3, 1, 2, 7}), "1 to 3, 7");
  EXPECT_EQ(number_list({1, 2}), "1, 2");
  EXPECT_EQ(number_list({}), "");
}

}  // namespace
}  // namespace haunch::report
