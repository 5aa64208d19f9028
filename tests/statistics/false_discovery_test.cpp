// SPDX-License-Identifier: Apache-2.0
#include "statistics/false_discovery.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/random.hpp"

namespace haunch::statistics {
namespace {

// Benjamini & Hochberg (1995), section 4.1: fifteen tests of a heart study, of which four stand at 0.05 and
// only three by Bonferroni (from memory).
const std::vector<double> heart_study = {0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344,
                                         0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0000};

TEST(FalseDiscovery, FourOfTheHeartStudy) {
  const std::vector<bool> believed = discoveries(heart_study);
  EXPECT_EQ(std::count(believed.begin(), believed.end(), true), 4);
  EXPECT_TRUE(believed[3]);
  EXPECT_FALSE(believed[4]);
  EXPECT_NEAR(benjamini_hochberg(heart_study)[3], 0.0095 * 15 / 4, 1e-12);
}

TEST(FalseDiscovery, OrderDoesNotMatterAndNothingIsLowered) {
  base::Random random(5);
  std::vector<double> p;
  for (int i = 0; i < 50; ++i) p.push_back(random.uniform() * random.uniform());
  std::vector<double> turned(p.rbegin(), p.rend());
  std::vector<double> adjusted = benjamini_hochberg(turned);
  std::reverse(adjusted.begin(), adjusted.end());
  EXPECT_EQ(adjusted, benjamini_hochberg(p));
  for (std::size_t i = 0; i < p.size(); ++i) {
    EXPECT_GE(adjusted[i], p[i]);
    EXPECT_LE(adjusted[i], 1);
    for (std::size_t k = 0; k < p.size(); ++k)
      if (p[i] < p[k]) {
        EXPECT_LE(adjusted[i], adjusted[k]);
      }
  }
  EXPECT_TRUE(benjamini_hochberg({}).empty());
}

// What it promises: of those believed, no more than the rate is false, on average.
TEST(FalseDiscovery, KeepsItsRate) {
  base::Random random(11);
  double false_share = 0;
  const int rounds = 2000;
  for (int round = 0; round < rounds; ++round) {
    std::vector<double> p;
    for (int i = 0; i < 40; ++i) p.push_back(i < 30 ? random.uniform() : std::pow(random.uniform(), 12));
    const std::vector<bool> believed = discoveries(p, 0.10);
    const auto all = std::count(believed.begin(), believed.end(), true);
    const auto false_ones = std::count(believed.begin(), believed.begin() + 30, true);
    if (all > 0) false_share += static_cast<double>(false_ones) / static_cast<double>(all);
  }
  EXPECT_NEAR(false_share / rounds, 0.10 * 30 / 40, 0.012);  // exactly rate x share of true nulls
}

}  // namespace
}  // namespace haunch::statistics
