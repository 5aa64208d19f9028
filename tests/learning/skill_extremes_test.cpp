// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "base/random.hpp"
#include "learning/helpers.hpp"
#include "learning/skill.hpp"

namespace haunch::learning {
namespace {

using namespace testing_help;

Evidence named(const std::string& code, double at_days, double credit) {
  return answer_of(Skill::named, code, at_days, credit);
}

TEST(SkillModel, RefusesWhatItCannotReckonWith) {
  const Model& model = shipped_model();
  const Belief fresh = fresh_belief(model, Skill::named);
  const double nan = std::nan("");
  const double infinite = std::numeric_limits<double>::infinity();
  std::vector<Evidence> bad(9, named("BAB", 1, 1));
  bad[0].credit = nan;
  bad[1].credit = 1.5;
  bad[2].guess = 1;
  bad[3].guess = -0.1;
  bad[4].difficulty = infinite;
  bad[5].at_days = nan;
  bad[6].code = "XYZ";
  bad[7].skill = Skill::found;
  bad[8].latency_s = nan;
  for (const Evidence& evidence : bad) {
    Belief belief = fresh;
    EXPECT_FALSE(take_in(belief, model, evidence));
    EXPECT_EQ(belief, fresh);
  }
}

TEST(SkillModel, ExtremeNumbersStayNumbers) {
  base::Random random(2);
  const Model& model = shipped_model();
  Belief belief = fresh_belief(model, Skill::named);
  for (int i = 0; i < 500; ++i) {
    const double huge[] = {-1e300, -30, 0, 30, 1e300};
    Evidence evidence =
        named(model.codes[random.below(43)], std::pow(10.0, random.below(12)), random.below(2));
    evidence.difficulty = huge[random.below(5)];
    evidence.guess = random.below(2) == 0 ? 0 : 0.999;
    take_in(belief, model, evidence);
    for (const double when : {-1e300, 0.0, 1e300}) {
      const Estimate got = estimate(belief, model, evidence.code, when, evidence.difficulty, evidence.guess);
      for (const double value : {got.mean, got.sd, got.ability.low, got.ability.high, got.expected,
                                 got.success.low, got.success.high})
        ASSERT_TRUE(std::isfinite(value)) << i;
      ASSERT_GE(got.sd, 0);
    }
  }
}

}  // namespace
}  // namespace haunch::learning
