// SPDX-License-Identifier: Apache-2.0
#include "statistics/bootstrap.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "base/random.hpp"
#include "campaign.hpp"

namespace haunch::statistics {
namespace {

double mean(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

TEST(Bootstrap, SameSeedSameInterval) {
  const std::vector<double> values = {1, 4, 2, 8, 5, 7, 3, 3, 9, 6};
  EXPECT_EQ(bootstrap_mean(values), bootstrap_mean(values));
  EXPECT_NE(bootstrap_mean(values), bootstrap_mean(values, {.seed = 2}));
  const Interval whole = bootstrap_mean(values);
  EXPECT_LT(whole.low, mean(values));
  EXPECT_GT(whole.high, mean(values));
  const Interval all_alike = bootstrap_mean({3, 3, 3, 3});
  EXPECT_EQ(all_alike, (Interval{3, 3}));
}

TEST(Bootstrap, DrawsAsManyClustersAsThereAre) {
  const auto check = [](const std::vector<int>& drawn) {
    EXPECT_EQ(drawn.size(), 7U);
    for (const int cluster : drawn) {
      EXPECT_GE(cluster, 0);
      EXPECT_LT(cluster, 7);
    }
    return std::optional<double>(0);
  };
  EXPECT_EQ(bootstrap(7, check).replicates.size(), 2000U);
}

TEST(Bootstrap, WhatHasNoValueIsLeftOutAndTold) {
  const auto first_is_zero = [](const std::vector<int>& drawn) {
    return drawn.front() == 0 ? std::optional<double>(1) : std::nullopt;
  };
  const Bootstrapped got = bootstrap(4, first_is_zero, {.replicates = 4000});
  EXPECT_NEAR(got.undefined, 3000, 5 * std::sqrt(4000 * 0.75 * 0.25));
  EXPECT_EQ(got.interval, (Interval{1, 1}));
  EXPECT_FALSE(bootstrap(4, [](const std::vector<int>&) { return std::optional<double>(); }).interval);
}

// Thirty clusters of eight that hang together: drawn whole, the interval holds the true mean about as often
// as it says; drawn one by one, far less often.
TEST(Bootstrap, WholeClustersKeepTheConfidence) {
  const int rounds = campaign::rounds(300);
  int whole = 0;
  int single = 0;
  base::Random random(3);
  for (int round = 0; round < rounds; ++round) {
    std::vector<double> of_clusters;
    std::vector<double> of_values;
    for (int cluster = 0; cluster < 30; ++cluster) {
      const double own = random.normal();
      double sum = 0;
      for (int i = 0; i < 8; ++i) {
        of_values.push_back(own + random.normal());
        sum += of_values.back();
      }
      of_clusters.push_back(sum / 8);
    }
    const Resampling how{.seed = random.next()};
    const Interval by_cluster = bootstrap_mean(of_clusters, how);
    whole += by_cluster.low <= 0 && 0 <= by_cluster.high ? 1 : 0;
    const Interval by_value = bootstrap_mean(of_values, how);
    single += by_value.low <= 0 && 0 <= by_value.high ? 1 : 0;
  }
  EXPECT_GT(whole, 0.89 * rounds);
  EXPECT_LT(whole, 0.98 * rounds);
  EXPECT_LT(single, 0.85 * rounds);
}

}  // namespace
}  // namespace haunch::statistics
