// SPDX-License-Identifier: Apache-2.0
// What the programs say of the next action and of a pipe that was not seen, on shipped runs.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(Safety, ABrokenDrainIsStoppedAt) {
  const Program haunch;
  const std::string scenario = shipped("terrace-clay-drain").string();
  Json record = haunch.json({"truth", scenario, "--json"});
  record.erase("not_visible");
  for (const auto& [action, right] :
       {std::pair("stop and refer", true), std::pair("call the gas utility", true),
        std::pair("clean again", false), std::pair("carry on", false)}) {
    record["judgement"] = {{"action", action}};
    haunch.write("attempt.json", record.dump());
    const Ran ran = haunch.run({"mark", scenario, "attempt.json", "--json"});
    expect_schema(ran.out, "marking");
    const Json marked = Json::parse(ran.out);
    EXPECT_EQ(marked.at("action").at("right"), right) << marked.at("action");
    EXPECT_EQ(marked.at("warnings").empty(), right) << marked.at("warnings");
  }
}

TEST(Safety, WhatWasNotSeenIsNotFreeOfDefects) {
  const Program haunch;
  haunch.write("empty.json", R"({"observations": []})");
  haunch.write("left.json", R"({"observations": [{"distance_m": 0, "code": "BCD", "ch1": "A"},
    {"distance_m": 0.5, "code": "BDC", "ch1": "A", "ch2": "E"}]})");
  for (const char* file : {"empty.json", "left.json"}) {
    const Ran ran = haunch.run({"grade", file, "--json"});
    expect_schema(ran.out, "grade");
    const Json grade = Json::parse(ran.out);
    EXPECT_TRUE(grade.at("object_class").is_null());
    EXPECT_EQ(grade.at("wholly_inspected"), false);
    EXPECT_THAT(ran.out, Not(HasSubstr("BFR")));
    const std::string text = haunch.run({"grade", file}).out;
    EXPECT_THAT(text, HasSubstr("not wholly inspected"));
    EXPECT_THAT(text, Not(HasSubstr("nothing to do")));
  }
}

TEST(Safety, AScenarioIsNoRecordWithAByteOrderMarkOrWithout) {
  const Program haunch;
  haunch.write("plain.json", clean_scenario);
  haunch.write("marked.json", std::string("\xEF\xBB\xBF") + clean_scenario);
  for (const char* file : {"plain.json", "marked.json"})
    for (const std::vector<std::string>& verb : {std::vector<std::string>{"grade", file},
                                                 {"convert", file, "out.txt"},
                                                 {"mark", "plain.json", file}}) {
      const Ran ran = haunch.run(verb);
      EXPECT_EQ(ran.code, 1) << verb[0];
      EXPECT_THAT(ran.err, HasSubstr("this is a scenario, not a record; expected a record")) << verb[0];
      EXPECT_EQ(problem_lines(ran.err, file), 1) << ran.err;
    }
}

}  // namespace
}  // namespace haunch::cli_test
