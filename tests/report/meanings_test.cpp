// SPDX-License-Identifier: Apache-2.0
#include "report/meanings.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
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

Json& step(Json& json, const std::string& id) {
  return *std::find_if(json["next"].begin(), json["next"].end(),
                       [&](const Json& one) { return one.at("id") == id; });
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
  const Json meanings = shipped_json();
  for (const Json& json : meanings.at("codes")) {
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
  std::swap(step(json, "clean again")["action"], step(json, "refer")["action"]);
  EXPECT_FALSE(read(json).ok()) << "a gas pipe must not come before a jet that is only kept out";
  json = shipped_json();
  step(json, "do not jet")["action"] = "have it repaired";
  EXPECT_FALSE(read(json).ok()) << "an action that nothing stands for";
  json = shipped_json();
  step(json, "spot repair").erase("action");
  EXPECT_FALSE(read(json).ok()) << "a step that does not say what it does";
  json = shipped_json();
  step(json, "spot repair")["action"] = "mend";
  EXPECT_FALSE(read(json).ok()) << "an action that the outputs' schema does not have";
  json = shipped_json();
  json["remark_signs"][0]["next"] = "pray";
  EXPECT_FALSE(read(json).ok());
  json = shipped_json();
  json["codes"].push_back(json["codes"][0]);
  EXPECT_FALSE(read(json).ok());
  json = shipped_json();
  json["codes"][0].erase("source");
  EXPECT_FALSE(read(json).ok());
}

// Another program reads the action alone: it must not clean what the page would have repaired.
TEST(Meanings, EachStepNamesTheActionItSays) {
  const Meanings& meanings = Meanings::shipped();
  std::map<std::string, std::string> said;
  for (const NextStep& step : meanings.next()) said[step.id] = step.action_words;
  const std::map<std::string, std::string> wanted{{"nothing", "carry on"},
                                                  {"watch", "carry on"},
                                                  {"inspect the rest", "inspect the rest"},
                                                  {"ask", "ask for advice"},
                                                  {"clean again", "clean again"},
                                                  {"spot repair", "have it repaired"},
                                                  {"ask within days", "ask within days"},
                                                  {"do not jet", "do not jet"},
                                                  {"refer", "stop and refer"},
                                                  {"gas", "call the gas utility"}};
  EXPECT_EQ(said, wanted);
}

TEST(Meanings, OneKeyOfTheOutputsHoldsTheActions) {
  const auto schema = [](const char* name) {
    return Json::parse(base::read_file(base::content_dir() / "schemas" / name).value());
  };
  EXPECT_EQ(schema("meanings.schema.json").at("/properties/next/items/properties/action/enum"_json_pointer),
            schema("grade.schema.json").at("/definitions/action/enum"_json_pointer));
}

bool any_sign_in(const std::string& remark) {
  const auto& signs = Meanings::shipped().remark_signs();
  return std::any_of(signs.begin(), signs.end(),
                     [&](const RemarkSign& sign) { return sign.stands_in(remark); });
}

TEST(RemarkSigns, GasAndYellowPipesAreFoundHoweverTheyAreSpelt) {
  for (const char* remark : {"Gas",
                             "GAS pipe?",
                             "smell of gas.",
                             "gas-pipe through the crown",
                             "Gasleitung quert",
                             "ERDGASROHR",
                             "Rohr (Gas) quert",
                             "conduite de gaz",
                             "tuyau jaune",
                             "Yellow 63 mm PE pipe crosses",
                             "yellow plastic",
                             "pipe, yellow",
                             "gelbes Rohr durch den Kanal",
                             "gelbes PE-HD Rohr",
                             "GELBE LEITUNG",
                             "odeur de M\u00C9THANE",
                             "Methangeruch",
                             "geel buisje",
                             "cross bore?",
                             "crossbore",
                             "foreign pipe",
                             "power cable in drain",
                             "Fremdleitung",
                             "no gas smelt"})
    EXPECT_TRUE(any_sign_in(remark)) << remark;
}

TEST(RemarkSigns, PipesThatCrossAndDangerousAirAreFoundToo) {
  for (const char* remark :
       {"orange plastic pipe through the bore", "orange pipe crosses the drain",
        "orangefarbenes Rohr im Kanal", "unknown pipe crosses the bore", "black pipe crosses the drain",
        "water main crosses", "Rohr kreuzt", "Rohr DN 100 quert den Kanal", "yellow PE through crown",
        "Yellow HDPE at 12", "H2S alarm", "hydrogen sulphide alarm", "Schwefelwasserstoff gemessen",
        "explosive atmosphere, 20% LEL", "alarm at 10 % LEL", "low oxygen", "smell of petrol",
        "Benzingeruch"})
    EXPECT_TRUE(any_sign_in(remark)) << remark;
}

// Wear by acid, what belongs to a petrol station, and cracks that cross the pipe are everyday remarks.
TEST(RemarkSigns, WhatSoundsAlikeIsNoDanger) {
  for (const char* remark :
       {"H2S corrosion", "sulphide attack on the crown", "crack crosses the pipe", "Riss quert das Rohr",
        "petrol station", "Benzinabscheider", "orange", "orange deposit on the wall", "pe", "PVC from here",
        "explosion-proof camera", "oxygen", "water level high"})
    EXPECT_FALSE(any_sign_in(remark)) << remark;
}

TEST(RemarkSigns, AnInspectionOfTheTradeIsNoAlarm) {
  std::ifstream file(HAUNCH_SOURCE_DIR "/../shared/reference/example_13508_2.txt");
  if (!file) GTEST_SKIP() << "the third-party file example_13508_2.txt is not here";
  int lines = 0;
  for (std::string line; std::getline(file, line); ++lines) EXPECT_FALSE(any_sign_in(line)) << line;
  EXPECT_GT(lines, 50);
}

TEST(RemarkSigns, OrdinaryRemarksAreNone) {
  for (const char* remark :
       {"", "gasket hangs in", "Gasse 12", "Gasthaus", "gazon", "yellow grease lies along the whole pipe",
        "gelblich", "gelbliche Ablagerung im Rohr", "yellowish deposit on pipe", "cross section of the pipe",
        "Vegas", "pipe", "Leitung voll Wasser", "63", "???", "line ends here", "\xFF\xFE"})
    EXPECT_FALSE(any_sign_in(remark)) << remark;
}

TEST(Meanings, AnUnknownCodeIsSaidToBeOne) {
  EXPECT_THAT(Meanings::shipped().of("XYZ", "A").title, HasSubstr("does not have"));
}

}  // namespace
}  // namespace haunch::report
