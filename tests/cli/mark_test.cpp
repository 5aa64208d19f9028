// SPDX-License-Identifier: Apache-2.0
// What an attempt is worth, as the command line tells it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <regex>
#include <set>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using testing::HasSubstr;

/// What the marking says, whatever the order it says it in.
std::multiset<std::string> in_any_order(const Json& marking) {
  std::multiset<std::string> parts;
  for (const char* list : {"hits", "missed", "invented", "not_visible"}) {
    for (const Json& one : marking.at(list)) parts.insert(std::string(list) + one.dump());
  }
  return parts;
}

TEST(Mark, TheTruthAsItsOwnAttemptIsFullMarks) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  auto files = shipped_scenarios();
  files.push_back(haunch.path("clean.json"));
  ASSERT_GE(files.size(), 4U) << "three scenarios are shipped";
  for (const auto& file : files) {
    ASSERT_EQ(haunch.run({"truth", file.string(), "--json", "-o", "attempt.json", "--force"}).code, 0)
        << file;
    const Json marking = haunch.json({"mark", file.string(), "attempt.json", "--json"});
    EXPECT_EQ(marking.at("score"), 100) << file;
    EXPECT_TRUE(marking.at("missed").empty()) << marking.at("missed");
    EXPECT_TRUE(marking.at("invented").empty()) << marking.at("invented");
    EXPECT_FALSE(marking.at("hits").empty());
    EXPECT_EQ(marking.at("grading"), "not given");
    EXPECT_TRUE(marking.at("consequence").at("sentences").empty());
    // A record is as good a truth as the scenario it came from, and exchange text as good an attempt.
    ASSERT_EQ(haunch.run({"truth", file.string(), "--text", "-o", "attempt.txt", "--force"}).code, 0);
    EXPECT_EQ(haunch.json({"mark", "attempt.json", "attempt.txt", "--json"}).at("score"), 100) << file;
  }
}

TEST(Mark, ManyAttemptsEachGoToTheRunTheyAreOf) {
  const Program haunch;
  std::filesystem::create_directories(haunch.path("runs"));
  std::filesystem::create_directories(haunch.path("attempts"));
  std::vector<std::filesystem::path> runs;
  for (const auto& file : shipped_scenarios()) {
    const auto copy = haunch.path("runs") / file.filename();
    std::filesystem::copy_file(file, copy);
    runs.push_back(copy);
    ASSERT_EQ(
        haunch
            .run({"truth", file.string(), "--json", "-o", "attempts/" + file.filename().string(), "--force"})
            .code,
        0);
  }
  const Json all = haunch.json({"mark", "runs", "attempts", "--json"});
  EXPECT_EQ(all.at("kind"), "markings");
  ASSERT_EQ(all.at("attempts").size(), runs.size());
  std::set<std::string> used;
  for (const Json& one : all.at("attempts")) {
    EXPECT_EQ(one.at("marking").at("score"), 100) << one.at("attempt");
    EXPECT_EQ(std::filesystem::path(one.at("attempt").get<std::string>()).filename(),
              std::filesystem::path(one.at("truth").get<std::string>()).filename());
    used.insert(one.at("truth").get<std::string>());
  }
  EXPECT_EQ(used.size(), runs.size());
  // What cannot be marked is listed with why, and the rest is marked all the same.
  haunch.write("attempts/nameless.json", R"({"kind": "record", "edition": 1, "observations": []})");
  haunch.write("attempts/broken.json", "{ \"kind\": ");
  const auto told = haunch.run({"mark", "runs", "attempts"});
  EXPECT_EQ(told.code, 1);
  EXPECT_THAT(told.out, HasSubstr("not marked: attempts/nameless.json"));
  EXPECT_THAT(told.out, HasSubstr("does not say which pipe it is of"));
  EXPECT_THAT(told.out, HasSubstr("not marked: attempts/broken.json"));
  EXPECT_THAT(told.out, HasSubstr("score  found"));
  // Held to one run, what is of others is full of misses, and options for one attempt are refused.
  EXPECT_EQ(haunch
                .run({"mark", runs.front().string(), "attempts/nameless.json",
                      "attempts/" + runs.back().filename().string()})
                .code,
            0);
  EXPECT_EQ(haunch.run({"mark", "runs", "attempts", "--html", "page.html"}).code, 2);
}

