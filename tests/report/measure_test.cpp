// SPDX-License-Identifier: Apache-2.0
#include "report/measure.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/owner_sample.hpp"
#include "report/pipe_pieces.hpp"

namespace haunch::report {
namespace {

using base::LengthUnit;
using testing::HasSubstr;

std::string shown(const coding::Record& record, const char* zero, double recorded_m,
                  LengthUnit unit = LengthUnit::metres) {
  return measure_of(record, *zero_from(zero, unit), unit).show(recorded_m);
}

TEST(Measure, CountsFromWhereItIsAsked) {
  const coding::Record record = clean_pipe();
  EXPECT_EQ(shown(record, "recorded", 5), "5.00 m");
  EXPECT_EQ(shown(record, "start", 5), "5.00 m");
  EXPECT_EQ(shown(record, "end", 5), "15.00 m");
  EXPECT_EQ(shown(record, "upstream", 5), "5.00 m");
  EXPECT_EQ(shown(record, "downstream", 5), "15.00 m");
  EXPECT_EQ(shown(record, "3.5", 5), "1.50 m");
  EXPECT_EQ(shown(record, "3.5", 3), "-0.50 m");
  EXPECT_EQ(shown(record, "recorded", 3.048, LengthUnit::feet), "10.0 ft");
  EXPECT_EQ(shown(record, "10", 6.096, LengthUnit::feet), "10.0 ft") << "a number is in the units asked for";
  EXPECT_FALSE(zero_from("moon", LengthUnit::metres));
  EXPECT_FALSE(zero_from("1e9", LengthUnit::metres));
  EXPECT_FALSE(zero_from("nan", LengthUnit::metres));
}

TEST(Measure, AgainstTheFlowTheCameraStartsDownstream) {
  coding::Record record = clean_pipe();
  record.set_header("AAK", "B");
  EXPECT_EQ(shown(record, "upstream", 5), "15.00 m");
  EXPECT_EQ(shown(record, "downstream", 5), "5.00 m");
  record.set_header("AAK", "C");
  const Measure unknown = measure_of(record, *zero_from("upstream", LengthUnit::metres), LengthUnit::metres);
  EXPECT_THAT(unknown.refused, HasSubstr("which way the water flows"));
  EXPECT_EQ(unknown.show(5), "5.00 m");
}

TEST(Measure, CountingDownIsTurnedRound) {
  coding::Record record = clean_pipe();
  for (coding::Observation& seen : record.observations) seen.distance_m = 20 - *seen.distance_m.value;
  EXPECT_EQ(shown(record, "start", 15), "5.00 m");
  EXPECT_EQ(shown(record, "end", 15), "15.00 m");
  EXPECT_DOUBLE_EQ(ends_of(record).length_m(), 20);
}

TEST(Measure, AnEndThatNobodyRecordedIsNotMadeUp) {
  coding::Record record;
  record.observations = {noted(0, "BCD", "A"), noted(7, "BAB", "B", 1)};
  const Measure measure = measure_of(record, *zero_from("end", LengthUnit::metres), LengthUnit::metres);
  EXPECT_THAT(measure.refused, HasSubstr("where the pipe ends"));
  EXPECT_FALSE(ends_of(record).finish_known);
  record.set_header("ABQ", "12");
  EXPECT_EQ(shown(record, "end", 7), "5.00 m") << "a stated length is an end";
}

TEST(PipePieces, FollowTheRecordedChanges) {
  const auto pieces = pipe_pieces(clean_pipe({noted(15, "AEC", "A", 125)}), coding::CodeList::shipped());
  const std::vector<PipePiece> wanted{{0, 12, "AE", 150}, {12, 15, "AX", 150}, {15, 20, "AX", 125}};
  EXPECT_EQ(pieces, wanted);
}

TEST(PipePieces, WaterAndDepthsAreOnlyWhatIsRecorded) {
  EXPECT_TRUE(recorded_water(clean_pipe()).empty());
  const auto water = recorded_water(
      clean_pipe({noted(2, "BDD", "A", 10), noted(5, "BDD", "A", 30, "A1"), noted(8, "BDD", "A", 40, "B1")}));
  ASSERT_EQ(water.size(), 2U);
  EXPECT_FALSE(water[0].stretch);
  EXPECT_TRUE(water[1].stretch);
  EXPECT_DOUBLE_EQ(water[1].to_percent, 40);
  coding::Record record = clean_pipe();
  record.set_header("ACH", "1.2");
  EXPECT_FALSE(depths_of(record)) << "one depth makes no line";
  record.set_header("ACI", "1.8");
  ASSERT_TRUE(depths_of(record));
  EXPECT_DOUBLE_EQ(depths_of(record)->finish_m, 1.8);
}

}  // namespace
}  // namespace haunch::report
