// SPDX-License-Identifier: Apache-2.0
// Runs put together from their begins and ends, whatever the order of the rows.
#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.hpp"
#include "campaign.hpp"
#include "coding/record.hpp"
#include "coding/stretch.hpp"

namespace haunch::coding {
namespace {

Record rows(std::vector<std::pair<double, std::string>> marks) {
  Record record;
  for (auto& [at, mark] : marks) {
    Observation one;
    one.code = "BAB";
    one.distance_m = at;
    one.stretch = mark;
    record.observations.push_back(one);
  }
  return record;
}

TEST(Extents, PointsAndRuns) {
  const auto found = extents(rows({{1, ""}, {2, "A1"}, {3, ""}, {4, "A2"}, {5, "B1"}, {6, "B2"}}));
  ASSERT_EQ(found.size(), 4U);
  EXPECT_FALSE(found[0].continuous);
  EXPECT_TRUE(found[1].continuous);
  EXPECT_EQ(found[1].first, 1U);
  EXPECT_EQ(found[1].last, 4U);
  EXPECT_DOUBLE_EQ(found[1].from_m, 2);
  EXPECT_DOUBLE_EQ(found[1].to_m, 5);
  EXPECT_EQ(found[3].last, 5U);
}

TEST(Extents, LoneEndsArePointsAndOpenBeginsStayOpen) {
  const auto found = extents(rows({{1, "B7"}, {2, "A1"}}));
  ASSERT_EQ(found.size(), 2U);
  EXPECT_FALSE(found[0].continuous);
  EXPECT_TRUE(found[1].continuous);
  EXPECT_EQ(found[1].first, found[1].last);
}

TEST(Extents, ChangeRowsBelongToTheirRun) {
  EXPECT_EQ(extents(rows({{1, "A1"}, {2, "C1"}, {3, "B1"}})).size(), 1U);
  EXPECT_EQ(extents(rows({{1, "A1"}, {3, "B1"}, {4, "C1"}})).size(), 2U) << "outside the run it is a point";
}

TEST(Extents, ANumberUsedAgainIsAnotherRun) {
  const auto found = extents(rows({{1, "A1"}, {2, "B1"}, {5, "A1"}, {7, "B1"}}));
  ASSERT_EQ(found.size(), 2U);
  EXPECT_DOUBLE_EQ(found[0].to_m, 2);
  EXPECT_DOUBLE_EQ(found[1].from_m, 5);
  EXPECT_DOUBLE_EQ(found[1].to_m, 7);
}

TEST(Extents, DistancesMayCountDown) {
  const auto found = extents(rows({{9, "A1"}, {4, "B1"}, {3, "A1"}, {1, "B1"}}));
  ASSERT_EQ(found.size(), 2U);
  EXPECT_DOUBLE_EQ(found[0].from_m, 9);
  EXPECT_DOUBLE_EQ(found[0].to_m, 4);
}

TEST(Extents, WithoutDistanceAtZero) {
  Record record = rows({{1, ""}});
  record.observations[0].distance_m = Number();
  EXPECT_DOUBLE_EQ(extents(record)[0].from_m, 0);
}

/// The same rows in any order give the same runs.
TEST(Extents, OrderDoesNotMatter) {
  base::Random random(11);
  for (int round = 0; round < campaign::rounds(200); ++round) {
    Record record;
    for (int run = 1; run <= 4; ++run) {
      const double a = random.uniform(0, 20), b = a + random.uniform(0.1, 5);
      const std::string number = std::to_string(run == 4 ? 1 : run);
      const double shift = run == 4 ? 30 : 0;  // the number 1 again, further on
      for (const auto& [at, mark] :
           {std::pair(a + shift, "A" + number), std::pair(b + shift, "B" + number)}) {
        Observation one;
        one.distance_m = at;
        one.stretch = mark;
        record.observations.push_back(one);
      }
    }
    const auto shown = [](const Record& r) {
      std::vector<std::pair<double, double>> spans;
      for (const Extent& one : extents(r)) spans.emplace_back(one.from_m, one.to_m);
      std::sort(spans.begin(), spans.end());
      return spans;
    };
    const auto before = shown(record);
    ASSERT_EQ(before.size(), 4U);
    for (std::size_t i = record.observations.size(); i > 1; --i)
      std::swap(record.observations[i - 1], record.observations[random.below(static_cast<std::uint32_t>(i))]);
    EXPECT_EQ(shown(record), before);
  }
}

TEST(StretchMark, FormAndNumber) {
  EXPECT_EQ(stretch_mark("A01"), (StretchMark{'A', "1"}));
  EXPECT_EQ(stretch_mark("C12"), (StretchMark{'C', "12"}));
  for (const char* bad : {"", "A", "D1", "1A", "A1 ", "a1", "A-1"}) EXPECT_FALSE(stretch_mark(bad)) << bad;
}

}  // namespace
}  // namespace haunch::coding
