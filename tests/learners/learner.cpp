// SPDX-License-Identifier: Apache-2.0
#include "learners/learner.hpp"

#include <algorithm>
#include <cmath>

namespace haunch::learners {
namespace {

constexpr double found_unknown = 0.7;
constexpr double usual_latency_s = 6;

}  // namespace

double logistic(double x) { return 1 / (1 + std::exp(-x)); }
double logit(double share) { return std::log(share / (1 - share)); }

Chances chances_of(double both) {
  const double found = both + (1 - both) * found_unknown;
  return {found, both / found};
}

Answer Learner::answer(const Picture& picture) {
  const Chances can = chances(picture);
  Answer answer;
  answer.found = random_.uniform() < can.found;
  answer.named = answer.found && random_.uniform() < can.named;
  // Codes are neighbours two by two; who is wrong says the neighbour (ours).
  answer.said = answer.named ? picture.code : picture.code ^ 1U;
  // Slower when less sure, and never twice the same (ours).
  answer.latency_s = usual_latency_s * std::exp(0.8 * (1 - can.both()) + 0.3 * random_.normal());
  learn(picture, answer);
  return answer;
}

}  // namespace haunch::learners
