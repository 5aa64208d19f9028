// SPDX-License-Identifier: Apache-2.0
// All that is kept of one person's learning: a belief for each skill, and what they were shown.
#pragma once

#include <array>

#include "learning/history.hpp"
#include "learning/model.hpp"
#include "learning/skill.hpp"

namespace haunch::learning {

struct Person {
  std::array<Belief, all_skills.size()> beliefs;  ///< by Skill
  History history;
  const Belief& belief(Skill skill) const { return beliefs[static_cast<std::size_t>(skill)]; }
  bool operator==(const Person&) const = default;
};

Person fresh_person(const Model& model);
/// Takes one answer in, oldest first. False where it could not be used (see skill.hpp).
bool learn(Person& person, const Model& model, const Evidence& evidence);

}  // namespace haunch::learning
