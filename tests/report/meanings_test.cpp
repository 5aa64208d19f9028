// SPDX-License-Identifier: Apache-2.0
#include "report/meanings.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/files.hpp"
#include "coding/code_list.hpp"

namespace haunch::report {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using Json = nlohmann::json;

Json shipped_json() {
  return Json::parse(base::read_file(base::content_dir() / "report" / "meanings.json").value());
}

base::Result<Meanings> read(const Json& json) {
  const fs::path file =
      fs::temp_directory_path() / ("haunch-meanings-" + std::to_string(::getpid()) + ".json");
  std::ofstream(file) << json.dump(1);
  auto result = Meanings::read(file);
  fs::remove(file);
  return result;
}

TEST(Meanings, EveryCodeOfTheListHasOne) {
  const Meanings& meanings = Meanings::shipped();
  for (const coding::CodeEntry& entry : coding::CodeList::shipped().codes()) {
    EXPECT_TRUE(meanings.knows(entry.code)) << entry.code;
    const Meaning& meaning = meanings.of(entry.code, "");
    // What is wrong with the pipe is ranked; what belongs to it is not.
    if (entry.group == "fabric" || entry.group == "operation") {
      EXPECT_EQ(meaning.kind, Kind::finding) << entry.code;
    }
    if (entry.group == "inventory") {
      EXPECT_EQ(meaning.kind, Kind::part) << entry.code;
    }
    for (const auto& [letter, words] : entry.ch1) EXPECT_FALSE(meanings.of(entry.code, letter).title.empty());
  }
}

TEST(Meanings, NoLetterIsMadeUp) {
  for (const Json& json : shipped_json().at("codes")) {
    const coding::CodeEntry* entry = coding::CodeList::shipped().find(json.at("code").get<std::string>());
    ASSERT_NE(entry, nullptr) << json.at("code");
    if (!json.contains("ch1")) continue;
    for (const auto& [letter, words] : json.at("ch1").items())
      EXPECT_TRUE(entry->ch1.contains(letter)) << entry->code << ' ' << letter;
  }
}

TEST(Meanings, ActionsKeepTheirOrderOfCare) {
  const Meanings& meanings = Meanings::shipped();
  std::size_t before = 0;
  for (const coding::Action action : coding::all_actions()) {
    if (action == coding::Action::carry_on) continue;
    EXPECT_GT(meanings.next_for(action), before) << coding::show(action);
    before = meanings.next_for(action);
  }
  EXPECT_EQ(before + 1, meanings.next().size()) << "nothing is more careful than the gas utility";
}

TEST(Meanings, AFileIsHeldToItself) {
  Json json = shipped_json();
  ASSERT_TRUE(read(json).ok());
  json["codes"][0]["usually"] = "pray";
  const auto unknown = read(json);
  ASSERT_FALSE(unknown.ok());
  EXPECT_THAT(base::to_line(unknown.problems().front()),
              HasSubstr("\"pray\" is not among what can come next"));

  json = shipped_json();
  std::swap(json["next"][4]["action"], json["next"][6]["action"]);
  EXPECT_FALSE(read(json).ok()) << "a gas pipe must not come before a jet that is only kept out";
  json = shipped_json();
  json["next"].erase(5);
  EXPECT_FALSE(read(json).ok()) << "an action that nothing stands for";
  json = shipped_json();
  json["codes"].push_back(json["codes"][0]);
  EXPECT_FALSE(read(json).ok());
  json = shipped_json();
  json["codes"][0].erase("source");
  EXPECT_FALSE(read(json).ok());
}

TEST(Meanings, AnUnknownCodeIsSaidToBeOne) {
  EXPECT_THAT(Meanings::shipped().of("XYZ", "A").title, HasSubstr("does not have"));
}

}  // namespace
}  // namespace haunch::report
