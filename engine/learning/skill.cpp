// SPDX-License-Identifier: Apache-2.0
#include "learning/skill.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "learning/logistic.hpp"

namespace haunch::learning {
namespace {

constexpr double sds_of_95 = 1.959963984540054;
/// Beyond this an answer says nothing that a milder one would not say.
constexpr double most_difficulty = 20;

/// Where the terms of a skill stand in a belief.
struct Terms {
  bool by_code = false;
  std::size_t families = 0, codes = 1;
  Terms(const Model& model, Skill skill) : by_code(for_each_code(skill)) {
    if (!by_code) return;
    families = model.families.size();
    codes = model.codes.size();
  }
  std::size_t all() const { return 1 + families + codes; }
  std::size_t code(std::size_t place) const { return 1 + families + place; }
};

/// The terms that an ability is the sum of.
struct Sum {
  std::array<std::size_t, 3> at{};
  std::size_t count = 0;
  void add(std::size_t term) { at[count++] = term; }
};

std::size_t place_in(const Model& model, const Terms& terms, const std::string& code) {
  if (terms.by_code) return model.place_of(code);
  return code.empty() ? 0 : Model::none;
}

Sum sum_for(const Model& model, const Terms& terms, std::size_t place) {
  Sum sum;
  sum.add(0);
  if (terms.by_code) sum.add(1 + model.family_of[place]);
  sum.add(terms.code(place));
  return sum;
}

double& at(Belief& belief, std::size_t row, std::size_t column) {
  return belief.covariance[row * belief.mean.size() + column];
}

/// Every code's own term drifts back, and becomes as uncertain as it once was.
void pass_time(Belief& belief, const Model& model, const Terms& terms, double at_days) {
  const double days = belief.at_days ? at_days - *belief.at_days : 0;
  if (!belief.at_days || days > 0) belief.at_days = at_days;
  if (days <= 0) return;
  const std::size_t all = belief.mean.size();
  std::vector<double> left(all, 1.0);
  for (std::size_t i = 0; i < terms.codes; ++i) left[terms.code(i)] = kept(belief.memory[i], days);
  for (std::size_t row = 0; row < all; ++row) {
    belief.mean[row] *= left[row];
    for (std::size_t column = 0; column < all; ++column) at(belief, row, column) *= left[row] * left[column];
    at(belief, row, row) += model.prior.code_sd * model.prior.code_sd * (1 - left[row] * left[row]);
  }
}

/// Moves the belief so that the ability asked for has the mean and variance the answer gives it.
void weigh(Belief& belief, const Sum& sum, const Evidence& evidence) {
  const std::size_t all = belief.mean.size();
  std::vector<double> with(all, 0.0);  // covariance of each term with the ability
  Gaussian ability;
  for (std::size_t i = 0; i < sum.count; ++i) {
    ability.mean += belief.mean[sum.at[i]];
    for (std::size_t row = 0; row < all; ++row) with[row] += at(belief, row, sum.at[i]);
  }
  for (std::size_t i = 0; i < sum.count; ++i) ability.variance += with[sum.at[i]];
  if (ability.variance <= 0) return;
  const double difficulty = std::clamp(evidence.difficulty, -most_difficulty, most_difficulty);
  const Gaussian after =
      after_answer({ability.mean - difficulty, ability.variance}, evidence.credit, evidence.guess);
  const double moved = (after.mean + difficulty - ability.mean) / ability.variance;
  const double less = (ability.variance - after.variance) / (ability.variance * ability.variance);
  for (std::size_t row = 0; row < all; ++row) {
    belief.mean[row] += with[row] * moved;
    for (std::size_t column = 0; column < all; ++column)
      at(belief, row, column) -= less * with[row] * with[column];
  }
}

}  // namespace

void remember(CodeMemory& memory, const MemoryRules& rules, bool right, double at_days) {
  const double day = std::floor(at_days);
  double times = right ? 1 : rules.times_when_wrong;
  if (right && memory.last_day && day > *memory.last_day) times = rules.times_when_right;
  memory.half_life_days = std::clamp(memory.half_life_days * times, rules.shortest_days, rules.longest_days);
  memory.last_day = std::max(day, memory.last_day.value_or(day));
}

double kept(const CodeMemory& memory, double days) {
  return days > 0 ? std::exp2(-days / memory.half_life_days) : 1;
}

Belief fresh_belief(const Model& model, Skill skill) {
  const Terms terms(model, skill);
  Belief belief;
  belief.skill = skill;
  belief.mean.assign(terms.all(), 0.0);
  belief.mean[0] = model.prior.mean[static_cast<std::size_t>(skill)];
  belief.covariance.assign(terms.all() * terms.all(), 0.0);
  belief.memory.assign(terms.codes, {model.memory.half_life_days, {}});
  const auto spread = [&](std::size_t term, double sd) { at(belief, term, term) = sd * sd; };
  spread(0, model.prior.global_sd);
  for (std::size_t i = 0; i < terms.families; ++i) spread(1 + i, model.prior.family_sd);
  for (std::size_t i = 0; i < terms.codes; ++i) spread(terms.code(i), model.prior.code_sd);
  return belief;
}

bool take_in(Belief& belief, const Model& model, const Evidence& evidence) {
  const Terms terms(model, belief.skill);
  const std::size_t place = place_in(model, terms, evidence.code);
  if (!usable(evidence) || evidence.skill != belief.skill || place == Model::none) return false;
  pass_time(belief, model, terms, evidence.at_days);
  weigh(belief, sum_for(model, terms, place), evidence);
  const std::size_t own = terms.code(place);
  const PracticeRules& practice = model.practice;
  belief.mean[own] += practice.gain;
  at(belief, own, own) += practice.gain_sd * practice.gain_sd;
  at(belief, 0, 0) += practice.drift_sd * practice.drift_sd;
  remember(belief.memory[place], model.memory, is_right(evidence), *belief.at_days);
  return true;
}

Estimate estimate(const Belief& belief, const Model& model, const std::string& code, double at_days,
                  double difficulty, double guess) {
  const Terms terms(model, belief.skill);
  const std::size_t place = place_in(model, terms, code);
  const auto covariance = [&](std::size_t a, std::size_t b) {
    return belief.covariance[a * belief.mean.size() + b];
  };
  const double own_variance = model.prior.code_sd * model.prior.code_sd;
  Gaussian ability{belief.mean[0], covariance(0, 0)};
  if (place == Model::none) {
    ability.variance += own_variance + (terms.by_code ? model.prior.family_sd * model.prior.family_sd : 0.0);
  } else {
    // Only three terms matter, so that no whole belief need be carried forward.
    const double days = belief.at_days ? at_days - *belief.at_days : 0;
    const double left = std::isfinite(days) ? kept(belief.memory[place], days) : 1;
    const Sum sum = sum_for(model, terms, place);
    ability = {0, own_variance * (1 - left * left)};
    for (std::size_t i = 0; i < sum.count; ++i) {
      const double of_i = i + 1 == sum.count ? left : 1;
      ability.mean += of_i * belief.mean[sum.at[i]];
      for (std::size_t k = 0; k < sum.count; ++k)
        ability.variance += of_i * (k + 1 == sum.count ? left : 1) * covariance(sum.at[i], sum.at[k]);
    }
  }
  Estimate result;
  result.mean = ability.mean;
  result.sd = std::sqrt(std::max(0.0, ability.variance));
  const double half = sds_of_95 * result.sd;
  result.ability = {ability.mean - half, ability.mean + half};
  result.expected = mean_chance({ability.mean - difficulty, result.sd * result.sd}, guess);
  result.success = {chance(result.ability.low - difficulty, guess),
                    chance(result.ability.high - difficulty, guess)};
  return result;
}

}  // namespace haunch::learning
