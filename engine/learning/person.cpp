// SPDX-License-Identifier: Apache-2.0
#include "learning/person.hpp"

#include "learning/mastery.hpp"

namespace haunch::learning {

Person fresh_person(const Model& model) {
  Person person;
  for (const Skill skill : all_skills)
    person.beliefs[static_cast<std::size_t>(skill)] = fresh_belief(model, skill);
  return person;
}

bool learn(Person& person, const Model& model, const Evidence& evidence) {
  if (!take_in(person.beliefs[static_cast<std::size_t>(evidence.skill)], model, evidence)) return false;
  CodeHistory* const code = take_in(person.history, evidence);
  if (code != nullptr && says_something(code->trials.back()))
    judge(*code, evidence.code, model.mastery, own_latency_s(person.history));
  return true;
}

}  // namespace haunch::learning
