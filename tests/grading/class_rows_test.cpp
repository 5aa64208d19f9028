// SPDX-License-Identifier: Apache-2.0
// The class rows of the three goals, field by field, against what is noted of them in the outside file
// grading-bfr.json (`classification_rows`). Source named there: memory of a parallel association guideline
// (DWA-M 149-3), turned round as 5 minus its class. That both agree says that nothing was miswritten, not
// that a row is right.
#include <gtest/gtest.h>

#include <map>

#include "base/files.hpp"
#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

using Json = nlohmann::json;

/// A row in one way of writing, whichever of the two files it is from.
struct ClassRow {
  std::string code, goal, quantity, unit, confidence;
  std::vector<std::string> ch1, ch2, source;
  Json when{};
  std::map<int, double> from{};
  std::optional<double> otherwise{}, flat{};
  bool firm = false;
  bool operator==(const ClassRow&) const = default;
};

std::string text_in(const Json& json, const char* key) {
  return json.contains(key) && json.at(key).is_string() ? json.at(key).get<std::string>() : "";
}
std::vector<std::string> list_in(const Json& json, const char* key) {
  return json.contains(key) && json.at(key).is_array() ? json.at(key).get<std::vector<std::string>>()
                                                       : std::vector<std::string>();
}
std::optional<double> number_in(const Json& json, const char* key) {
  return json.contains(key) && json.at(key).is_number() ? std::optional(json.at(key).get<double>())
                                                        : std::nullopt;
}

ClassRow ours(const Json& json) {
  ClassRow row{text_in(json, "code"), text_in(json, "goal"),       text_in(json, "quantity"),
               text_in(json, "unit"), text_in(json, "confidence"), list_in(json, "ch1"),
               list_in(json, "ch2"),  list_in(json, "source")};
  row.when = json.value("when", Json::object());
  if (json.contains("from"))
    for (const auto& [grade, bound] : json.at("from").items())
      row.from[std::stoi(grade)] = bound.get<double>();
  row.otherwise = number_in(json, "otherwise");
  row.flat = number_in(json, "class");
  row.firm = !json.at("provisional").get<bool>();
  return row;
}

/// The words for a condition there, and what they are here.
const std::map<std::string, Json>& conditions() {
  static const std::map<std::string, Json> all = {
      {"", Json::object()},
      {"rigid pipe", {{"pipe", "rigid"}}},
      {"rigid pipe; bands may differ by diameter", {{"pipe", "rigid"}}},
      {"flexible pipe", {{"pipe", "flexible"}}},
      {"nominal diameter up to 200", {{"bore_to_mm", 200}}},
      {"nominal diameter 201 to 500", {{"bore_above_mm", 200}, {"bore_to_mm", 500}}},
      {"nominal diameter over 500", {{"bore_above_mm", 500}}},
      {"nominal diameter up to 400", {{"bore_to_mm", 400}}},
      {"nominal diameter over 400", {{"bore_above_mm", 400}}}};
  return all;
}

ClassRow noted(const Json& json) {
  ClassRow row{text_in(json, "code"), text_in(json, "goal"),       text_in(json, "quantification"),
               text_in(json, "unit"), text_in(json, "confidence"), list_in(json, "ch1"),
               list_in(json, "ch2"),  list_in(json, "provenance")};
  row.when = conditions().at(text_in(json, "condition"));
  if (json.at("thresholds").is_object()) {
    for (const auto& [key, bound] : json.at("thresholds").items()) {
      if (bound.is_null()) continue;  // no class there
      if (key == "below")
        row.otherwise = bound.get<double>();
      else
        row.from[std::stoi(key.substr(std::string("class").size()))] = bound.get<double>();
    }
  }
  row.flat = number_in(json, "flat_class");
  row.firm = json.at("verified").get<bool>();
  return row;
}

TEST(ThreeGoalRows, EveryFieldIsWrittenAsItWasNoted) {
  const auto file = testing::reference();
  if (!file) GTEST_SKIP() << "the reference file grading-bfr.json is not here";
  const Json shipped =
      Json::parse(base::read_file(base::content_dir() / "grading" / "three-goals.json").value());
  const Json &rows = shipped.at("rows"), &read = file->at("classification_rows");
  ASSERT_EQ(rows.size(), 54U);
  ASSERT_EQ(read.size(), rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const ClassRow here = ours(rows[i]), there = noted(read[i]);
    EXPECT_TRUE(here == there) << rows[i] << "\n" << read[i];
    EXPECT_EQ(here.flat.has_value(), here.from.empty()) << rows[i];
    // A doubt that is noted there is noted here.
    EXPECT_TRUE(read[i].at("note").is_null() || rows[i].contains("note")) << read[i];
  }
}

}  // namespace
}  // namespace haunch::grading
