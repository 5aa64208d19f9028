// SPDX-License-Identifier: Apache-2.0
// The derived record as the command line writes it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <set>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

std::set<std::string> codes_of(const Json& record) {
  std::set<std::string> codes;
  for (const Json& one : record.at("observations")) codes.insert(one.at("code").get<std::string>());
  return codes;
}

TEST(Truth, KeepsItsSchemaAndSaysWhy) {
  const Program haunch;
  for (const auto& file : shipped_scenarios()) {
    const Ran ran = haunch.run({"truth", file.string(), "--json"});
    ASSERT_EQ(ran.code, 0) << ran.err;
    expect_schema(ran.out, "record");
    const Json record = Json::parse(ran.out);
    ASSERT_FALSE(record.at("observations").empty());
    for (const Json& one : record.at("observations")) {
      EXPECT_FALSE(one.at("reason").get<std::string>().empty()) << file << one;
      EXPECT_EQ(one.at("code").get<std::string>().size(), 3U);
      EXPECT_TRUE(one.at("distance_m").is_number());
    }
  }
}

TEST(Truth, ItsExchangeTextAndJsonHaveNoProblems) {
  const Program haunch;
  for (const auto& file : shipped_scenarios()) {
    for (const char* form : {"--json", "--text"}) {
      const std::string name = std::string("truth") + (form == std::string("--json") ? ".json" : ".txt");
      ASSERT_EQ(haunch.run({"truth", file.string(), form, "-o", name, "--force"}).code, 0);
      const Ran checked = haunch.run({"check", name});
      EXPECT_EQ(checked.code, 0) << checked.out;
    }
  }
}

/// A point finding as it stands in a record, to be held against another.
struct Point {
  double distance_m = 0;
  std::string code;
  Json from, to, q1;
  bool operator==(const Point&) const = default;
};

TEST(Truth, TurnedRoundMirrorsClocksAndDistances) {
  const Program haunch;
  int compared = 0;
  for (const auto& file : shipped_scenarios()) {
    std::ifstream stream(file);
    Json scenario = Json::parse(stream);
    const double length_m = scenario.at("pipe").at("length_m");
    const auto points = [&](const char* end) {
      scenario["inspection"] = {{"from", end}, {"distance_zero", end}};
      haunch.write("run.json", scenario.dump());
      std::vector<Point> found;
      const Json record = haunch.json({"truth", "run.json", "--json"});
      for (const Json& one : record.at("observations")) {
        // Inventory of what comes next (nodes, changes of material) and what the way of going
        // decides (levels, hidden things) is not the same thing from the other end.
        static const std::set<std::string> fixed = {"BAB", "BAC", "BAG", "BAJ", "BBA", "BCA"};
        const std::string code = one.at("code");
        if (!one.value("stretch", std::string()).empty() || !fixed.contains(code)) continue;
        const auto or_null = [&](const char* key) { return one.contains(key) ? one.at(key) : Json(); };
        found.push_back({one.at("distance_m"), code + one.value("ch1", "") + one.value("ch2", ""),
                         or_null("clock_from"), or_null("clock_to"), or_null("q1")});
      }
      return found;
    };
    const std::vector<Point> there = points("start");
    std::vector<Point> back = points("end");
    ASSERT_EQ(there.size(), back.size()) << file;
    for (const Point& one : there) {
      // Of a step the clock is where the unit ahead stands: from the other end that is the other unit.
      const int on = one.code == "BAJB" ? 6 : 0;
      const auto mirrored = [on](const Json& hour) {
        return hour.is_number() ? Json((24 - hour.get<int>() - on + 11) % 12 + 1) : hour;
      };
      const auto match = std::find_if(back.begin(), back.end(), [&](const Point& other) {
        const bool whole = one.from == 12 && one.to == 12;
        const bool single = one.to.is_null() || one.from == one.to;
        return std::abs(one.distance_m + other.distance_m - length_m) < 0.011 && one.code == other.code &&
               one.q1 == other.q1 &&
               (whole    ? other.from == 12 && other.to == 12
                : single ? other.from == mirrored(one.from)
                         : other.from == mirrored(one.to) && other.to == mirrored(one.from));
      });
      EXPECT_NE(match, back.end()) << file << ": " << one.code << " at " << one.distance_m << ", " << one.from
                                   << " to " << one.to;
      if (match != back.end()) back.erase(match);
      ++compared;
    }
  }
  EXPECT_GT(compared, 10);
}

TEST(Truth, WithSightSetsAsideWhatNoPictureShowsPlainly) {
  const Program haunch;
  haunch.write("run.json", R"({
"kind": "scenario", "edition": 1, "title": "Three metres of clay",
"pipe": { "bore_mm": 150, "length_m": 3, "sections": [ { "to_m": 3, "material": "clay", "unit_length_m": 1 } ] },
"faults": [ { "kind": "roots", "at_m": 2, "form": "mass", "clock": [10, 2], "blocks_percent": 25 },
            { "kind": "crack", "from_m": 0.002, "to_m": 0.01, "clock": 12, "width_mm": 0 } ] })");
  EXPECT_FALSE(haunch.json({"truth", "run.json", "--json"}).contains("not_visible"));
  const Json seen = haunch.json({"truth", "run.json", "--json", "--sight"});
  ASSERT_EQ(seen.at("not_visible").size(), 1U);
  EXPECT_THAT(seen.at("not_visible")[0].at("why").get<std::string>(),
              testing::HasSubstr("a careful drive shows it"));
  const std::string id = seen.at("not_visible")[0].at("observation");
  for (const Json& row : seen.at("observations"))
    if (row.at("id") == id) {
      EXPECT_EQ(row.at("code"), "BAB");
    }
}

// 24 m are 78.74 ft (the international foot).
TEST(Truth, TheReadableTableKeepsToTheUnitAskedFor) {
  const Program haunch;
  const std::string file = shipped("canteen-branch").string();
  EXPECT_THAT(haunch.run({"truth", file}).out,
              testing::HasSubstr("(Anticipated length of inspection): 24.00 m\n"));
  EXPECT_THAT(haunch.run({"truth", file, "--units", "ft"}).out,
              testing::HasSubstr("(Anticipated length of inspection): 78.7 ft\n"));
}

TEST(Truth, TheReadableTableNamesEveryFinding) {
  const Program haunch;
  const std::string file = shipped("canteen-branch").string();
  const Ran table = haunch.run({"truth", file});
  EXPECT_EQ(table.code, 0);
  for (const std::string& code : codes_of(haunch.json({"truth", file, "--json"}))) {
    EXPECT_THAT(table.out, testing::HasSubstr(code));
  }
  EXPECT_THAT(table.out, testing::HasSubstr("because "));
}

}  // namespace
}  // namespace haunch::cli_test
