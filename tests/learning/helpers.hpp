// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "learning/person.hpp"

namespace haunch::learning::testing_help {

inline Evidence answer_of(Skill skill, const std::string& code, double at_days, double credit) {
  Evidence evidence;
  evidence.skill = skill;
  evidence.code = code;
  evidence.at_days = at_days;
  evidence.credit = credit;
  return evidence;
}

/// One picture found, and named rightly or wrongly.
inline void trial(Person& person, const Model& model, const std::string& code, double at_days, bool right,
                  const std::string& said = {}, std::optional<double> latency_s = {}) {
  learn(person, model, answer_of(Skill::found, code, at_days, 1));
  Evidence named = answer_of(Skill::named, code, at_days, right ? 1 : 0);
  named.answered_code = said;
  named.latency_s = latency_s;
  learn(person, model, named);
}

/// The same model where answers teach nothing and nothing of the person changes: what is left is inference.
inline Model still_model() {
  Model model = shipped_model();
  model.practice = {0, 0, 0};
  return model;
}

}  // namespace haunch::learning::testing_help
