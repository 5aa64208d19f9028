// SPDX-License-Identifier: Apache-2.0
#include "learning/elo.hpp"

#include "learning/logistic.hpp"

namespace haunch::learning {

double step(const Steps& steps, int answers) { return steps.first / (1 + steps.slower * answers); }

void meet(EloSide& person, EloSide& item, double credit, double guess, bool first_exposure,
          const EloRules& rules) {
  const double surprise = credit - chance(person.value - item.value, guess);
  if (first_exposure && person.answers > rules.unsettled_answers) {
    item.value -= step(rules.item, item.answers) * surprise;
    ++item.answers;
  }
  person.value += step(rules.person, person.answers) * surprise;
  ++person.answers;
}

}  // namespace haunch::learning
