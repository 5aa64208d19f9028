// SPDX-License-Identifier: Apache-2.0
#include "learning/elo.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "check_values.hpp"
#include "learning/logistic.hpp"

namespace haunch::learning {
namespace {

EloRules from_the_first() {
  EloRules rules;
  rules.unsettled_answers = -1;
  return rules;
}

// Pelanek (2016), his formulas with a = 1 and b = 0.05 (constants from memory), worked out elsewhere.
TEST(Elo, FourAnswers) {
  EloSide person;
  EloSide item;
  const double expected[] = {0.5, 0.756134687, 0.0112280648, 0.4411291113};
  const int credit[] = {1, 1, 0, 1};
  for (int i = 0; i < 4; ++i) {
    meet(person, item, credit[i], 0, true, from_the_first());
    EXPECT_NEAR(person.value, expected[i], 1e-9);
    EXPECT_NEAR(item.value, -person.value, 1e-12) << "both sides move alike";
  }
}

TEST(Elo, FourAnswersAsKept) {
  NEEDS_CHECK(check, "elo-four-steps");
  EloSide person;
  EloSide item;
  const auto& responses = (*check)["inputs"]["responses"];
  for (std::size_t i = 0; i < responses.size(); ++i) {
    meet(person, item, responses[i].get<double>(), 0, true, from_the_first());
    EXPECT_NEAR(person.value, (*check)["recomputed"]["theta"][i].get<double>(), 1e-9);
  }
}

TEST(Elo, ItemsLearnOnlyFromSettledPeopleAtFirstSight) {
  EloSide person;
  EloSide item;
  for (int i = 0; i < 21; ++i) meet(person, item, 1, 0, true);
  EXPECT_EQ(item, EloSide{}) << "the first 21 answers of a person say nothing of an item";
  meet(person, item, 1, 0, false);
  EXPECT_EQ(item, EloSide{}) << "nor does a picture seen before";
  meet(person, item, 1, 0, true);
  EXPECT_LT(item.value, 0);
  EXPECT_EQ(item.answers, 1);
}

// Difficulties come back that people were simulated with: 30 items from -2 to 2, 400 people, some guess.
TEST(Elo, FindsTheDifficultiesOfItems) {
  base::Random random(17);
  std::vector<EloSide> items(30);
  const auto difficulty = [](std::size_t i) { return -2 + 4 * static_cast<double>(i) / 29; };
  for (int p = 0; p < 400; ++p) {
    const double ability = random.normal();
    EloSide person;
    for (int n = 0; n < 60; ++n) {
      const std::size_t i = random.below(30);
      const double guess = n % 2 == 0 ? 0.25 : 0;
      const bool right = random.uniform() < chance(ability - difficulty(i), guess);
      meet(person, items[i], right ? 1 : 0, guess, true);
    }
  }
  double squares = 0;
  for (std::size_t i = 0; i < items.size(); ++i) squares += std::pow(items[i].value - difficulty(i), 2);
  EXPECT_LT(std::sqrt(squares / 30), 0.3);
}

}  // namespace
}  // namespace haunch::learning
