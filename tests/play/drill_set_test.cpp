// SPDX-License-Identifier: Apache-2.0
// A set of questions without a screen.
#include "play/drill_set.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "campaign.hpp"
#include "courses/exam.hpp"
#include "drills/made.hpp"
#include "learning/kept.hpp"

namespace haunch::play {
namespace {

using drills::test::made;
constexpr double today = 20500;

DrillSet set_of(DrillPlan plan, learning::Person person = learning::fresh_person(learning::shipped_model())) {
  return DrillSet(std::move(plan), "coder-07", std::move(person), today);
}
/// An answer like the one of a drill, straight into a person.
void teach(learning::Person& person, const std::string& code, bool right, int n) {
  learning::Evidence one;
  one.skill = learning::Skill::named;
  one.code = code;
  one.at_days = today - 3 + 0.01 * n;
  one.credit = right ? 1 : 0;
  one.instance = code + std::to_string(n);
  learning::learn(person, learning::shipped_model(), one);
}

TEST(DrillSet, AsksTheKindsItIsFor) {
  DrillPlan plan{"t", {drills::Kind::clock, drills::Kind::which_of_two}};
  auto set = set_of(plan);
  std::map<drills::Kind, int> kinds;
  std::set<std::uint64_t> seeds;
  for (int i = 0; i < 30; ++i) {
    const auto wanted = set.next();
    ASSERT_TRUE(wanted);
    ++kinds[wanted->kind];
    EXPECT_TRUE(seeds.insert(wanted->seed).second) << "never the same picture twice";
  }
  EXPECT_EQ(kinds.size(), 2U);
  EXPECT_GT(kinds[drills::Kind::clock], 5);
}

TEST(DrillSet, StaysWithinItsCodesAndEndsAfterItsCount) {
  DrillPlan plan{"t", {drills::Kind::name_it}, {"BAB", "BAC"}};
  plan.count = 7;
  plan.seconds = 0;
  auto set = set_of(plan);
  for (int i = 0; i < 7; ++i) {
    const auto wanted = set.next();
    ASSERT_TRUE(wanted);
    EXPECT_TRUE(wanted->code == "BAB" || wanted->code == "BAC") << wanted->code;
  }
  EXPECT_FALSE(set.next());
}

TEST(DrillSet, AsksForWhatWasMissedBeforeWhatIsKnown) {
  auto person = learning::fresh_person(learning::shipped_model());
  for (int i = 0; i < 12; ++i) {
    teach(person, "BBA", true, i);
    teach(person, "BAG", false, i);
  }
  int missed = 0, known = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    DrillPlan plan{"t", {drills::Kind::name_it}, {"BBA", "BAG"}};
    plan.seed = seed;
    auto set = set_of(plan, person);
    const auto wanted = set.next();
    ASSERT_TRUE(wanted);
    (wanted->code == "BAG" ? missed : known) += 1;
  }
  EXPECT_GT(missed, known);
}

TEST(DrillSet, KeepsWhatWasAnsweredAndLearnsFromIt) {
  DrillPlan plan{"t", {drills::Kind::name_it}, {"BAB"}};
  plan.sitting = "s9";
  auto set = set_of(plan);
  const auto item = made(*set.next());
  const auto before = learning::estimate(set.person().belief(learning::Skill::named),
                                         learning::shipped_model(), "BAB", today);
  const auto done = set.answer(item, drills::right_answer(item), 4.5, "2026-03-02T09:40:00Z", "id1");
  EXPECT_EQ(done.verdict.credit, 1);
  const scores::Answer& row = done.row;
  EXPECT_EQ(row.id, "id1");
  EXPECT_EQ(row.trainee, "coder-07");
  EXPECT_EQ(row.kind, "name it");
  EXPECT_EQ(row.skill, "named");
  EXPECT_EQ(row.code, "BAB");
  EXPECT_EQ(row.given, "BAB");
  EXPECT_EQ(row.right, "BAB");
  EXPECT_EQ(row.instance, item.instance);
  EXPECT_EQ(row.seconds, 4.5);
  EXPECT_EQ(row.sitting, "s9");
  EXPECT_DOUBLE_EQ(row.guess, 0.2);
  ASSERT_TRUE(row.share);
  EXPECT_GT(*row.share, 0);
  EXPECT_EQ(set.right(), 1);
  EXPECT_GT(
      learning::estimate(set.person().belief(learning::Skill::named), learning::shipped_model(), "BAB", today)
          .mean,
      before.mean);
  // What is kept says the same of a person as what was learned from it at once.
  const auto again =
      learning::person_of(learning::evidence_of(row, learning::shipped_model()), learning::shipped_model());
  EXPECT_EQ(again.belief(learning::Skill::named).mean, set.person().belief(learning::Skill::named).mean);
}

TEST(DrillSet, OnlyAnsweringTakesTime) {
  DrillPlan plan{"t", {drills::Kind::name_it}};
  plan.seconds = 10;
  auto set = set_of(plan);
  set.spend(9.9);
  EXPECT_FALSE(set.over());
  set.spend(0.2);
  EXPECT_TRUE(set.over());
  EXPECT_EQ(set.seconds_left(), 0);
}

TEST(DrillSet, AFormIsAskedAsItStands) {
  DrillPlan plan{"t", {}};
  plan.seconds = 0;
  plan.form = {{drills::Kind::clean_or_not, "", 0.5, true, 3}, {drills::Kind::name_it, "BBA", 0.5, {}, 4}};
  auto set = set_of(plan);
  EXPECT_EQ(*set.next(), plan.form[0]);
  EXPECT_FALSE(set.over());
  EXPECT_EQ(*set.next(), plan.form[1]);
  EXPECT_FALSE(set.next());
}

TEST(DrillSet, EveryQuestionOfAShippedExamCanBeAsked) {
  // Every day a part of them, with --long all.
  for (const auto& file : courses::shipped_exams()) {
    const auto exam = courses::read_exam(file);
    ASSERT_TRUE(exam);
    const auto form = courses::form_of(exam.value());
    const auto step = static_cast<std::size_t>(campaign::rounds(1) > 1 ? 1 : 6);
    for (std::size_t i = 0; i < form.size(); i += step) {
      const auto kind = drills::kind_from(form[i].kind);
      ASSERT_TRUE(kind) << form[i].kind;
      drills::Wanted wanted{*kind, form[i].code, 0.5, {}, form[i].seed};
      if (*kind == drills::Kind::clean_or_not) wanted.clean = form[i].clean;
      const auto item = made(wanted);
      if (wanted.clean) {
        EXPECT_EQ(item.code.empty(), *wanted.clean);
      }
    }
  }
}

}  // namespace
}  // namespace haunch::play
