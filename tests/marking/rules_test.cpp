// SPDX-License-Identifier: Apache-2.0
// Rules files: what is refused and where.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "base/files.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

std::vector<std::string> problems_after(const std::string& from, const std::string& to) {
  const auto shipped = base::read_file(base::content_dir() / "marking" / "rules.json");
  std::string text = shipped.value();
  const auto at = text.find(from);
  if (at == std::string::npos) return {"the rules do not hold: " + from};
  text.replace(at, from.size(), to);
  const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
  const auto path =
      std::filesystem::temp_directory_path() / (std::string("haunch-rules-") + test->name() + ".json");
  std::ofstream(path) << text;
  const auto result = Rules::read(path);
  std::filesystem::remove(path);
  std::vector<std::string> lines;
  for (const base::Problem& problem : result.problems()) lines.push_back(base::to_line(problem));
  return lines;
}

TEST(RulesFile, TheShippedOneIsGood) {
  EXPECT_TRUE(Rules::read(base::content_dir() / "marking" / "rules.json").problems().empty());
}

TEST(RulesFile, EveryShippedOneIsGoodAndGoesByItsName) {
  for (const char* name : {"rules", "teaching", "exam"}) {
    EXPECT_TRUE(Rules::named(name).problems().empty()) << name;
    EXPECT_EQ(Rules::file_named(name), base::content_dir() / "marking" / (std::string(name) + ".json"));
  }
  const auto slip = Rules::named("teachin");
  ASSERT_FALSE(slip.ok());
  EXPECT_THAT(base::to_line(slip.problems().front()), HasSubstr("did you mean \"teaching\""));
}

std::vector<std::string> problems_of(const std::string& text) {
  const auto path = std::filesystem::temp_directory_path() / "haunch-rules-based.json";
  std::ofstream(path) << text;
  std::vector<std::string> lines;
  const auto result = Rules::read(path);
  for (const base::Problem& problem : result.problems()) lines.push_back(base::to_line(problem));
  std::filesystem::remove(path);
  return lines;
}
TEST(RulesFile, SaysOnlyWhatDiffersFromOthers) {
  const std::string head = R"({ "kind": "marking-rules", "edition": 1, "title": "Ours", )";
  EXPECT_THAT(problems_of(head + R"("based_on": "rules" })"), ::testing::IsEmpty());
  EXPECT_THAT(problems_of(head + R"("based_on": "ruels" })"),
              Contains(HasSubstr("no shipped rules are called")));
  EXPECT_THAT(problems_of(head + R"("based_on": "exam" })"),
              Contains(HasSubstr("itself based on other rules")));
  EXPECT_THAT(problems_of(head + R"("note": "nothing else" })"), Contains(HasSubstr("place")));
  EXPECT_THAT(problems_of(head + R"("based_on": "rules", "clock": { "within_h": 1 } })"),
              Contains(HasSubstr("partly_within_h")))
      << "a section is whole or not there";
}

TEST(RulesFile, UnknownKeyShareAndAction) {
  EXPECT_THAT(
      problems_after("\"partly_times\": 2", "\"partly_time\": 2"),
      Contains(::testing::AllOf(HasSubstr("\"partly_time\""), HasSubstr("did you mean \"partly_times\""))));
  EXPECT_THAT(problems_after("\"within_share\": 0.01", "\"within_share\": 1.4"), Contains(HasSubstr("1.4")));
  EXPECT_THAT(problems_after("\"action\": \"do not jet\"", "\"action\": \"do not jett\""),
              Contains(HasSubstr("do not jet")));
}

TEST(RulesFile, WhatMakesNoSense) {
  EXPECT_THAT(problems_after("\"code\": 35", "\"code\": 0"),
              Contains(HasSubstr("the main code weighs nothing")));
  EXPECT_THAT(problems_after("\"partly_within_h\": 2", "\"partly_within_h\": 0.5"),
              Contains(HasSubstr("narrower")));
  EXPECT_THAT(problems_after("\"codes\": [\"*\"]", "\"codes\": [\"BAM\"]"),
              Contains(HasSubstr("no rule holds for every other code")));
  EXPECT_THAT(problems_after("\"reach_m\": 2.0", "\"reach_m\": 0.1"),
              Contains(HasSubstr("reaches less far")));
}

TEST(RulesFile, WhatWeighsNothingIsToldAndCostsNothing) {
  const auto teaching = Rules::named("teaching");
  ASSERT_TRUE(teaching.ok());
  const coding::Record truth =
      testing::record_of({testing::seen(0, "BCD", "A"), testing::seen(6, "BAJ", "B", "", 14, {5, {}, true}),
                          testing::seen(20, "BCE", "A")});
  coding::Record attempt = truth;
  attempt.observations[1].at_joint = false;
  const auto marked = [&](const Rules& rules) {
    return mark(truth, attempt, grading::Scheme::shipped(), {}, rules);
  };
  EXPECT_EQ(marked(teaching.value()).score, 100);
  EXPECT_LT(marked(Rules::shipped()).score, 100);
  const Marking marking = marked(teaching.value());
  const Verdict& joint = testing::verdict_on(marking.hits[1], Aspect::joint);
  EXPECT_EQ(joint.standing, Standing::wrong);
  EXPECT_THAT(joint.sentence, HasSubstr("Told only"));
}

}  // namespace
}  // namespace haunch::marking
