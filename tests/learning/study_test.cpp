// SPDX-License-Identifier: Apache-2.0
// A small part of what haunch-learners does with 200 learners of each kind.
#include <gtest/gtest.h>

#include "campaign.hpp"
#include "learners/tables.hpp"

namespace haunch::learners {
namespace {

const learning::Model& model() { return learning::shipped_model(); }

class StudyOfKind : public testing::TestWithParam<std::size_t> {};

TEST_P(StudyOfKind, OursSavesTrialsAgainstChanceOrder) {
  const Kind& kind = kinds()[GetParam()];
  StudyRules rules;
  rules.most_trials = 3000;  // who has not mastered all by then counts as 3000, in every order
  const int learners = campaign::rounds(4);
  const auto rows =
      table_of(kind, learners, model(), {Order::ours, Order::random_left, Order::random_all}, rules, 2);
  // The aim: a quarter fewer than chance order.
  EXPECT_GE(rows[2].saved.value, 0.25) << kind.name;
  // Against a chance order that knows mastery as ours does there is little left to save; ours may not cost
  // more than a few trials for what it asks again after days.
  EXPECT_GE(rows[1].saved.value, -0.15) << kind.name;
}
// The half-life learners need more trials than an everyday test has; the program has them.
INSTANTIATE_TEST_SUITE_P(Learners, StudyOfKind, testing::Values(0, 1, 3));

TEST(Study, TheSameSeedAndAnyNumberOfThreadsGiveTheSame) {
  StudyRules rules;
  rules.codes = 8;
  const auto one = table_of(kinds()[3], 5, model(), {Order::ours, Order::spaced_left}, rules, 1);
  const auto three = table_of(kinds()[3], 5, model(), {Order::ours, Order::spaced_left}, rules, 3);
  for (std::size_t i = 0; i < one.size(); ++i) {
    EXPECT_EQ(one[i].trials.value, three[i].trials.value);
    EXPECT_EQ(one[i].retention.value, three[i].retention.value);
    EXPECT_EQ(one[i].trials.interval, three[i].trials.interval);
  }
}

TEST(Study, EveryOrderStopsWhenAllIsMastered) {
  StudyRules rules;
  rules.codes = 6;
  for (const Order order : all_orders) {
    const Outcome got = study(kinds()[3], order, 3, model(), rules);
    EXPECT_TRUE(got.reached) << show(order);
    EXPECT_GE(got.trials, 6 * model().mastery.least_trials) << show(order);
    EXPECT_GE(got.days, model().mastery.least_days) << show(order);
    EXPECT_GT(got.retention, 0.5) << show(order);
  }
}

// Simulated people learn and forget, or nothing could be read from the study.
TEST(Study, LearnersLearnAndForget) {
  for (const Kind& kind : kinds()) {
    double before = 0;
    double after = 0;
    double later = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
      const auto learner = kind.make(40, seed);
      before += learner->chances({0, 0, 0}).both();
      for (int i = 0; i < 40; ++i) learner->answer({0, 0, i / 4 + 0.001 * i});
      after += learner->chances({0, 0, 9.5}).both();
      later += learner->chances({0, 0, 300}).both();
    }
    EXPECT_GT(after, before + 4) << kind.name;
    EXPECT_LT(later, after - 1) << kind.name;
    const auto learner = kind.make(40, 5);
    for (int i = 0; i < 5; ++i) learner->answer({0, 0, 0.01 * i});
    EXPECT_GE(learner->chances({0, -1, 1}).both(), learner->chances({0, 1, 1}).both()) << kind.name;
  }
}

}  // namespace
}  // namespace haunch::learners
