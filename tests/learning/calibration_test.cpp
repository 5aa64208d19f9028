// SPDX-License-Identifier: Apache-2.0
// Learners simulated from the world the skill model describes, with its drifting, learning and forgetting:
// its 95 % intervals hold the true ability, and so the true chance, as often as they say.
#include <gtest/gtest.h>

#include "campaign.hpp"
#include "learners/skill_world.hpp"
#include "learning/logistic.hpp"
#include "learning/skill.hpp"

namespace haunch::learning {
namespace {

struct Tally {
  int asked = 0, held = 0, below = 0;
  double surprise = 0;  ///< sum of expected less true chance
  double share() const { return static_cast<double>(held) / asked; }
};

void hold(Tally& tally, const Belief& belief, const learners::SkillWorld& world, const Model& model,
          std::size_t code, double at_days) {
  const Estimate got = estimate(belief, model, model.codes[code], at_days);
  const double truth = chance(world.ability(code), 0);
  ++tally.asked;
  tally.held += got.success.low <= truth && truth <= got.success.high ? 1 : 0;
  tally.below += truth < got.success.low ? 1 : 0;
  tally.surprise += got.expected - truth;
}

/// One learner: sessions of answers, some days apart; held against the truth after each session, and again
/// just before the next.
void follow(std::uint64_t seed, const Model& model, Tally& at_once, Tally& later) {
  base::Random random(seed);
  learners::SkillWorld world(model, Skill::named, random);
  Belief belief = fresh_belief(model, Skill::named);
  // Some are asked many codes, some only a few again and again.
  const std::uint32_t codes = 3 + random.below(static_cast<std::uint32_t>(model.codes.size()) - 3);
  double day = 0;
  for (int session = 0; session < 6; ++session) {
    day += random.uniform(0.5, 12);
    world.wait_until(day);
    for (std::uint32_t code = 0; code < codes; ++code) hold(later, belief, world, model, code, day);
    for (int i = 0; i < 40; ++i) {
      const std::size_t code = random.below(codes);
      Evidence evidence;
      evidence.skill = Skill::named;
      evidence.code = model.codes[code];
      evidence.at_days = day;
      evidence.difficulty = random.uniform(-1.5, 1.5);
      evidence.guess = random.below(2) == 0 ? 0 : 0.25;
      const bool right = random.uniform() < chance(world.ability(code) - evidence.difficulty, evidence.guess);
      evidence.credit = right ? 1 : 0;
      ASSERT_TRUE(take_in(belief, model, evidence));
      world.practise(code, right);
    }
    for (std::uint32_t code = 0; code < codes; ++code) hold(at_once, belief, world, model, code, day);
  }
}

TEST(Calibration, IntervalsHoldWhatIsTrueAsOftenAsTheySay) {
  Tally at_once;
  Tally later;
  const int learners = campaign::rounds(300);
  for (int i = 0; i < learners; ++i)
    follow(static_cast<std::uint64_t>(i) + 1, shipped_model(), at_once, later);
  for (const auto& [name, tally] : {std::pair("after a session", at_once), std::pair("before one", later)}) {
    SCOPED_TRACE(name);
    RecordProperty(name, std::to_string(tally.share()));
    EXPECT_GT(tally.share(), 0.93);
    EXPECT_LT(tally.share(), 0.97);
    // Misses on both sides, and no lasting error of the mean.
    EXPECT_GT(tally.below, 0.01 * tally.asked);
    EXPECT_LT(tally.below, 0.04 * tally.asked);
    EXPECT_NEAR(tally.surprise / tally.asked, 0, 0.01);
  }
}

// The test can fail: a model that is too sure of how people differ does not hold.
TEST(Calibration, AModelThatIsTooSureIsSeen) {
  Model sure = shipped_model();
  sure.prior.global_sd /= 3;
  sure.prior.code_sd /= 2;
  sure.practice.gain_sd = 0;
  Tally tally;
  for (int i = 0; i < 60; ++i) {
    base::Random random(static_cast<std::uint64_t>(i) + 1);
    learners::SkillWorld world(shipped_model(), Skill::named, random);
    Belief belief = fresh_belief(sure, Skill::named);
    for (int n = 0; n < 100; ++n) {
      const std::size_t code = random.below(20);
      Evidence evidence;
      evidence.skill = Skill::named;
      evidence.code = sure.codes[code];
      evidence.credit = random.uniform() < chance(world.ability(code), 0) ? 1 : 0;
      take_in(belief, sure, evidence);
      world.practise(code, evidence.credit > 0.5);
    }
    for (std::size_t code = 0; code < 20; ++code) hold(tally, belief, world, sure, code, 0);
  }
  EXPECT_LT(tally.share(), 0.93);
}

}  // namespace
}  // namespace haunch::learning
