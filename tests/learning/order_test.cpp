// SPDX-License-Identifier: Apache-2.0
#include "learning/order.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "check_values.hpp"
#include "learning/helpers.hpp"

namespace haunch::learning {
namespace {

using namespace testing_help;

const Model& model() { return shipped_model(); }

OrderRules illustrative() {
  OrderRules rules = model().order;
  rules.per_trial_since = 0.1;
  rules.slow_answer = 1;
  rules.usual_latency = 1.7;
  rules.gap = 2;
  rules.error = 20;
  return rules;
}

// The published shape with illustrative numbers, worked out by hand: 0.1 x 5 x ln 2, 0.1 x 1 x 20, and
// nothing within the gap.
TEST(Order, ThePublishedShape) {
  EXPECT_NEAR(priority({7, false, 3.4, 0}, illustrative()), 0.3465735903, 1e-9);
  EXPECT_NEAR(priority({3, true, 3.4, 0}, illustrative()), 2, 1e-12);
  EXPECT_EQ(priority({2, true, 9, 0}, illustrative()), 0);
  EXPECT_EQ(priority({7, false, 0.5, 0}, illustrative()), 0)
      << "quicker than usual is never less than nothing";
  EXPECT_EQ(priority({7, false, {}, 0}, illustrative()), 0);
}

TEST(Order, ThePublishedShapeAsKept) {
  NEEDS_CHECK(check, "arts-formula");
  const auto& cases = (*check)["inputs"]["cases"];
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const Showing showing{cases[i]["N"].get<int>(), cases[i]["error"].get<int>() == 1,
                          cases[i]["RT"].get<double>(), 0};
    EXPECT_NEAR(priority(showing, illustrative()), (*check)["recomputed"]["priority"][i].get<double>(), 1e-9);
  }
}

TEST(Order, PriorityRisesWithErrorLatencyNeedAndTrialsSince) {
  const OrderRules& rules = model().order;
  const Showing plain{10, false, 1.0, 0.3};
  const double at = priority(plain, rules);
  EXPECT_GT(priority({11, false, 1.0, 0.3}, rules), at);
  EXPECT_GT(priority({10, true, 1.0, 0.3}, rules), at);
  EXPECT_GT(priority({10, false, 2.0, 0.3}, rules), at);
  EXPECT_GT(priority({10, false, 1.0, 0.4}, rules), at);
}

/// A person to whom these codes were shown one after the other, right or wrong.
Person shown(const std::vector<std::pair<std::string, bool>>& trials, double at_days = 0) {
  Person person = fresh_person(model());
  for (std::size_t i = 0; i < trials.size(); ++i)
    trial(person, model(), trials[i].first, at_days + 0.0003 * static_cast<double>(i), trials[i].second);
  return person;
}

TEST(Order, AnErrorComesBackBeforeWhatWasRight) {
  const Person person = shown({{"BAB", true}, {"BBA", false}, {"BCA", true}, {"BDD", true}});
  const auto wish = next(person, model(), {.at_days = 0.01, .codes = {"BAB", "BBA", "BCA", "BDD"}});
  ASSERT_TRUE(wish);
  EXPECT_EQ(wish->code, "BBA");
  EXPECT_EQ(wish->why, Why::error);
}

TEST(Order, TheGapIsKeptEvenForErrors) {
  const Person person = shown({{"BAB", true}, {"BCA", true}, {"BBA", false}});
  const auto wish = next(person, model(), {.at_days = 0.01, .codes = {"BAB", "BBA", "BCA"}});
  ASSERT_TRUE(wish);
  EXPECT_EQ(wish->code, "BAB") << "the only one that two others have followed";
  EXPECT_FALSE(next(person, model(), {.at_days = 0.01, .codes = {"BBA", "BCA"}}))
      << "nothing to put between: nothing is shown";
  EXPECT_TRUE(next(person, model(), {.at_days = 1, .codes = {"BBA", "BCA"}})) << "a night is a gap";
}

TEST(Order, SlowRightAnswersComeBeforeQuickOnes) {
  Person person = fresh_person(model());
  const char* codes[] = {"BAB", "BBA", "BCA", "BDD", "BBF", "BAJ"};
  for (int i = 0; i < 6; ++i) trial(person, model(), codes[i], 0.0003 * i, true, "", i == 1 ? 20 : 5);
  const auto wish = next(person, model(), {.at_days = 0.01, .codes = {"BAB", "BBA"}});
  ASSERT_TRUE(wish);
  EXPECT_EQ(wish->code, "BBA") << "though BAB has waited longer";
}

TEST(Order, NewCodesComeAFewAtATime) {
  Person person = fresh_person(model());
  // A person who gets everything wrong is not swamped.
  std::set<std::string> met;
  for (int i = 0; i < 40; ++i) {
    const double now = 0.0003 * i;
    const auto wish = next(person, model(), {.at_days = now});
    ASSERT_TRUE(wish);
    met.insert(wish->code);
    trial(person, model(), wish->code, now, false);
  }
  EXPECT_EQ(static_cast<int>(met.size()), model().order.new_at_once);
}

TEST(Order, ACodeTakenForAnotherFollowsIt) {
  // BBB is easily taken for BBA, by the model; BCA and BDD only by this person.
  std::vector<std::pair<std::string, bool>> trials = {{"BBB", true}, {"BDD", true}, {"BAF", true},
                                                      {"BAJ", true}, {"BBF", true}, {"BBA", true}};
  const auto third = [&](const Person& person) {
    return next(person, model(), {.at_days = 0.01, .codes = {"BBB", "BDD", "BAF", "BAJ", "BBF", "BBA"}});
  };
  ASSERT_TRUE(third(shown(trials)));
  EXPECT_EQ(third(shown(trials))->code, "BBB");
  // Two people alike, but that one took BDD for BAJ.
  const std::vector<std::string> codes = {"BBF", "BDD", "BCA", "BAE", "BAG", "BAJ"};
  const auto second = [&](const std::string& said) {
    Person person = fresh_person(model());
    for (const std::string& code : codes) {
      trial(person, model(), code, -5, false, code == "BDD" ? said : "");
      trial(person, model(), code, -4, true);
    }
    for (std::size_t i = 0; i < codes.size(); ++i)
      trial(person, model(), codes[i], 0.0003 * static_cast<double>(i), true);
    return next(person, model(), {.at_days = 0.01, .codes = codes})->code;
  };
  EXPECT_EQ(second("BAJ"), "BDD");
  EXPECT_NE(second(""), "BDD");
}

Person master_of(const std::vector<std::string>& codes) {
  Person person = fresh_person(model());
  for (int day = 0; day < 3; ++day)
    for (int i = 0; i < 4; ++i)
      for (std::size_t c = 0; c < codes.size(); ++c)
        trial(person, model(), codes[c], day + 0.01 * i + 0.001 * static_cast<double>(c), true);
  return person;
}

TEST(Order, RechecksAreDueSevenAndThirtyDaysAfterMastery) {
  Person person = master_of({"BAB"});
  const double since = *of_code(person.history, "BAB")->mastered_at;
  const auto asked = [&](double days) {
    return next(person, model(), {.at_days = since + days, .codes = {"BAB"}});
  };
  EXPECT_FALSE(asked(6.9));
  ASSERT_TRUE(asked(7.1));
  EXPECT_EQ(asked(7.1)->why, Why::recheck);
  trial(person, model(), "BAB", since + 7.1, true);
  EXPECT_FALSE(asked(8));
  EXPECT_FALSE(asked(29));
  ASSERT_TRUE(asked(31));
  trial(person, model(), "BAB", since + 31, true);
  EXPECT_FALSE(asked(500));
}

TEST(Order, EnoughForToday) {
  Person person = fresh_person(model());
  const std::vector<std::string> codes = {"BAB", "BBA", "BCA", "BDD"};
  for (int i = 0; i < model().order.enough_right_a_day; ++i)
    for (std::size_t c = 0; c < 4; ++c)
      trial(person, model(), codes[c], 0.001 * (4 * i + static_cast<double>(c)), true);
  EXPECT_FALSE(next(person, model(), {.at_days = 0.1, .codes = codes}));
  EXPECT_TRUE(next(person, model(), {.at_days = 1.1, .codes = codes}));
  const auto more = next(person, model(), {.at_days = 0.1, .codes = codes, .keep_going = true});
  ASSERT_TRUE(more);
  EXPECT_EQ(more->why, Why::filler);
}

TEST(Order, DifficultyKeepsSuccessInTheBandWherePicturesAllow) {
  Model wide = model();
  wide.order.easiest = -8;
  wide.order.hardest = 8;
  for (const int right_of_ten : {0, 3, 6, 8, 10}) {
    Person person = fresh_person(wide);
    for (int i = 0; i < 20; ++i) trial(person, wide, "BAB", 0.001 * i, i % 10 < right_of_ten);
    const double difficulty = wished_difficulty(person, wide, "BAB", 0.1, false);
    const double success = expected_success(person, wide, "BAB", 0.1, difficulty);
    EXPECT_GE(success, wide.order.aim_low - 1e-4) << right_of_ten;
    EXPECT_LE(success, wide.order.aim_high + 1e-4) << right_of_ten;
    const double narrow = wished_difficulty(person, model(), "BAB", 0.1, false);
    EXPECT_GE(narrow, model().order.easiest);
    EXPECT_LE(narrow, model().order.hardest);
    EXPECT_GE(wished_difficulty(person, wide, "BAB", 0.1, true), wide.mastery.least_difficulty)
        << "what counts towards mastery is asked for once it is firm";
  }
}

TEST(Order, TheNearestPictureNotSeenBefore) {
  Person person = fresh_person(model());
  Evidence seen = answer_of(Skill::named, "BAB", 0, 1);
  seen.instance = "a";
  learn(person, model(), seen);
  const std::vector<Offer> offers = {
      {"a", "BAB", 0.5}, {"b", "BAB", 1.5}, {"c", "BAB", 0.1}, {"d", "BBA", 0.5}, {"e", "BAB", 0.9}};
  const Wish wish{"BAB", 0.5, 0.8, Why::practice};
  EXPECT_EQ(nearest_offer(offers, wish, person.history)->instance, "c") << "first of two as near";
  EXPECT_FALSE(nearest_offer({{"a", "BAB", 0.5}}, wish, person.history));
  EXPECT_FALSE(nearest_offer({}, wish, person.history));
}

TEST(Order, NothingToGoBy) {
  const Person person = fresh_person(model());
  EXPECT_FALSE(next(person, model(), {.at_days = std::nan("")}));
  EXPECT_FALSE(next(person, model(), {.codes = {"XYZ"}}));
  EXPECT_TRUE(next(person, model(), {}));
}

}  // namespace
}  // namespace haunch::learning
