// SPDX-License-Identifier: Apache-2.0
// Stretches that were closed and opened again, on either side.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "campaign.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::mark_plain;
using testing::record_of;
using testing::seen;

struct Stretch {
  double from_m, to_m, percent;
};

/// Grease between two nodes, in stretches.
coding::Record grease(const std::vector<Stretch>& stretches, const char* code = "BBB",
                      const char* ch1 = "B") {
  std::vector<coding::Observation> rows{seen(0, "BCD", "A")};
  int number = 0;
  for (const Stretch& one : stretches) {
    const std::string name = std::to_string(++number);
    for (const auto& [at_m, kind] : {std::pair(one.from_m, "A"), std::pair(one.to_m, "B")}) {
      coding::Observation row = seen(at_m, code, ch1, "", one.percent, {4, 8, false});
      row.stretch = kind + name;
      rows.push_back(row);
    }
  }
  rows.push_back(seen(20, "BCE", "A"));
  return record_of(rows);
}

TEST(Pieces, ThatEachHaveAPartnerStayApart) {
  // Every end and size is within its tolerance on both sides; where the pieces meet must not matter.
  const std::vector<std::vector<Stretch>> splits = {{{2, 5, 10}, {5, 8, 12}},
                                                    {{2, 4.9, 10}, {5, 8, 12}},
                                                    {{2, 5, 10}, {5.1, 8, 12}},
                                                    {{2, 5.02, 10}, {5, 8, 12}}};
  for (const auto& truth : splits)
    for (const auto& attempt : splits) {
      const Marking marking = mark_plain(grease(truth), grease(attempt));
      EXPECT_EQ(marking.score, 100);
      EXPECT_THAT(marking.missed, IsEmpty());
      EXPECT_THAT(marking.invented, IsEmpty());
    }
}

TEST(Pieces, GoToThePairThatTheyContinue) {
  const std::vector<Stretch> whole = {{2, 8, 10}};
  for (const std::vector<Stretch>& parts : {std::vector<Stretch>{{2, 5, 10}, {5, 8, 9}},
                                            {{2, 5, 10}, {5.1, 8, 9}},
                                            {{2, 3.5, 9}, {3.5, 6, 10}, {6, 8, 9}}}) {
    for (const bool truth_in_parts : {false, true}) {
      const Marking marking = truth_in_parts ? mark_plain(grease(parts), grease(whole))
                                             : mark_plain(grease(whole), grease(parts));
      EXPECT_EQ(marking.score, 100) << parts.size() << truth_in_parts;
      EXPECT_THAT(marking.missed, IsEmpty());
      EXPECT_THAT(marking.invented, IsEmpty());
      std::size_t more = 0;
      for (const Hit& hit : marking.hits)
        more += (truth_in_parts ? hit.also_truths : hit.also_attempts).size();
      EXPECT_EQ(more, parts.size() - 1);
    }
  }
}

TEST(Pieces, OfAnotherKindOrFarApartAreNotTakenIn) {
  const auto twice = [](const coding::Record& record) {
    const Marking marking = mark_plain(grease({{2, 8, 10}}), record);
    return marking.invented.size();
  };
  EXPECT_EQ(twice(grease({{2, 5, 10}, {6, 8, 10}})), 1U) << "a metre of nothing between";
  EXPECT_EQ(twice(grease({{2, 5, 10}, {5, 8, 40}})), 1U) << "four times as much";
  coding::Record other_hours = grease({{2, 5, 10}, {5, 8, 10}});
  for (coding::Observation& row : other_hours.observations)
    if (row.stretch == "A2" || row.stretch == "B2") row.clock_from = 12, row.clock_to = 12;
  EXPECT_EQ(twice(other_hours), 1U);
}

TEST(Pieces, AHiddenOneHidesNoneBesideIt) {
  coding::Record truth = grease({{2, 5, 100}, {5, 8, 100}}, "BAC", "B");
  const std::string second = truth.observations[3].id;
  truth.not_visible.push_back({second, "under water"});
  const Marking nothing = mark_plain(truth, grease({}));
  ASSERT_EQ(nothing.missed.size(), 1U);
  EXPECT_THAT(nothing.missed[0].sentence, HasSubstr("from 2.00 m to 5.00 m"));
  EXPECT_TRUE(nothing.missed[0].dangerous);
  EXPECT_THAT(nothing.warnings, ::testing::Not(IsEmpty()));
  EXPECT_LT(nothing.score, 100);
  ASSERT_EQ(nothing.not_visible.size(), 1U);
  EXPECT_EQ(nothing.not_visible[0].truth, second);
}

TEST(Pieces, EachKeepsItsOwnClass) {
  const coding::Record both = grease({{2, 5, 9}, {5, 8, 11}});
  coding::Record attempt = both;
  attempt.judgement = testing::own_classes(attempt);
  const Marking marking = mark_plain(both, attempt);
  EXPECT_GT(marking.grading.asked, 1);
  EXPECT_EQ(marking.grading.right, marking.grading.asked);
  EXPECT_THAT(marking.remarks, IsEmpty());
}

TEST(Pieces, JitterWithinEveryToleranceKeepsFullMarks) {
  base::Random random(61);
  for (int i = 0; i < campaign::rounds(200); ++i) {
    std::vector<Stretch> truth, attempt;
    double at_m = 1;
    const int count = 1 + static_cast<int>(random.below(5));
    for (int k = 0; k < count; ++k) {
      const double to_m = at_m + random.uniform(1.5, 3);
      truth.push_back({at_m, to_m, 20});
      // Ends meet or leave a gap that is within the tolerance, as a person's own do.
      attempt.push_back(
          {at_m + random.uniform(-0.1, 0.1), to_m + random.uniform(-0.1, 0.1), random.uniform(17, 23)});
      at_m = to_m + (random.below(2) == 0 ? 0 : random.uniform(0, 0.2));
    }
    const Marking marking = mark_plain(grease(truth), grease(attempt));
    EXPECT_EQ(marking.score, 100) << to_json(marking);
  }
}

}  // namespace
}  // namespace haunch::marking
