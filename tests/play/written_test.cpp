// SPDX-License-Identifier: Apache-2.0
// What is written for an observation reads back as that observation.
#include "play/written.hpp"

#include <gtest/gtest.h>

#include "grading/helpers.hpp"
#include "play/entry.hpp"

namespace haunch::play {
namespace {

coding::Observation read_back(const std::string& line, base::LengthUnit unit) {
  return read_entry(line, coding::CodeList::shipped(), unit).observation;
}

TEST(Written, ReadsBackAsWhatItWasWrittenFor) {
  base::Random random(91);
  int tried = 0, no_line = 0;
  for (int i = 0; i < 60; ++i) {
    for (coding::Observation one : grading::testing::random_record(random).observations) {
      // What the code does not have cannot be typed.
      const coding::CodeEntry& entry = *coding::CodeList::shipped().find(one.code);
      if (!entry.q1) one.q1 = {};
      if (!entry.q2) one.q2 = {};
      if (entry.joint == coding::JointRule::always) one.at_joint = true;
      ++tried;
      const base::LengthUnit unit = i % 2 == 0 ? base::LengthUnit::metres : base::LengthUnit::feet;
      const auto line = written(one, coding::CodeList::shipped(), unit);
      if (!line) {
        ++no_line;
        continue;
      }
      coding::Observation again = read_back(*line, unit);
      one.id.clear();
      one.distance_m = again.distance_m = {};
      EXPECT_EQ(again, one) << *line;
    }
  }
  EXPECT_GT(tried, 300);
  EXPECT_EQ(no_line, 0);
}

TEST(Written, IsWhatAPersonWouldType) {
  coding::Observation joint;
  joint.code = "BAJ", joint.ch1 = "B", joint.q1 = 14, joint.clock_from = 10, joint.clock_to = 2,
  joint.at_joint = true;
  EXPECT_EQ(written(joint, coding::CodeList::shipped(), base::LengthUnit::metres), "BAJ B 14 mm 10-2");
  coding::Observation roots;
  roots.code = "BBA", roots.ch1 = "B", roots.q1 = 8, roots.clock_from = 12, roots.at_joint = true,
  roots.stretch = "A2";
  EXPECT_EQ(written(roots, coding::CodeList::shipped(), base::LengthUnit::metres),
            "BBA B 8 % at 12 A2 at joint");
  coding::Observation strange;
  strange.code = "XYZ";
  EXPECT_EQ(written(strange, coding::CodeList::shipped(), base::LengthUnit::metres), std::nullopt);
}

}  // namespace
}  // namespace haunch::play
