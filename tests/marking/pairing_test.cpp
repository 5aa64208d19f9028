// SPDX-License-Identifier: Apache-2.0
// What lies within reach is found by place; it must be what looking at every pair finds.
#include <gtest/gtest.h>

#include "marking/helpers.hpp"
#include "marking/pairing.hpp"

namespace haunch::marking {
namespace {

using testing::careless;
using testing::mark_plain;
using testing::random_record;
using testing::record_of;
using testing::seen;

std::vector<std::vector<std::size_t>> by_looking_at_all(const std::vector<Finding>& truths,
                                                        const std::vector<Finding>& attempts) {
  std::vector<std::vector<std::size_t>> near(truths.size());
  for (std::size_t t = 0; t < truths.size(); ++t)
    for (std::size_t a = 0; a < attempts.size(); ++a)
      if (nearness(truths[t], attempts[a], Rules::shipped().inside(), coding::CodeList::shipped()))
        near[t].push_back(a);
  return near;
}

TEST(WithinReach, IsWhatLookingAtEveryPairFinds) {
  base::Random random(31);
  std::size_t pairs = 0;
  for (int i = 0; i < 400; ++i) {
    coding::Record truth = random_record(random), attempt = careless(truth, random);
    for (coding::Record* record : {&truth, &attempt})
      for (coding::Observation& one : record->observations) {
        if (random.below(12) == 0) one.distance_m = coding::Number();
        if (i % 4 == 0 && one.distance_m.value) one.distance_m = *one.distance_m.value * 100;
        if (random.below(60) == 0) one.distance_m = random.below(2) == 0 ? 1e300 : -1e300;
      }
    const std::vector<Finding> truths = findings_of(truth), attempts = findings_of(attempt);
    const auto near = within_reach(truths, attempts, Rules::shipped().inside(), coding::CodeList::shipped());
    EXPECT_EQ(near, by_looking_at_all(truths, attempts));
    for (const auto& one : near) pairs += one.size();
  }
  EXPECT_GT(pairs, 1000U);
}

TEST(WithinReach, ALongRecordIsMarked) {
  std::vector<coding::Observation> run{seen(0, "BCD", "A")};
  for (int i = 1; i < 4000; ++i) run.push_back(seen(3.0 * i, i % 2 == 0 ? "BAB" : "BBC", "B", "A", 2));
  const coding::Record record = record_of(run);
  EXPECT_EQ(mark_plain(record, record).score, 100);
}

TEST(WithinReach, WhatIsTooCrowdedIsRefusedInWords) {
  std::vector<coding::Observation> spot;
  for (int i = 0; i < 1100; ++i) spot.push_back(seen(5, "BAC", "A", "", i, {12, 2, false}));
  const coding::Record record = record_of(spot);
  try {
    mark_plain(record, record);
    FAIL() << "more pairs than the limit were paired";
  } catch (const std::runtime_error& stop) {
    EXPECT_NE(std::string(stop.what()).find("within reach of each other"), std::string::npos);
  }
}

}  // namespace
}  // namespace haunch::marking
