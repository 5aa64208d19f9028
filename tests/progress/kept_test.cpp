// SPDX-License-Identifier: Apache-2.0
// What kept answers and attempts say of a person.
#include "learning/kept.hpp"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <time.h>

#include <cmath>

#include "progress/sample.hpp"

namespace haunch::learning {
namespace {

using progress::test::driven;
using progress::test::named;

const Evidence* of(const std::vector<Evidence>& all, Skill skill, const std::string& code) {
  for (const Evidence& one : all)
    if (one.skill == skill && one.code == code) return &one;
  return nullptr;
}

TEST(Kept, ADayBeginsAtMidnightHere) {
  ::setenv("TZ", "XXX-2", 1);  // two hours ahead of UTC
  ::tzset();
  const auto before = days_of("2026-03-01T21:59:59Z"), after = days_of("2026-03-01T22:00:00Z");
  ::setenv("TZ", "UTC", 1);
  ::tzset();
  ASSERT_TRUE(before && after);
  EXPECT_NE(std::floor(*before), std::floor(*after));
  EXPECT_EQ(date_of(*before), "2026-03-01");
  EXPECT_EQ(date_of(*after), "2026-03-02");
  // 1 March 2026 is day 20513 of the count that POSIX keeps (date -u -d 2026-03-01 +%s is 1772323200).
  EXPECT_DOUBLE_EQ(*days_of("2026-03-01T00:00:00Z"), 1772323200.0 / 86400);
  for (const char* wrong : {"", "2026-03-01", "yesterday", "2026-03-01T00:00:00+02:00"})
    EXPECT_FALSE(days_of(wrong)) << wrong;
}

TEST(Kept, AnAnswerIsEvidenceOfItsSkill) {
  const auto all = evidence_of(named(2, 5, "BAB", "BAC A"), shipped_model());
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].skill, Skill::named);
  EXPECT_EQ(all[0].code, "BAB");
  EXPECT_EQ(all[0].credit, 0);
  EXPECT_EQ(all[0].answered_code, "BAC");
  EXPECT_EQ(all[0].guess, 0.2);
  EXPECT_EQ(all[0].difficulty, 0) << "nobody measured the picture";
  auto hard = named(2, 5, "BAB", "BAB");
  hard.share = 0.001;
  EXPECT_GT(evidence_of(hard, shipped_model())[0].difficulty, 0);
  auto odd = named(2, 5, "BAB", "BAB");
  odd.skill = "juggling";
  EXPECT_TRUE(evidence_of(odd, shipped_model()).empty()) << "from a later program perhaps";
}

TEST(Kept, CleanOrNotIsAskedOfTheCodeAsWellWhereThereIsOne) {
  auto answer = named(2, 5, "BBA", "clean");
  answer.skill = "clean";
  answer.credit = 0;
  auto all = evidence_of(answer, shipped_model());
  ASSERT_EQ(all.size(), 2U);
  EXPECT_TRUE(of(all, Skill::clean, ""));
  ASSERT_TRUE(of(all, Skill::found, "BBA"));
  answer.code.clear();
  EXPECT_EQ(evidence_of(answer, shipped_model()).size(), 1U);
}

TEST(Kept, ARunSaysWhatWasFoundNamedAndSized) {
  const auto all = evidence_of(driven("2026-03-02T09:00:00Z"), true);
  ASSERT_EQ(all.size(), 6U);
  EXPECT_EQ(of(all, Skill::found, "BAB")->credit, 1);
  EXPECT_EQ(of(all, Skill::named, "BAB")->credit, 1) << "letters are finer than the code";
  EXPECT_DOUBLE_EQ(of(all, Skill::sized, "BAB")->credit, 0.4);
  EXPECT_EQ(of(all, Skill::named, "BAG")->credit, 0);
  EXPECT_EQ(of(all, Skill::named, "BAG")->answered_code, "BCA");
  EXPECT_FALSE(of(all, Skill::sized, "BAG")) << "it was not asked";
  EXPECT_EQ(of(all, Skill::found, "BBA")->credit, 0);
  EXPECT_TRUE(evidence_of(driven("2026-03-02T09:00:00Z", "guided"), true).empty()) << "it was told";
  auto broken = driven("2026-03-02T09:00:00Z");
  broken.marking_json = "{";
  EXPECT_TRUE(evidence_of(broken, true).empty());
}

TEST(Kept, InTheOrderOfTimeAndOnlyTheFirstSightIsAFirst) {
  const auto all =
      evidence_of({named(3, 0, "BAB", "BAB")},
                  {driven("2026-03-02T09:00:00Z"), driven("2026-03-04T09:00:00Z")}, shipped_model());
  for (std::size_t i = 1; i < all.size(); ++i) EXPECT_LE(all[i - 1].at_days, all[i].at_days);
  EXPECT_TRUE(all.front().first_exposure);
  EXPECT_FALSE(all.back().first_exposure) << "the run was known";
  const Person person = person_of(all, shipped_model());
  EXPECT_EQ(of_code(person.history, "BAB")->trials.size(), 3U);
}

}  // namespace
}  // namespace haunch::learning
