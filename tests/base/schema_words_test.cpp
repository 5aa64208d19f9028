// SPDX-License-Identifier: Apache-2.0
// The words for a breach, and that the walk finds a breach exactly where valijson does.
#include "base/schema_words.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace haunch::base {
namespace {

using Json = nlohmann::json;

std::vector<Breach> found(const char* value, const char* schema) {
  return breaches(Json::parse(value), Json::parse(schema));
}

TEST(SchemaWords, KeywordByKeyword) {
  struct Case {
    const char* schema;
    const char* good;
    const char* bad;
    const char* what;
  };
  const Case cases[] = {
      {R"({"type": ["string", "null"]})", "null", "3", "the file is 3"},
      {R"({"const": 4})", "4", "5", "the file is 5"},
      {R"({"minLength": 2})", "\"éé\"", "\"é\"", "the file is too short: \"é\""},
      {R"({"maxLength": 2})", "\"éé\"", "\"ééé\"", "the file is too long (3 characters)"},
      {R"({"pattern": "^[A-Z]{3}$"})", "\"BAB\"", "\"bab\"", "the file is \"bab\""},
      {R"({"multipleOf": 0.5})", "1.5", "1.4", "the file is 1.4"},
      {R"({"minItems": 1})", "[0]", "[]", "the file holds 0 values"},
      {R"({"maxItems": 1})", "[0]", "[0, 0]", "the file holds 2 values"},
      {R"({"uniqueItems": true})", "[0, 1]", "[1, 1]", "1 is in the list twice"},
      {R"({"items": [{"type": "number"}], "additionalItems": false})", "[1]", "[1, 2]",
       "nothing may stand here"},
      {R"({"not": {"const": 1}})", "2", "1", "the file may not be 1"},
      {R"({"exclusiveMaximum": 1})", "0.5", "1", "the file is 1, which is too large"},
      {R"({"if": {"minimum": 5}, "then": {"maximum": 6}, "else": {"minimum": 2}})", "6", "7",
       "the file is 7, which is too large"},
      {R"({"if": {"minimum": 5}, "then": {"maximum": 6}, "else": {"minimum": 2}})", "2", "1",
       "the file is 1, which is too small"},
      {R"({"patternProperties": {"^x": {"type": "number"}}, "additionalProperties": false})", "{\"x1\": 1}",
       "{\"x1\": \"1\"}", "\"x1\" is \"1\""},
      {R"({"additionalProperties": {"type": "integer"}})", "{\"a\": 1}", "{\"a\": 1.5}", "\"a\" is 1.5"},
      {R"({"minProperties": 1})", "{\"a\": 1}", "{}", "the file holds too little"},
      {R"({"oneOf": [{"type": "number"}, {"minimum": 2}]})", "1", "3", "the file could be read in two ways"},
      {R"({"$ref": "#/definitions/a", "definitions": {"a": {"enum": ["x"]}}})", "\"x\"", "\"y\"",
       "the file is \"y\", which is not known here"},
  };
  for (const Case& one : cases) {
    EXPECT_TRUE(found(one.good, one.schema).empty()) << one.schema;
    const auto bad = found(one.bad, one.schema);
    ASSERT_EQ(bad.size(), 1U) << one.schema;
    EXPECT_EQ(bad[0].what, one.what) << one.schema;
  }
}

TEST(SchemaWords, ABranchWithTheRightConstantIsExplained) {
  const char* schema = R"({"oneOf": [
    {"properties": {"kind": {"const": "a"}, "x": {"type": "number"}}, "required": ["kind", "x"], "additionalProperties": false},
    {"properties": {"kind": {"const": "b"}, "y": {"type": "number"}}, "required": ["kind", "y"], "additionalProperties": false}]})";
  const auto bad = found(R"({"kind": "b", "x": 3, "q": 1, "y": 2})", schema);
  ASSERT_EQ(bad.size(), 2U);
  EXPECT_EQ(bad[0].what, "unknown key \"q\"");
  EXPECT_EQ(bad[1].what, "unknown key \"x\"");
}

}  // namespace
}  // namespace haunch::base
