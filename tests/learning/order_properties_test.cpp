// SPDX-License-Identifier: Apache-2.0
// Properties of whole courses of practice, with answers by chance.
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "base/random.hpp"
#include "campaign.hpp"
#include "learning/helpers.hpp"
#include "learning/order.hpp"

namespace haunch::learning {
namespace {

using namespace testing_help;

struct Shown {
  Wish wish;
  int day = 0;
  bool operator==(const Shown&) const = default;
};

/// What was shown over some days to somebody whose answers are right with that chance.
std::vector<Shown> course(std::uint64_t seed, double good, std::size_t codes, int days,
                          const Model& model = shipped_model()) {
  base::Random random(seed);
  Person person = fresh_person(model);
  std::vector<Shown> shown;
  const std::vector<std::string> course_codes(model.codes.begin(),
                                              model.codes.begin() + static_cast<std::ptrdiff_t>(codes));
  for (int day = 0; day < days; ++day) {
    for (int i = 0; i < 40; ++i) {
      const double now = day + 0.0003 * i;
      const auto wish = next(person, model, {.at_days = now, .seed = seed, .codes = course_codes});
      if (!wish) break;
      shown.push_back({*wish, day});
      const bool right = random.uniform() < good;
      trial(person, model, wish->code, now, right, right ? "" : model.codes[random.below(43)],
            random.uniform(2, 12));
    }
  }
  return shown;
}

TEST(OrderProperties, TheGapIsAlwaysKept) {
  const int gap = shipped_model().order.gap;
  base::Random random(31);
  std::size_t checked = 0;
  for (int round = 0; round < campaign::rounds(12); ++round) {
    const auto shown = course(random.next(), random.uniform(), 1 + random.below(43), 12);
    std::map<std::string, std::size_t> last;
    for (std::size_t i = 0; i < shown.size(); ++i) {
      const std::string& code = shown[i].wish.code;
      const auto before = last.find(code);
      if (before != last.end() && shown[before->second].day == shown[i].day) {
        ASSERT_GT(i - before->second, static_cast<std::size_t>(gap)) << code;
        ++checked;
      }
      last[code] = i;
    }
  }
  EXPECT_GT(checked, 1000U);
}

TEST(OrderProperties, TheSameSeedGivesTheSameOrderAndAnotherSeedAnother) {
  EXPECT_EQ(course(5, 0.7, 43, 4), course(5, 0.7, 43, 4));
  const Person person = fresh_person(shipped_model());
  std::set<std::string> first;
  for (std::uint64_t seed = 0; seed < 30; ++seed)
    first.insert(next(person, shipped_model(), {.seed = seed})->code);
  EXPECT_GT(first.size(), 10U);
}

TEST(OrderProperties, WhatIsWrongIsShownMoreOften) {
  const Model& model = shipped_model();
  base::Random random(9);
  Person person = fresh_person(model);
  std::map<bool, int> shown;
  std::map<bool, int> codes;
  for (const std::string& code : model.codes) ++codes[code[1] == 'B'];
  for (int day = 0; day < 10; ++day)
    for (int i = 0; i < 40; ++i) {
      const double now = day + 0.0003 * i;
      const auto wish = next(person, model, {.at_days = now, .seed = 3});
      if (!wish) break;
      const bool hard = wish->code[1] == 'B';  // this person cannot tell what lies in the pipe
      ++shown[hard];
      trial(person, model, wish->code, now, random.uniform() < (hard ? 0.3 : 0.95));
    }
  EXPECT_GT(static_cast<double>(shown[true]) / codes[true],
            1.3 * static_cast<double>(shown[false]) / codes[false]);
}

TEST(OrderProperties, EveryCodeIsMetByWhoGetsThingsRight) {
  std::set<std::string> met;
  for (const Shown& shown : course(2, 0.95, 43, 8)) met.insert(shown.wish.code);
  EXPECT_EQ(met.size(), 43U);
}

TEST(OrderProperties, WishesAreNumbersWithinBounds) {
  base::Random random(13);
  for (int round = 0; round < campaign::rounds(6); ++round)
    for (const auto& [wish, day] : course(random.next(), random.uniform(), 43, 6)) {
      ASSERT_TRUE(std::isfinite(wish.difficulty));
      ASSERT_GE(wish.difficulty, shipped_model().order.easiest);
      ASSERT_LE(wish.difficulty, shipped_model().order.hardest);
      ASSERT_GT(wish.expected, 0);
      ASSERT_LT(wish.expected, 1);
    }
}

}  // namespace
}  // namespace haunch::learning
