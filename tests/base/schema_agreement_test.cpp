// SPDX-License-Identifier: Apache-2.0
// The walk that finds the words and valijson, an independent validator, agree on what is right: over
// our own schemas and files, changed at random.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#define VALIJSON_USE_EXCEPTIONS 1
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "base/random.hpp"
#include "base/schema_words.hpp"

namespace haunch::base {
namespace {

using Json = nlohmann::json;
namespace fs = std::filesystem;

Json load(const fs::path& path) {
  std::ifstream file(path);
  return Json::parse(file);
}

/// Every value of the document, as pointers.
void pointers(const Json& value, const Json::json_pointer& at, std::vector<Json::json_pointer>& out) {
  out.push_back(at);
  if (value.is_object())
    for (const auto& [key, inner] : value.items()) pointers(inner, at / key, out);
  if (value.is_array())
    for (std::size_t i = 0; i < value.size(); ++i) pointers(value[i], at / i, out);
}

Json something(Random& random) {
  static const Json choices = Json::parse(
      R"([null, true, 0, -1, 1, 3, 13, 140, 0.5, 1e9, "", "x", "crack", "clay", "A", "yes", [], [1], [8, 4], [1, 2, 3], {}, {"kind": "crack"}, "root"])");
  return choices[random.below(static_cast<std::uint32_t>(choices.size()))];
}

void change(Json& document, Random& random) {
  std::vector<Json::json_pointer> all;
  pointers(document, Json::json_pointer(), all);
  const auto at = all[random.below(static_cast<std::uint32_t>(all.size()))];
  Json& value = document[at];
  switch (random.below(4)) {
    case 0:
      value = something(random);
      return;
    case 1:
      if (value.is_object() && !value.empty())
        value.erase(std::next(value.begin(), random.below(static_cast<std::uint32_t>(value.size()))));
      return;
    case 2:
      if (value.is_object()) value[random.below(2) == 0 ? "note" : "nonsense"] = something(random);
      if (value.is_array()) value.push_back(something(random));
      return;
    default:
      value = document[all[random.below(static_cast<std::uint32_t>(all.size()))]];
      return;
  }
}

void agree(const char* schema_name, const std::vector<fs::path>& files, int rounds) {
  const fs::path content = fs::path(HAUNCH_SOURCE_DIR) / "content";
  const Json source = load(content / "schemas" / (std::string(schema_name) + ".schema.json"));
  valijson::Schema schema;
  valijson::SchemaParser(valijson::SchemaParser::kDraft7)
      .populateSchema(valijson::adapters::NlohmannJsonAdapter(source), schema);
  Random random(7);
  int wrong = 0;
  for (const fs::path& file : files) {
    const Json good = load(content / file);
    EXPECT_TRUE(breaches(good, source).empty()) << file;
    for (int round = 0; round < rounds; ++round) {
      Json changed = good;
      for (std::uint32_t n = 1 + random.below(2); n > 0; --n) change(changed, random);
      valijson::Validator validator;
      const bool right =
          validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(changed), nullptr);
      wrong += right ? 0 : 1;
      ASSERT_EQ(breaches(changed, source).empty(), right) << file << '\n' << changed.dump(1);
    }
  }
  EXPECT_GT(wrong, rounds / 4) << "too few of the changes break anything";
}

TEST(SchemaAgreement, Scenarios) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(HAUNCH_SOURCE_DIR) / "content" / "scenarios"))
    if (entry.path().extension() == ".json") files.push_back(fs::path("scenarios") / entry.path().filename());
  ASSERT_FALSE(files.empty()) << "no scenarios are shipped";
  agree("scenario", files, 500);
}

TEST(SchemaAgreement, LearningModel) { agree("learning-model", {"learning/model.json"}, 300); }

TEST(SchemaAgreement, CodeList) { agree("code-list", {"coding/en13508-2.json"}, 300); }

}  // namespace
}  // namespace haunch::base
