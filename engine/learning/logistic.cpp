// SPDX-License-Identifier: Apache-2.0
#include "learning/logistic.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace haunch::learning {
namespace {

// Averages over a normal by the trapezoid rule, 0.3 deviations apart out to 6: for smooth functions as good
// as Gauss-Hermite of the same order, and with no table.
constexpr int points = 41;
constexpr double apart = 0.3;

struct Grid {
  std::array<double, points> z{}, log_weight{}, weight{};
  Grid() {
    double sum = 0;
    for (int i = 0; i < points; ++i) {
      z[i] = (i - points / 2) * apart;
      log_weight[i] = -z[i] * z[i] / 2;
      sum += std::exp(log_weight[i]);
    }
    for (int i = 0; i < points; ++i) weight[i] = std::exp(log_weight[i]) / sum;
  }
};
const Grid& grid() {
  static const Grid made;
  return made;
}

double logistic(double x) { return x >= 0 ? 1 / (1 + std::exp(-x)) : 1 - 1 / (1 + std::exp(x)); }
/// log(1 / (1 + exp(-x))), for any x.
double log_logistic(double x) { return x >= 0 ? -std::log1p(std::exp(-x)) : x - std::log1p(std::exp(x)); }

double log_chance(double x, double guess) { return guess > 0 ? std::log(chance(x, guess)) : log_logistic(x); }

}  // namespace

double chance(double ability_less_difficulty, double guess) {
  return guess + (1 - guess) * logistic(ability_less_difficulty);
}

double mean_chance(const Gaussian& ability_less_difficulty, double guess) {
  const double sd = std::sqrt(ability_less_difficulty.variance);
  double sum = 0;
  for (int i = 0; i < points; ++i)
    sum += grid().weight[i] * logistic(ability_less_difficulty.mean + sd * grid().z[i]);
  return guess + (1 - guess) * sum;
}

Gaussian after_answer(const Gaussian& before, double credit, double guess) {
  const double sd = std::sqrt(before.variance);
  std::array<double, points> log_share{};
  double most = -HUGE_VAL;
  for (int i = 0; i < points; ++i) {
    const double x = before.mean + sd * grid().z[i];
    log_share[i] = grid().log_weight[i];
    if (credit > 0) log_share[i] += credit * log_chance(x, guess);
    if (credit < 1) log_share[i] += (1 - credit) * log_logistic(-x);  // log(1 - guess) is the same for all
    most = std::max(most, log_share[i]);
  }
  double sum = 0;
  double first = 0;
  double second = 0;
  for (int i = 0; i < points; ++i) {
    const double share = std::exp(log_share[i] - most);
    sum += share;
    first += share * grid().z[i];
    second += share * grid().z[i] * grid().z[i];
  }
  const double shift = first / sum;
  const double variance = before.variance * (second / sum - shift * shift);
  return {before.mean + sd * shift, std::clamp(variance, 1e-3 * before.variance, before.variance)};
}

}  // namespace haunch::learning
