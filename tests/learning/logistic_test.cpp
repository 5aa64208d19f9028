// SPDX-License-Identifier: Apache-2.0
#include "learning/logistic.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "check_values.hpp"

namespace haunch::learning {
namespace {

// Rasch's logistic, worked out by hand: 1 / (1 + e^-0.7) = 0.668188, and with one of four to guess from.
TEST(Logistic, ChanceWithAndWithoutGuessing) {
  EXPECT_NEAR(chance(0.7, 0), 0.6681877722, 1e-9);
  EXPECT_NEAR(chance(0.7, 1.0 / 4), 0.7511408291, 1e-9);
  EXPECT_EQ(chance(0, 0), 0.5);
  EXPECT_NEAR(chance(-1000, 0.2), 0.2, 1e-12);
  EXPECT_EQ(chance(1000, 0.2), 1);
}

TEST(Logistic, ChanceAsKept) {
  NEEDS_CHECK(check, "rasch-guess");
  const auto& choices = (*check)["inputs"]["choices"];
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const double guess = choices[i].is_null() ? 0 : 1 / choices[i].get<double>();
    EXPECT_NEAR(chance((*check)["inputs"]["theta_minus_d"].get<double>(), guess),
                (*check)["recomputed"]["p"][i].get<double>(), 1e-9);
  }
}

/// The same moments by a fine sum over the range, which shares no code with what is tested.
struct Fine {
  double mass = 0, mean = 0, variance = 0;
  Fine(const Gaussian& before, double credit, double guess) {
    const double sd = std::sqrt(before.variance);
    const int steps = 40000;
    double first = 0;
    double second = 0;
    double all = 0;
    for (int i = 0; i <= steps; ++i) {
      const double x = before.mean + sd * (-9 + 18.0 * i / steps);
      const double density = std::exp(-(x - before.mean) * (x - before.mean) / (2 * before.variance)) /
                             std::sqrt(2 * std::numbers::pi * before.variance) * 18.0 * sd / steps;
      const double p = guess + (1 - guess) / (1 + std::exp(-x));
      const double weight = density * std::pow(p, credit) * std::pow(1 - p, 1 - credit);
      mass += density * p;
      all += weight;
      first += weight * x;
      second += weight * x * x;
    }
    mean = first / all;
    variance = second / all - mean * mean;
  }
};

TEST(Logistic, MomentsAgreeWithAFineSum) {
  for (const double mean : {-3.0, -0.5, 0.0, 2.0, 5.0})
    for (const double variance : {0.01, 0.5, 3.0})
      for (const double credit : {0.0, 0.3, 1.0})
        for (const double guess : {0.0, 0.25}) {
          const Gaussian before{mean, variance};
          const Fine fine(before, credit, guess);
          const Gaussian after = after_answer(before, credit, guess);
          EXPECT_NEAR(mean_chance(before, guess), fine.mass, 1e-6);
          EXPECT_NEAR(after.mean, fine.mean, 1e-6);
          EXPECT_NEAR(after.variance, std::min(fine.variance, variance), 1e-6);
        }
}

TEST(Logistic, RightRaisesAndWrongLowersWhateverTheNumbers) {
  for (const double mean : {-1e6, -40.0, -1.0, 0.0, 1.0, 40.0, 1e6})
    for (const double variance : {1e-9, 1.0, 100.0})
      for (const double guess : {0.0, 0.5, 0.999}) {
        const Gaussian right = after_answer({mean, variance}, 1, guess);
        const Gaussian wrong = after_answer({mean, variance}, 0, guess);
        EXPECT_GE(right.mean, mean - 1e-9 * std::abs(mean));
        EXPECT_LE(wrong.mean, mean + 1e-9 * std::abs(mean));
        for (const Gaussian& got : {right, wrong}) {
          EXPECT_TRUE(std::isfinite(got.mean));
          EXPECT_GT(got.variance, 0);
          EXPECT_LE(got.variance, variance);
        }
      }
}

}  // namespace
}  // namespace haunch::learning