TEST(Mark, WhatNoCarefulDriveShowsIsHeldAgainstNobody) {
  const Program haunch;
  // A hairline as long as a finger is wide, far round in a wide dark pipe: there, and never plain.
  haunch.write("faint.json", R"({ "kind": "scenario", "edition": 1, "title": "Faint",
"pipe": { "bore_mm": 600, "length_m": 6, "sections": [ { "to_m": 6, "material": "concrete", "unit_length_m": 1 } ] },
"faults": [ { "kind": "crack", "at_m": 3.5, "clock": [2, 2.1], "form": "around", "width_mm": 0.1 },
  { "kind": "roots", "at_m": 5, "clock": [10, 2], "form": "mass", "blocks_percent": 20 } ] })");
  ASSERT_EQ(haunch.run({"truth", "faint.json", "--json", "-o", "all.json"}).code, 0);
  Json attempt = Json::parse(haunch.read("all.json"));
  auto& rows = attempt.at("observations");
  rows.erase(
      std::remove_if(rows.begin(), rows.end(), [](const Json& row) { return row.at("code") == "BAB"; }),
      rows.end());
  haunch.write("attempt.json", attempt.dump());
  // Marked against the record alone, which knows no picture, it is missed.
  const Json strict = haunch.json({"mark", "all.json", "attempt.json", "--json"}),
             fair = haunch.json({"mark", "faint.json", "attempt.json", "--json"});
  EXPECT_EQ(strict.at("missed").size(), 1U);
  EXPECT_LT(strict.at("score"), 100);
  EXPECT_EQ(fair.at("score"), 100) << fair.at("missed");
  ASSERT_EQ(fair.at("not_visible").size(), 1U);
  EXPECT_THAT(fair.at("not_visible")[0].at("why").get<std::string>(),
              HasSubstr("a careful drive shows it nowhere plainly"));
}

TEST(Mark, AnEmptyAttemptIsNothing) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  haunch.write("empty.json", R"({"kind": "record", "edition": 1, "observations": []})");
  auto files = shipped_scenarios();
  files.push_back(haunch.path("clean.json"));
  for (const auto& file : files) {
    const Json marking = haunch.json({"mark", file.string(), "empty.json", "--json"});
    EXPECT_EQ(marking.at("score"), 0) << file;
    EXPECT_TRUE(marking.at("hits").empty());
    EXPECT_TRUE(marking.at("invented").empty());
    EXPECT_FALSE(marking.at("missed").empty()) << "the nodes weigh on a clean run too";
  }
}

TEST(Mark, OneWrongClassIsMisgradedAndLeavesTheCodingAlone) {
  const Program haunch;
  const std::string scenario = shipped("canteen-branch").string();
  Json record = haunch.json({"truth", scenario, "--json"});
  haunch.write("truth.json", record.dump());
  const Json grade = haunch.json({"grade", "truth.json", "--json"});
  Json classes = Json::array();
  for (const Json& graded : grade.at("observations")) {
    Json given = Json::object();
    for (const auto& [goal, one] : graded.at("classes").items()) {
      if (one.at("class").is_number()) given[goal] = one.at("class");
    }
    if (!given.empty()) classes.push_back({{"observation", graded.at("observation")}, {"classes", given}});
  }
  ASSERT_FALSE(classes.empty());
  record["judgement"] = {{"classes", classes}};
  if (grade.at("object_class").is_number()) record["judgement"]["object_class"] = grade.at("object_class");

  const auto wrong_of = [&](const Json& attempt) {
    haunch.write("attempt.json", attempt.dump());
    const Json marking = haunch.json({"mark", scenario, "attempt.json", "--json"});
    EXPECT_EQ(marking.at("score"), 100);
    int wrong = 0;
    for (const Json& one : marking.at("grading").at("classes"))
      wrong += one.at("misgraded").get<bool>() ? 1 : 0;
    const int asked = marking.at("grading").at("asked"), right = marking.at("grading").at("right");
    EXPECT_EQ(asked - right, wrong);
    return wrong;
  };
  EXPECT_EQ(wrong_of(record), 0) << "all classes as the scheme gives them";
  Json& first = record["judgement"]["classes"][0]["classes"].begin().value();
  first = first.get<int>() == 1 ? 2 : first.get<int>() - 1;
  EXPECT_EQ(wrong_of(record), 1);
}

