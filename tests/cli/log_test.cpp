// SPDX-License-Identifier: Apache-2.0
// Input logs as attempts: of this run, of this run as it was, of another, and unfinished.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> shipped_log() {
  std::ifstream stream(fs::path(HAUNCH_SOURCE_DIR) / "content" / "demo" / "canteen-branch.attempt.jsonl");
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

std::string text_of(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

std::string with(const std::string& header, const char* key, const std::string& value) {
  Json json = Json::parse(header);
  json[key] = value;
  return json.dump();
}

TEST(Log, OfThisRunIsMarkedWithoutAWord) {
  const Program haunch;
  haunch.write("log.jsonl", text_of(shipped_log()));
  const Ran ran = haunch.run({"mark", shipped("canteen-branch").string(), "log.jsonl", "--json"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
}

TEST(Log, OfAnotherRunIsAnError) {
  const Program haunch;
  auto lines = shipped_log();
  lines[0] = with(lines[0], "scenario", "Some other run");
  haunch.write("log.jsonl", text_of(lines));
  const std::string scenario = shipped("canteen-branch").string();
  for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
           {"mark", scenario, "log.jsonl"}, {"demo", "--attempt", "log.jsonl", "--out", "job"}}) {
    const Ran ran = haunch.run(arguments);
    EXPECT_EQ(ran.code, 1) << arguments[0];
    EXPECT_THAT(ran.err, HasSubstr("log.jsonl:1:1: the log is of another run, \"Some other run\""));
  }
}

TEST(Log, OfThisRunAsItWasIsAWarning) {
  const Program haunch;
  auto lines = shipped_log();
  lines[0] = with(lines[0], "scenario_hash", "0123456789abcdef");
  haunch.write("log.jsonl", text_of(lines));
  const Ran ran = haunch.run({"mark", shipped("canteen-branch").string(), "log.jsonl"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_THAT(ran.err, HasSubstr("log.jsonl:1:1: warning: "));
  EXPECT_THAT(ran.err, HasSubstr("0123456789abcdef"));
}

TEST(Log, UnfinishedIsARemarkForMarkingAndAnErrorForTheDemo) {
  const Program haunch;
  auto lines = shipped_log();
  lines.pop_back();  // the second "finish"
  haunch.write("log.jsonl", text_of(lines));
  const Ran ran = haunch.run({"mark", shipped("canteen-branch").string(), "log.jsonl", "--json"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_THAT(ran.err, HasSubstr(": note: the exercise was not finished"));
  EXPECT_EQ(haunch.run({"demo", "--attempt", "log.jsonl", "--out", "job"}).code, 1);
}

}  // namespace
}  // namespace haunch::cli_test
