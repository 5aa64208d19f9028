// SPDX-License-Identifier: Apache-2.0
// Pairing and counting against outside check values, and against trying every choice.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numeric>
#include <optional>

#include "base/random.hpp"
#include "campaign.hpp"
#include "check_values.hpp"
#include "marking/assignment.hpp"
#include "marking/counting.hpp"

namespace haunch::marking {
namespace {

using testing::count_events;
using testing::count_segments;
using testing::Counts;
using testing::EventCollar;
using testing::Span;

/// Every row gets a column at the least cost: gains are what is saved below a bound above all costs.
std::pair<std::vector<double>, double> least_cost(const nlohmann::json& cost) {
  constexpr std::int64_t bound = 100000;
  std::vector<PossiblePair> possible;
  for (std::size_t row = 0; row < cost.size(); ++row)
    for (std::size_t column = 0; column < cost[row].size(); ++column)
      if (cost[row][column].is_number())
        possible.push_back({row, column, bound - cost[row][column].get<std::int64_t>()});
  std::vector<double> chosen;
  for (const auto& [row, column] : best_pairs(cost.size(), cost[0].size(), possible))
    chosen.push_back(cost[row][column].get<double>());
  return {chosen, std::accumulate(chosen.begin(), chosen.end(), 0.0)};
}

void expect_assignment(const nlohmann::json& check) {
  const auto [chosen, total] = least_cost(check.at("inputs").at("cost"));
  EXPECT_EQ(total, check.at("expected").at("total").get<double>());
  EXPECT_EQ(chosen, check.at("expected").at("chosen").get<std::vector<double>>());
}

// Source of the next five: assignment test cases of the open-source SciPy library.
TEST(Assignment, Square850) {
  NEEDS_CHECK(check, "assign-1");
  expect_assignment(*check);
}
TEST(Assignment, Wide452) {
  NEEDS_CHECK(check, "assign-2");
  expect_assignment(*check);
}
TEST(Assignment, Square18) {
  NEEDS_CHECK(check, "assign-3");
  expect_assignment(*check);
}
TEST(Assignment, Wide15) {
  NEEDS_CHECK(check, "assign-4");
  expect_assignment(*check);
}
TEST(Assignment, ForbiddenPairs18) {
  NEEDS_CHECK(check, "assign-forbidden");
  expect_assignment(*check);
}

TEST(Assignment, ARowWithoutAnyPairStaysAlone) {
  EXPECT_EQ(best_pairs(3, 2, {{0, 0, 5}, {2, 0, 7}}),
            (std::vector<std::pair<std::size_t, std::size_t>>{{2, 0}}));
  EXPECT_TRUE(best_pairs(2, 2, {}).empty());
  EXPECT_TRUE(best_pairs(0, 0, {}).empty());
}

TEST(Assignment, IsAsGoodAsTryingEveryChoice) {
  base::Random random(1);
  for (int round = 0; round < campaign::rounds(300); ++round) {
    const std::size_t lefts = 1 + random.below(5), rights = 1 + random.below(5);
    std::vector<std::vector<std::int64_t>> gain(lefts, std::vector<std::int64_t>(rights, 0));
    std::vector<PossiblePair> possible;
    for (std::size_t l = 0; l < lefts; ++l)
      for (std::size_t r = 0; r < rights; ++r)
        if (random.below(3) > 0) {
          gain[l][r] = 1 + static_cast<std::int64_t>(random.next() >> 20U);
          possible.push_back({l, r, gain[l][r]});
        }
    // All ways: each left takes a right or one of the places for nobody.
    std::vector<std::size_t> seats(rights + lefts);
    std::iota(seats.begin(), seats.end(), std::size_t{0});
    std::int64_t best = 0;
    do {
      std::int64_t total = 0;
      for (std::size_t l = 0; l < lefts; ++l) total += seats[l] < rights ? gain[l][seats[l]] : 0;
      best = std::max(best, total);
    } while (seats.size() <= 7 && std::next_permutation(seats.begin(), seats.end()));
    if (seats.size() > 7) continue;
    std::int64_t got = 0;
    for (const auto& [l, r] : best_pairs(lefts, rights, possible)) got += gain[l][r];
    EXPECT_EQ(got, best);
  }
}

std::vector<Span> spans(const nlohmann::json& list) {
  std::vector<Span> all;
  for (const nlohmann::json& one : list) all.push_back({one[0].get<double>(), one[1].get<double>()});
  return all;
}

// Source of the next three: Mesaros, Heittola & Virtanen (2016), Appl. Sci. 6:162, reference
// implementation's tests.
TEST(Counting, EventMetrics) {
  NEEDS_CHECK(check, "sed-event");
  const nlohmann::json& inputs = check->at("inputs");
  const EventCollar collar{inputs.at("collar").get<double>(), inputs.at("offset_pct").get<double>(), true};
  const Counts counts = count_events(spans(inputs.at("reference")), spans(inputs.at("estimated")), collar);
  EXPECT_NEAR(counts.f(), check->at("expected").at("f").get<double>(), 1e-9);
  EXPECT_NEAR(counts.error_rate(), check->at("expected").at("error_rate").get<double>(), 1e-9);
}

TEST(Counting, SegmentMetrics) {
  NEEDS_CHECK(check, "sed-segment");
  const nlohmann::json& inputs = check->at("inputs");
  const auto counts = count_segments(spans(inputs.at("reference")), spans(inputs.at("estimated")),
                                     inputs.at("segment").get<double>());
  EXPECT_NEAR(counts.accuracy(), check->at("expected").at("accuracy").get<double>(), 1e-9);
  EXPECT_NEAR(counts.error_rate(), check->at("expected").at("error_rate").get<double>(), 1e-9);
}

TEST(Counting, OptimalMatchingBeatsGreedyInEveryOrder) {
  NEEDS_CHECK(check, "sed-optimal-vs-greedy");
  const nlohmann::json& inputs = check->at("inputs");
  const EventCollar collar{inputs.at("collar").get<double>(), 0, false};
  std::vector<Span> truth = spans(inputs.at("reference")), marks = spans(inputs.at("estimated"));
  for (int order = 0; order < 4; ++order) {
    EXPECT_EQ(count_events(truth, marks, collar).f(), check->at("expected").at("f_optimal").get<double>());
    std::swap(truth[0], truth[1]);
    if (order == 1) std::swap(marks[0], marks[1]);
  }
  // First come, first served, as a foil: the first truth takes the first mark within its collar.
  std::vector<bool> taken(marks.size(), false);
  std::size_t found = 0;
  marks = spans(inputs.at("estimated"));
  for (const Span& one : spans(inputs.at("reference")))
    for (std::size_t m = 0; m < marks.size(); ++m)
      if (!taken[m] && std::abs(one.from - marks[m].from) <= collar.begin + 1e-9) {
        taken[m] = true;
        ++found;
        break;
      }
  const Counts greedy{found, truth.size() - found, marks.size() - found};
  EXPECT_EQ(greedy.f(), check->at("expected").at("f_greedy").get<double>());
}

}  // namespace
}  // namespace haunch::marking