TEST(Mark, OrderNeverMatters) {
  const Program haunch;
  for (const auto& file : shipped_scenarios()) {
    Json record = haunch.json({"truth", file.string(), "--json"});
    // Not perfect: one dropped, one moved, one changed.
    auto& seen = record["observations"];
    const auto point = [&](std::size_t from) {
      while (from < seen.size() && !seen[from].value("stretch", std::string()).empty()) ++from;
      return from;
    };
    const std::size_t drop = point(1);
    ASSERT_LT(drop, seen.size());
    seen.erase(drop);
    const std::size_t moved = point(drop);
    ASSERT_LT(moved, seen.size());
    seen[moved]["distance_m"] = seen[moved]["distance_m"].get<double>() + 0.2;
    haunch.write("attempt.json", record.dump());
    const Json before = haunch.json({"mark", file.string(), "attempt.json", "--json"});
    EXPECT_LT(before.at("score").get<double>(), 100);
    EXPECT_GT(before.at("score").get<double>(), 0);
    std::mt19937 order(7);
    for (int round = 0; round < 5; ++round) {
      std::shuffle(seen.begin(), seen.end(), order);
      haunch.write("attempt.json", record.dump());
      const Json after = haunch.json({"mark", file.string(), "attempt.json", "--json"});
      EXPECT_EQ(after.at("score"), before.at("score")) << file;
      EXPECT_EQ(in_any_order(after), in_any_order(before)) << file;
    }
  }
}

TEST(Mark, AMissAndAnInventionAreToldWithTheirReasons) {
  const Program haunch;
  const std::string scenario = shipped("canteen-branch").string();
  Json record = haunch.json({"truth", scenario, "--json"});
  Json kept = Json::array();
  for (const Json& one : record.at("observations")) {
    if (one.at("code") != "BBA") kept.push_back(one);
  }
  ASSERT_LT(kept.size(), record.at("observations").size()) << "the canteen has roots";
  kept.push_back({{"distance_m", 2.5},
                  {"code", "BAB"},
                  {"ch1", "B"},
                  {"ch2", "B"},
                  {"q1", 2},
                  {"clock_from", 9},
                  {"clock_to", 3}});
  record["observations"] = kept;
  haunch.write("attempt.json", record.dump());
  const Ran ran = haunch.run({"mark", scenario, "attempt.json", "--json"});
  expect_schema(ran.out, "marking");
  const Json marking = Json::parse(ran.out);
  ASSERT_EQ(marking.at("missed").size(), 1U);
  EXPECT_THAT(marking.at("missed")[0].at("code").get<std::string>(), HasSubstr("BBA"));
  ASSERT_EQ(marking.at("invented").size(), 1U);
  EXPECT_EQ(marking.at("invented")[0].at("distance_m"), 2.5);
  EXPECT_LT(marking.at("score").get<double>(), 100);
  for (const char* list : {"missed", "invented"}) EXPECT_NE(marking.at(list)[0].at("sentence"), "");

  const Ran words = haunch.run({"mark", scenario, "attempt.json"});
  EXPECT_EQ(words.code, 0);
  EXPECT_THAT(words.out, HasSubstr(marking.at("missed")[0].at("sentence").get<std::string>().substr(0, 40)));
}

