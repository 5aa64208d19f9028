// SPDX-License-Identifier: Apache-2.0
#include "learners/skill_world.hpp"

#include <cmath>

#include "learners/kinds.hpp"
#include "learning/logistic.hpp"

namespace haunch::learners {

using learning::Model;
using learning::Skill;

SkillWorld::SkillWorld(const Model& model, Skill skill, base::Random& random)
    : model_(model), random_(random) {
  person_ = model.prior.mean[static_cast<std::size_t>(skill)] + model.prior.global_sd * random.normal();
  for (std::size_t i = 0; i < model.families.size(); ++i)
    families_.push_back(model.prior.family_sd * random.normal());
  for (std::size_t i = 0; i < model.codes.size(); ++i)
    codes_.push_back(model.prior.code_sd * random.normal());
  memory_.assign(model.codes.size(), {model.memory.half_life_days, {}});
}

void SkillWorld::wait_until(double at_days) {
  const double days = at_days - at_days_;
  if (days <= 0) return;
  at_days_ = at_days;
  for (std::size_t i = 0; i < codes_.size(); ++i) {
    const double left = learning::kept(memory_[i], days);
    codes_[i] = left * codes_[i] + std::sqrt(1 - left * left) * model_.prior.code_sd * random_.normal();
  }
}

double SkillWorld::ability(std::size_t code) const {
  return person_ + families_[model_.family_of[code]] + codes_[code];
}

double SkillWorld::expected_ability(std::size_t code, double later_days) const {
  return person_ + families_[model_.family_of[code]] +
         learning::kept(memory_[code], later_days) * codes_[code];
}

void SkillWorld::practise(std::size_t code, bool right) {
  codes_[code] += model_.practice.gain + model_.practice.gain_sd * random_.normal();
  person_ += model_.practice.drift_sd * random_.normal();
  learning::remember(memory_[code], model_.memory, right, at_days_);
}

namespace {

class SkillLearner : public Learner {
 public:
  explicit SkillLearner(std::uint64_t seed)
      : Learner(seed),
        found_(learning::shipped_model(), Skill::found, random()),
        named_(learning::shipped_model(), Skill::named, random()) {}
  Chances chances(const Picture& picture) const override {
    const double later = std::max(0.0, picture.at_days - at_days_);
    return {logistic(found_.expected_ability(picture.code, later) - picture.difficulty),
            logistic(named_.expected_ability(picture.code, later) - picture.difficulty)};
  }

 private:
  void learn(const Picture& picture, const Answer& answer) override {
    found_.wait_until(picture.at_days);
    named_.wait_until(picture.at_days);
    at_days_ = picture.at_days;
    found_.practise(picture.code, answer.found);
    if (answer.found) named_.practise(picture.code, answer.named);
  }
  SkillWorld found_, named_;
  double at_days_ = 0;
};

}  // namespace

std::unique_ptr<Learner> make_skill_world(std::size_t, std::uint64_t seed) {
  return std::make_unique<SkillLearner>(seed);
}

}  // namespace haunch::learners
