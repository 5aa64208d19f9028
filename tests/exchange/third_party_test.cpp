// SPDX-License-Identifier: Apache-2.0
// A real file by other people (MIT licence), read where it is present and never kept here.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"

namespace haunch::exchange {
namespace {

class ThirdPartyFile : public ::testing::Test {
 protected:
  void SetUp() override {
    std::ifstream file(HAUNCH_SOURCE_DIR "/../shared/reference/example_13508_2.txt", std::ios::binary);
    if (!file) GTEST_SKIP() << "the third-party file example_13508_2.txt is not here";
    std::stringstream bytes;
    bytes << file.rdbuf();
    bytes_ = bytes.str();
  }
  std::vector<coding::Record> records() const {
    std::vector<coding::Record> out;
    for (const auto& placed : exchange_from_text(bytes_, "example").value().inspections)
      out.push_back(placed.record);
    return out;
  }
  std::string bytes_;
};

/// The counts are those stated with the file.
TEST_F(ThirdPartyFile, Has19InspectionsAnd41ContinuousRuns) {
  const auto result = exchange_from_text(bytes_, "example");
  ASSERT_TRUE(result.ok()) << base::to_line(result.problems().front());
  EXPECT_EQ(result.value().inspections.size(), 19U);
  EXPECT_EQ(result.value().style,
            (TextStyle{"ISO-8859-1", "de", ',', '.', '"', "2010", LineEnd::crlf, false}));
  std::size_t runs = 0, rows = 0, displaced = 0, displaced_in_runs = 0;
  for (const coding::Record& record : records()) {
    rows += record.observations.size();
    for (const coding::Extent& one : coding::extents(record)) {
      runs += one.continuous ? 1 : 0;
      if (one.continuous) {
        EXPECT_NE(one.first, one.last) << "never closed";
      }
    }
    for (const auto& one : record.observations) {
      displaced += one.code == "BAJ" ? 1 : 0;
      displaced_in_runs += one.code == "BAJ" && !one.stretch.empty() ? 1 : 0;
    }
  }
  EXPECT_EQ(runs, 41U);
  EXPECT_EQ(displaced, 38U);
  EXPECT_EQ(displaced_in_runs, 28U);
  std::size_t lines = 0;
  for (std::size_t at = 0; at + 2 < bytes_.size(); at = bytes_.find('\n', at) + 1)
    lines += bytes_[at] == '#' ? 0 : 1;
  EXPECT_EQ(rows + 19, lines) << "every line that is no mark is a header's values or a row";
}

TEST_F(ThirdPartyFile, HasNothingButWarnings) {
  const auto result = exchange_from_text(bytes_, "example");
  for (const auto& placed : result.value().inspections) {
    const auto problems =
        coding::validate(placed.record, coding::CodeList::shipped(), "example", placed.places);
    EXPECT_FALSE(base::has_errors(problems)) << base::to_line(problems.front());
  }
}

TEST_F(ThirdPartyFile, RoundTripsThroughEveryFormat) {
  const auto before = records();
  const auto style = exchange_from_text(bytes_, "example").value().style;
  const auto again = exchange_from_text(exchange_to_text(before, style), "again");
  ASSERT_TRUE(again.ok()) << base::to_line(again.problems().front());
  const auto json = records_from_json(records_to_json(before), "again.json");
  ASSERT_TRUE(json.ok()) << base::to_line(json.problems().front());
  const auto csv = records_from_csv(records_to_csv(before), "again.csv");
  ASSERT_TRUE(csv.ok()) << base::to_line(csv.problems().front());
  ASSERT_EQ(again.value().inspections.size(), before.size());
  ASSERT_EQ(json.value().size(), before.size());
  ASSERT_EQ(csv.value().size(), before.size());
  for (std::size_t i = 0; i < before.size(); ++i) {
    EXPECT_EQ(again.value().inspections[i].record, before[i]);
    EXPECT_EQ(json.value()[i].record, before[i]);
    EXPECT_EQ(csv.value()[i].record, before[i]);
    for (std::size_t k = 0; k < before[i].observations.size(); ++k)
      EXPECT_EQ(again.value().inspections[i].record.observations[k].distance_m.show(),
                before[i].observations[k].distance_m.show())
          << "as written";
  }
}

}  // namespace
}  // namespace haunch::exchange
