// SPDX-License-Identifier: Apache-2.0
#include "report/advice.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.hpp"
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

TEST(Advice, EachStepHasAFindingThatCallsForIt) {
  EXPECT_EQ(next_of(clean_pipe()), "nothing");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAB", "A")})), "watch");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BBA", "B", 10)})), "clean again");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAG", "", 20)})), "spot repair");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAB", "C", 6)})), "do not jet");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BAC", "B", 40)})), "refer");
  EXPECT_EQ(next_of(clean_pipe({noted(3, "BBE", "G", 10)})), "gas");
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
    EXPECT_GE(action_of(advised(record).next, Meanings::shipped()), wanted);
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
  coding::Record broken_off = clean_pipe();
  broken_off.observations.back() = noted(9, "BDC", "A");
  coding::number_observations(broken_off);
  EXPECT_THAT(steps_of(broken_off).front().text,
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
  EXPECT_EQ(gas.front().heading, "Call the gas company now");
  EXPECT_TRUE(std::any_of(gas.begin(), gas.end(), [](const OwnerStep& step) {
    return step.heading == "Have the rest of the pipe inspected";
  }));
}

TEST(Steps, DeepWaterIsAFindingAndShallowWaterAPart) {
  EXPECT_EQ(advised(clean_pipe({noted(3, "BDD", "A", 19)})).finding_count, 0U);
  EXPECT_EQ(advised(clean_pipe({noted(3, "BDD", "A", 20)})).finding_count, 1U);
}

TEST(Steps, ListsOfNumbersAreShort) {
  EXPECT_EQ(number_list({3, 1, 2, 7}), "1 to 3, 7");
  EXPECT_EQ(number_list({1, 2}), "1, 2");
  EXPECT_EQ(number_list({}), "");
}

}  // namespace
}  // namespace haunch::report
