// SPDX-License-Identifier: Apache-2.0
#include "statistics/proportion.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace haunch::statistics {
namespace {

void expect_near(const Interval& got, double low, double high, double tolerance) {
  EXPECT_NEAR(got.low, low, tolerance);
  EXPECT_NEAR(got.high, high, tolerance);
}

// Newcombe, Stat. Med. 17 (1998) 857, table I, method 3.
TEST(Proportion, WilsonAsNewcombePrintsIt) {
  expect_near(wilson(81, 263), 0.2553, 0.3662, 6e-5);
  expect_near(wilson(15, 148), 0.0624, 0.1605, 6e-5);
  expect_near(wilson(0, 20), 0.0000, 0.1611, 6e-5);
  expect_near(wilson(1, 29), 0.0061, 0.1718, 6e-5);
}

// The same table, method 5 (Clopper-Pearson), for 81 of 263 (from memory), and an article on attribute
// agreement for 48 of 50 and 96 of 100.
TEST(Proportion, ExactAsPrinted) {
  expect_near(exact(81, 263), 0.2527, 0.3676, 6e-5);
  expect_near(exact(48, 50), 0.8629, 0.9951, 6e-4);
  expect_near(exact(96, 100), 0.901, 0.989, 6e-4);
  // The rule of three, exactly: none of n leaves 1 - 0.025^(1/n).
  expect_near(exact(0, 20), 0, 1 - std::pow(0.025, 1.0 / 20), 1e-12);
}

TEST(Proportion, OfNothingNothingIsKnown) {
  EXPECT_EQ(wilson(0, 0), (Interval{0, 1}));
  EXPECT_EQ(exact(0, 0), (Interval{0, 1}));
}

TEST(Proportion, PropertiesOfEveryInterval) {
  for (int of = 1; of <= 60; ++of) {
    for (int right = 0; right <= of; ++right) {
      const double share = static_cast<double>(right) / of;
      for (const Interval& got : {wilson(right, of), exact(right, of)}) {
        EXPECT_GE(got.low, 0);
        EXPECT_LE(got.high, 1);
        EXPECT_LE(got.low, share);
        EXPECT_GE(got.high, share);
      }
      const Interval mirrored = wilson(of - right, of);
      expect_near(wilson(right, of), 1 - mirrored.high, 1 - mirrored.low, 1e-12);
      EXPECT_LT(wilson(right, of, 0.8).high - wilson(right, of, 0.8).low,
                wilson(right, of).high - wilson(right, of).low);
    }
  }
}

/// How often an interval holds the true share, reckoned from the binomial itself.
template <class Make>
double coverage(double share, int of, Make make) {
  double covered = 0;
  double chance = std::pow(1 - share, of);
  for (int right = 0; right <= of; ++right) {
    const Interval got = make(right, of);
    if (got.low <= share && share <= got.high) covered += chance;
    chance *= share / (1 - share) * (of - right) / (right + 1.0);
  }
  return covered;
}

TEST(Proportion, ExactNeverHoldsLessThanItSaysAndWilsonHoldsItOnAverage) {
  double sum = 0;
  int count = 0;
  for (double share = 0.02; share < 0.985; share += 0.02) {
    EXPECT_GE(coverage(share, 25, [](int k, int n) { return exact(k, n); }), 0.95) << share;
    sum += coverage(share, 25, [](int k, int n) { return wilson(k, n); });
    ++count;
  }
  EXPECT_NEAR(sum / count, 0.95, 0.01);
}

}  // namespace
}  // namespace haunch::statistics
