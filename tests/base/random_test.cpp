// SPDX-License-Identifier: Apache-2.0
// Random numbers are the same everywhere; the first values are those of the published generator.
#include "base/random.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace haunch::base {
namespace {

TEST(Random, IsSplitMix64) {
  // From memory: the first outputs of the published SplitMix64 for seed 1234567. mix() of the seed is
  // the first; Random begins at the second.
  EXPECT_EQ(mix(1234567), 6457827717110365317ULL);
  Random random(1234567);
  EXPECT_EQ(random.next(), 3203168211198807973ULL);
  EXPECT_EQ(random.next(), 9817491932198370423ULL);
}

TEST(Random, UniformAndNormalHaveTheirMoments) {
  Random random(1);
  const int n = 100000;
  double sum = 0, normal_sum = 0, normal_squares = 0;
  for (int i = 0; i < n; ++i) {
    const double u = random.uniform();
    ASSERT_TRUE(u >= 0 && u < 1);
    sum += u;
    const double z = random.normal();
    normal_sum += z;
    normal_squares += z * z;
    ASSERT_LT(random.below(7), 7U);
  }
  // Five standard errors each.
  EXPECT_NEAR(sum / n, 0.5, 5 * std::sqrt(1.0 / 12 / n));
  EXPECT_NEAR(normal_sum / n, 0, 5 / std::sqrt(n));
  EXPECT_NEAR(normal_squares / n, 1, 5 * std::sqrt(2.0 / n));
}

}  // namespace
}  // namespace haunch::base
