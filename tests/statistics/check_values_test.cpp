// SPDX-License-Identifier: Apache-2.0
// Outside values of proportions, detection and the bootstrap, read where they are kept.
#include "check_values.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "statistics/bootstrap.hpp"
#include "statistics/detection.hpp"
#include "statistics/normal.hpp"
#include "statistics/proportion.hpp"

namespace haunch::statistics {
namespace {

using Json = nlohmann::json;
using Make = Interval (*)(int, int, double);

void expect_interval(const Json& check, Make make, const Json& printed, const Json& again) {
  const Interval got = make(check["inputs"]["k"], check["inputs"]["n"], 0.95);
  EXPECT_NEAR(got.low, printed[0], check["tolerance"].get<double>());
  EXPECT_NEAR(got.high, printed[1], check["tolerance"].get<double>());
  EXPECT_NEAR(got.low, again[0], 1e-9);
  EXPECT_NEAR(got.high, again[1], 1e-9);
}

class WilsonChecks : public testing::TestWithParam<const char*> {};
TEST_P(WilsonChecks, AsPrinted) {
  NEEDS_CHECK(check, GetParam());
  expect_interval(*check, wilson, (*check)["expected"], (*check)["recomputed"]);
}
INSTANTIATE_TEST_SUITE_P(Statistics, WilsonChecks,
                         testing::Values("wilson-newcombe-81-263", "wilson-newcombe-15-148",
                                         "wilson-newcombe-0-20", "wilson-newcombe-1-29"));

class ExactChecks : public testing::TestWithParam<const char*> {};
TEST_P(ExactChecks, AsPrinted) {
  NEEDS_CHECK(check, GetParam());
  expect_interval(*check, exact, (*check)["expected"], (*check)["recomputed"]);
}
INSTANTIATE_TEST_SUITE_P(Statistics, ExactChecks, testing::Values("clopper-48-50", "clopper-96-100"));

TEST(CheckValues, BothIntervalsOfTwelveOfHundredAndFifty) {
  NEEDS_CHECK(check, "wilson-12-150");
  const Json& printed = (*check)["expected"];
  const Json& again = (*check)["recomputed"];
  expect_interval(*check, wilson, printed["wilson"], again["wilson"]);
  expect_interval(*check, exact, printed["exact"], again["exact"]);
}

TEST(CheckValues, DPrimeAndBeta) {
  NEEDS_CHECK(check, "sdt-three-observers");
  double sum = 0;
  const auto& rates = (*check)["inputs"]["hit_fa"];
  for (std::size_t i = 0; i < rates.size(); ++i) {
    const Sensitivity got = sensitivity(rates[i][0].get<double>(), rates[i][1].get<double>());
    EXPECT_NEAR(got.d_prime, (*check)["expected"]["d"][i], 6e-4);
    EXPECT_NEAR(got.d_prime, (*check)["recomputed"]["d"][i], 1e-9);
    EXPECT_NEAR(std::exp(got.ln_beta), (*check)["recomputed"]["beta"][i], 1e-9);
    sum += got.d_prime;
  }
  EXPECT_NEAR(sum / 3, (*check)["expected"]["mean_d"], 6e-4);
}

TEST(CheckValues, CriterionAndCorrection) {
  NEEDS_CHECK(plain, "sdt-stanislaw-todorov");
  const Sensitivity got =
      sensitivity((*plain)["inputs"]["hit"].get<double>(), (*plain)["inputs"]["fa"].get<double>());
  EXPECT_NEAR(got.d_prime, (*plain)["recomputed"]["d"], 1e-9);
  EXPECT_NEAR(got.criterion, (*plain)["recomputed"]["c"], 1e-9);
  NEEDS_CHECK(corrected, "sdt-loglinear");
  const Json& in = (*corrected)["inputs"];
  const Sensitivity all = sensitivity(in["hits"].get<int>(), in["signals"].get<int>(),
                                      in["false_alarms"].get<int>(), in["noise"].get<int>());
  EXPECT_NEAR(all.d_prime, (*corrected)["recomputed"]["d"], 1e-9);
  EXPECT_NEAR(all.criterion, (*corrected)["recomputed"]["c"], 1e-9);
}

TEST(CheckValues, FOfEventsAndOfSegments) {
  NEEDS_CHECK(check, "sed-event");
  EXPECT_NEAR(*f_measure({2, 0, 1}), (*check)["expected"]["f"], 1e-9);  // two events found of three
  EXPECT_NEAR(*f_measure({4, 0, 5}), 0.615385, 1e-6);                   // the note of sed-segment
}

TEST(CheckValues, CodingsNeededForAnAlpha) {
  NEEDS_CHECK(check, "alpha-sample-size");
  const double z = normal_quantile(0.95);
  const auto& cases = (*check)["inputs"]["cases"];
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const double a = cases[i]["alpha_min"];
    const double p = cases[i]["p_c"];
    const double n = 2 * z * z * ((1 + a) * (3 - a) / (4 * p * (1 - p) * (1 - a)) - a);
    EXPECT_EQ(std::ceil(n), (*check)["expected"][i].get<double>());
  }
}

/// Krippendorff's ordinal alpha of units with four grades and gaps, from his coincidences. For these tests.
struct OrdinalAlpha {
  std::vector<std::vector<int>> units;
  double distance[4][4] = {};
  double expected = 0;

