// SPDX-License-Identifier: Apache-2.0
// How plainly faults show, as the command line says it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

constexpr const char* run = R"({
"kind": "scenario", "edition": 1, "title": "Three metres of clay",
"pipe": { "bore_mm": 150, "length_m": 3, "sections": [ { "to_m": 3, "material": "clay", "unit_length_m": 1 } ] },
"inspection": { "zero_before_m": 0.5 },
"faults": [ { "kind": "roots", "at_m": 2, "form": "mass", "clock": [10, 2], "blocks_percent": 25 },
            { "kind": "crack", "from_m": 0.002, "to_m": 0.01, "clock": 12, "width_mm": 0 } ] })";

TEST(Sight, SaysHowPlainlyEachFaultShows) {
  const Program haunch;
  haunch.write("run.json", run);
  const Ran ran = haunch.run({"sight", "run.json", "--json"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  expect_schema(ran.out, "sight");
  const Json faults = Json::parse(ran.out).at("faults");
  ASSERT_EQ(faults.size(), 2U);
  EXPECT_TRUE(faults[0].at("plain"));
  EXPECT_GT(faults[0].at("most_percent").get<double>(), 3);
  // The zero lies half a metre before the pipe.
  EXPECT_GT(faults[0].at("best_at_m").get<double>(), 1.5);
  EXPECT_LT(faults[0].at("best_at_m").get<double>(), 2.5);
  // A hairline 8 mm long that ends beside the lens at its start.
  EXPECT_FALSE(faults[1].at("plain"));
  const Ran table = haunch.run({"sight", "run.json"});
  EXPECT_EQ(table.code, 0);
  EXPECT_THAT(table.out, testing::HasSubstr("NOT PLAINLY SEEN"));
  EXPECT_THAT(table.out, testing::HasSubstr("roots"));
}

TEST(Sight, WantsAScenario) {
  const Program haunch;
  haunch.write("record.json", R"({"kind": "record", "edition": 1, "observations": []})");
  EXPECT_EQ(haunch.run({"sight", "record.json"}).code, 1);
  EXPECT_EQ(haunch.run({"sight"}).code, 2);
}

}  // namespace
}  // namespace haunch::cli_test
