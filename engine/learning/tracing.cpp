// SPDX-License-Identifier: Apache-2.0
#include "learning/tracing.hpp"

namespace haunch::learning {

double traced_success(const Tracing& rules, double known) {
  return known * (1 - rules.slip) + (1 - known) * rules.guess;
}

double known_by(const Tracing& rules, double known, bool right) {
  const double if_known = known * (right ? 1 - rules.slip : rules.slip);
  const double if_not = (1 - known) * (right ? rules.guess : 1 - rules.guess);
  // An answer that cannot be under these rules says nothing.
  return if_known + if_not > 0 ? if_known / (if_known + if_not) : known;
}

double known_after(const Tracing& rules, double known, bool right) {
  const double seen = known_by(rules, known, right);
  return seen + (1 - seen) * rules.learn;
}

}  // namespace haunch::learning