TEST(Mark, InFeetNoMetresAreLeftButInWhatProgramsRead) {
  const Program haunch;
  for (const auto& file : shipped_scenarios()) {
    // Everything out of place, so that every kind of sentence is said.
    Json record = haunch.json({"truth", file.string(), "--json"});
    haunch.write("truth.json", record.dump());  // a record has no pictures to wait for
    Json kept = Json::array();
    std::size_t number = 0;
    for (Json& one : record["observations"]) {
      one["distance_m"] = one["distance_m"].get<double>() + 0.4;
      if (++number % 5 != 0) kept.push_back(one);
    }
    kept.push_back({{"distance_m", 1.5}, {"code", "BAC"}, {"ch1", "A"}, {"q1", 50}, {"clock_from", 3}});
    record["observations"] = kept;
    haunch.write("attempt.json", record.dump());
    const Ran words =
        haunch.run({"mark", "truth.json", "attempt.json", "--units", "ft", "--html", "page.html", "--force"});
    ASSERT_EQ(words.code, 0) << words.err;
    static const std::regex metres("[0-9] ?m(?![A-Za-z0-9])|\\bmetres?\\b");
    for (const std::string& text : {words.out, without_pictures(haunch.read("page.html"))}) {
      EXPECT_THAT(text, HasSubstr(" ft"));
      for (std::sregex_iterator it(text.begin(), text.end(), metres), end; it != end; ++it)
        ADD_FAILURE() << text.substr(static_cast<std::size_t>(std::max<long>(0, it->position() - 50)), 80);
    }
    EXPECT_EQ(haunch.json({"mark", "truth.json", "attempt.json", "--json", "--units", "ft"}),
              haunch.json({"mark", "truth.json", "attempt.json", "--json"}));
  }
}

TEST(Mark, AMissedPondIsShownFromWithinItWhileTheHeadIsClear) {
  const Program haunch;
  haunch.write("empty.json", R"({"kind": "record", "edition": 1, "observations": []})");
  const std::string school = shipped("school-iron-outlet").string();
  double from_m = 0, blind_m = 0;
  const Json truth = haunch.json({"truth", school, "--json"});
  for (const Json& one : truth.at("observations")) {
    const std::string stretch = one.value("stretch", std::string());
    if (stretch.empty() || stretch[0] != 'A') continue;
    if (one.at("code") == "BDD") from_m = one.at("distance_m");
    if (one.at("code") == "BDG") blind_m = one.at("distance_m");
  }
  ASSERT_GT(blind_m, from_m) << "the school's dip takes the camera under";
  ASSERT_EQ(haunch.run({"mark", school, "empty.json", "--html", "page.html"}).code, 0);
  std::smatch seen;
  const std::string html = without_pictures(haunch.read("page.html"));
  ASSERT_TRUE(std::regex_search(html, seen, std::regex("Water level[^\"]*, seen from ([0-9.]+) m")));
  EXPECT_GT(std::stod(seen[1]), from_m);
  EXPECT_LT(std::stod(seen[1]), blind_m);
  // What holds for the whole grade is said once, not with each list that it touches.
  for (const char* note : {"water protection zone", "so no guideline"}) {
    const auto at = html.find(note);
    EXPECT_NE(at, std::string::npos) << note;
    EXPECT_EQ(html.find(note, at + 1), std::string::npos) << note;
  }
}

TEST(Mark, WritesThePageOnRequest) {
  const Program haunch;
  haunch.write("clean.json", clean_scenario);
  haunch.write("empty.json", R"({"kind": "record", "edition": 1, "observations": []})");
  ASSERT_EQ(haunch.run({"truth", "clean.json", "--json", "-o", "truth.json"}).code, 0);
  const Ran ran =
      haunch.run({"mark", "truth.json", "empty.json", "--html", "page.html", "--trainee", "coder-03"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_THAT(haunch.read("page.html"), HasSubstr("coder-03"));
  EXPECT_EQ(haunch.run({"mark", "truth.json", "empty.json", "--html", "truth.json"}).code, 2)
      << "its own input";
}

}  // namespace
}  // namespace haunch::cli_test
