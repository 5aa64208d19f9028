// SPDX-License-Identifier: Apache-2.0
#include "statistics/normal.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "statistics/quantile.hpp"

namespace haunch::statistics {
namespace {

// Printed in every table of the normal distribution; here from Abramowitz & Stegun (1964), table 26.1 and the
// percentage points of table 26.5 (from memory).
TEST(Normal, AgreesWithPrintedTables) {
  EXPECT_NEAR(normal_cdf(0), 0.5, 1e-15);
  EXPECT_NEAR(normal_cdf(1), 0.841344746068543, 1e-14);
  EXPECT_NEAR(normal_cdf(2), 0.977249868051821, 1e-14);
  EXPECT_NEAR(normal_quantile(0.975), 1.959963984540054, 1e-13);
  EXPECT_NEAR(normal_quantile(0.95), 1.644853626951473, 1e-13);
  EXPECT_NEAR(normal_quantile(0.99), 2.326347874040841, 1e-13);
  EXPECT_NEAR(two_sided(0.95), 1.959963984540054, 1e-13);
}

// Wilson, Shenhav, Straccia & Cohen, Nat. Commun. 10 (2019) 4646: the best rate of errors is 15.87 %.
TEST(Normal, TheRateOfErrorsThatTeachesMost) { EXPECT_NEAR(normal_cdf(-1), 0.1587, 5e-5); }

TEST(Normal, QuantileUndoesTheShare) {
  for (double x = -7; x <= 5; x += 0.25) EXPECT_NEAR(normal_quantile(normal_cdf(x)), x, 1e-8) << x;
  for (double x = 0; x <= 8; x += 0.25) EXPECT_NEAR(normal_cdf(x) + normal_cdf(-x), 1, 1e-15) << x;
}

TEST(Normal, EndsAreTheInfinities) {
  EXPECT_EQ(normal_quantile(0), -HUGE_VAL);
  EXPECT_EQ(normal_quantile(1), HUGE_VAL);
  EXPECT_EQ(normal_cdf(-HUGE_VAL), 0);
  EXPECT_EQ(normal_cdf(HUGE_VAL), 1);
}

// By the definition of type 7 in Hyndman & Fan (1996): (n - 1) p + 1 counts along the sorted values.
TEST(Quantile, LiesBetweenNeighboursInProportion) {
  EXPECT_DOUBLE_EQ(quantile({4, 1, 3, 2}, 0.5), 2.5);
  EXPECT_DOUBLE_EQ(quantile({4, 1, 3, 2}, 0.25), 1.75);
  EXPECT_DOUBLE_EQ(quantile({4, 1, 3, 2}, 0), 1);
  EXPECT_DOUBLE_EQ(quantile({4, 1, 3, 2}, 1), 4);
  EXPECT_DOUBLE_EQ(quantile({7}, 0.3), 7);
}

}  // namespace
}  // namespace haunch::statistics