  explicit OrdinalAlpha(const Json& rows) {
    for (const Json& row : rows) {
      units.emplace_back();
      for (const Json& grade : row)
        if (!grade.is_null()) units.back().push_back(grade.get<int>());
    }
  }
  std::optional<double> of(const std::vector<int>& drawn) {
    double n[4] = {};
    double all = 0;
    for (const int u : drawn)
      for (const int grade : units[u]) {
        ++n[grade];
        ++all;
      }
    expected = 0;
    for (int c = 0; c < 4; ++c)
      for (int k = 0; k < 4; ++k) {
        double between = -(n[c] + n[k]) / 2;
        for (int g = std::min(c, k); g <= std::max(c, k); ++g) between += n[g];
        distance[c][k] = between * between;
        expected += n[c] * n[k] * distance[c][k] / (all * (all - 1));
      }
    double observed = 0;
    for (const int u : drawn)
      for (const int a : units[u])
        for (const int b : units[u])
          observed += distance[a][b] / (static_cast<double>(units[u].size()) - 1) / all;
    return expected > 0 ? std::optional<double>(1 - observed / expected) : std::nullopt;
  }
};

double share_below(const Bootstrapped& got, double bound) {
  int below = 0;
  for (const double value : got.replicates) below += value < bound ? 1 : 0;
  return static_cast<double>(below) / static_cast<double>(got.replicates.size());
}

TEST(CheckValues, BootstrapOfUnitsForAlpha) {
  NEEDS_CHECK(data, "kalpha-hayes-krippendorff-2007");
  NEEDS_CHECK(check, "boot-units");
  OrdinalAlpha alpha((*data)["inputs"]["units_by_observer"]);
  std::vector<int> all(alpha.units.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  EXPECT_NEAR(*alpha.of(all), (*data)["recomputed"]["ordinal"], 1e-9);
  const Bootstrapped got =
      bootstrap(static_cast<int>(alpha.units.size()),
                [&](const std::vector<int>& drawn) { return alpha.of(drawn); }, {.replicates = 20000});
  const Json& again = (*check)["recomputed"];
  EXPECT_NEAR(got.interval->low, again["low"], 0.01);
  EXPECT_NEAR(got.interval->high, again["high"], 0.01);
  EXPECT_NEAR(share_below(got, 0.8), again["prob_below_0800"], 0.02);
  EXPECT_NEAR(share_below(got, 0.667), again["prob_below_0667"], 0.02);
}

// Hayes & Krippendorff (2007), p. 85: pairs of observers drawn one by one against the disagreement expected.
// Their interval is too narrow, which is why ours draws whole units.
TEST(CheckValues, BootstrapOfSinglePairsIsNarrower) {
  NEEDS_CHECK(data, "kalpha-hayes-krippendorff-2007");
  NEEDS_CHECK(check, "boot-hayes-krippendorff-pairs");
  OrdinalAlpha alpha((*data)["inputs"]["units_by_observer"]);
  std::vector<int> all(alpha.units.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  const double whole = *alpha.of(all);
  std::vector<double> pairs;
  double scale = 0;
  for (const auto& unit : alpha.units)
    for (std::size_t a = 0; a < unit.size(); ++a)
      for (std::size_t b = a + 1; b < unit.size(); ++b)
        pairs.push_back(2 * alpha.distance[unit[a]][unit[b]] / (static_cast<double>(unit.size()) - 1));
  for (const double pair : pairs) scale += pair;
  ASSERT_EQ(pairs.size(), static_cast<std::size_t>((*check)["inputs"]["draws_per_replicate"]));
  const auto of_pairs = [&](const std::vector<int>& drawn) {
    double sum = 0;
    for (const int i : drawn) sum += pairs[static_cast<std::size_t>(i)];
    return std::optional<double>(1 - (1 - whole) * sum / scale);
  };
  const Bootstrapped got = bootstrap(static_cast<int>(pairs.size()), of_pairs, {.replicates = 20000});
  const double tolerance = (*check)["tolerance"];
  EXPECT_NEAR(got.interval->low, (*check)["expected"]["low"], tolerance);
  EXPECT_NEAR(got.interval->high, (*check)["expected"]["high"], tolerance);
}

}  // namespace
}  // namespace haunch::statistics
