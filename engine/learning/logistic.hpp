// SPDX-License-Identifier: Apache-2.0
// The chance of a right answer, and what an answer says of an ability that is known only to lie about a mean.
#pragma once

namespace haunch::learning {

/// Rasch's logistic with a guessing floor: guess + (1 - guess) / (1 + exp(-(ability - difficulty))).
double chance(double ability_less_difficulty, double guess);

struct Gaussian {
  double mean = 0;
  double variance = 0;
  bool operator==(const Gaussian&) const = default;
};

/// The chance, averaged over an ability less difficulty that is normal.
double mean_chance(const Gaussian& ability_less_difficulty, double guess);
/// Mean and variance of the ability less difficulty after an answer of that credit (0 to 1; between them the
/// logarithms of both chances are weighed). Right never lowers the mean, wrong never raises it. The variance
/// is never let grow: a lucky-looking answer would honestly widen it a little.
Gaussian after_answer(const Gaussian& ability_less_difficulty, double credit, double guess);

}  // namespace haunch::learning
