// SPDX-License-Identifier: Apache-2.0
#include "statistics/detection.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace haunch::statistics {
namespace {

// A teaching table of three observers (Schneider, Short notes on the theory of signal detection).
TEST(Detection, ThreeObservers) {
  const double rates[3][2] = {{0.70, 0.10}, {0.50, 0.40}, {0.85, 0.05}};
  const double d_prime[3] = {1.806, 0.253, 2.681};
  const double beta[3] = {1.981, 1.033, 2.261};
  for (int i = 0; i < 3; ++i) {
    const Sensitivity got = sensitivity(rates[i][0], rates[i][1]);
    EXPECT_NEAR(got.d_prime, d_prime[i], 6e-4);
    EXPECT_NEAR(std::exp(got.ln_beta), beta[i], 6e-4);
  }
}

// Stanislaw & Todorov, Behav. Res. Methods 31 (1999) 137, worked example (from memory).
TEST(Detection, CriterionOfOneWhoCallsReadily) {
  const Sensitivity got = sensitivity(0.8, 0.4);
  EXPECT_NEAR(got.d_prime, 1.095, 5e-4);
  EXPECT_NEAR(got.criterion, -0.294, 5e-4);
}

TEST(Detection, FullAndEmptyCellsStayFinite) {
  const Sensitivity all = sensitivity(20, 20, 0, 30);
  EXPECT_TRUE(std::isfinite(all.d_prime));
  EXPECT_GT(all.d_prime, sensitivity(19, 20, 1, 30).d_prime);
  EXPECT_NEAR(sensitivity(0, 0, 0, 0).d_prime, 0, 1e-12);
  // Nobody who calls alike whether it is there or not tells it apart.
  EXPECT_NEAR(sensitivity(7, 20, 7, 20).d_prime, 0, 1e-12);
}

TEST(Detection, PrecisionRecallAndF) {
  const Retrieval counts{8, 2, 4};
  EXPECT_DOUBLE_EQ(*precision(counts), 0.8);
  EXPECT_DOUBLE_EQ(*recall(counts), 8.0 / 12);
  const double p = *precision(counts);
  const double r = *recall(counts);
  EXPECT_NEAR(*f_measure(counts), 2 * p * r / (p + r), 1e-15);
  EXPECT_NEAR(*f_measure(counts, 2), 5 * p * r / (4 * p + r), 1e-15);
  EXPECT_FALSE(precision({0, 0, 3}));
  EXPECT_FALSE(recall({0, 3, 0}));
  EXPECT_FALSE(f_measure({}));
  EXPECT_EQ(*f_measure({0, 1, 1}), 0);
}

// Mesaros, Heittola & Virtanen, Appl. Sci. 6 (2016) 162: two of two marks right, three events.
TEST(Detection, FOfSoundEvents) { EXPECT_NEAR(*f_measure({2, 0, 1}), 0.8, 1e-12); }

}  // namespace
}  // namespace haunch::statistics
