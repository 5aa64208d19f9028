// SPDX-License-Identifier: Apache-2.0
// JSON files: every breach at its place and in words.
#include "base/json_document.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

namespace haunch::base {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

/// A schema in the manner of ours: kinds told apart by if/then. It stands in a content folder of the
/// tests' own, since content_dir() is asked for only once in a program.
constexpr const char* pit_schema = R"({
  "$schema": "http://json-schema.org/draft-07/schema#",
  "type": "object", "required": ["kind", "faults"], "additionalProperties": false,
  "properties": {
    "kind": {"const": "pit"}, "edition": {"type": "integer", "minimum": 1},
    "title": {"type": "string", "minLength": 1},
    "size": {"anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}, {"type": "null"}]},
    "material": {"enum": ["vitrified clay", "concrete", "PVC", "cast iron"]},
    "clock": {"oneOf": [{"$ref": "#/definitions/hour"},
                        {"type": "array", "items": {"$ref": "#/definitions/hour"}, "minItems": 2, "maxItems": 2}]},
    "depth_m": {"type": "number", "exclusiveMinimum": 0, "maximum": 12.5},
    "faults": {"type": "array", "maxItems": 5, "items": {"$ref": "#/definitions/fault"}}
  },
  "definitions": {
    "hour": {"type": "integer", "minimum": 1, "maximum": 12},
    "fault": {
      "type": "object", "required": ["kind"],
      "properties": {"kind": {"enum": ["crack", "root"]}},
      "allOf": [
        {"if": {"properties": {"kind": {"const": "crack"}}, "required": ["kind"]},
         "then": {"properties": {"kind": true, "width_mm": {"type": "number", "minimum": 0, "maximum": 50},
                                 "at_m": {"type": "number"}},
                  "required": ["width_mm"], "additionalProperties": false}},
        {"if": {"properties": {"kind": {"const": "root"}}, "required": ["kind"]},
         "then": {"properties": {"kind": true, "blocks_percent": {"type": "number", "minimum": 0, "maximum": 100}},
                  "required": ["blocks_percent"], "additionalProperties": false}}
      ]
    }
  }
})";

class ContentFolder : public ::testing::Environment {
 public:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "haunch-base-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
    fs::create_directories(folder_ / "schemas");
    std::ofstream(folder_ / "schemas" / "pit.schema.json") << pit_schema;
    std::ofstream(folder_ / "schemas" / "broken.schema.json") << "{";
    ::setenv("HAUNCH_CONTENT", folder_.c_str(), 1);
  }
  void TearDown() override { fs::remove_all(folder_); }

 private:
  fs::path folder_;
};
const auto* const content = ::testing::AddGlobalTestEnvironment(new ContentFolder);

std::vector<std::string> lines(const Problems& problems) {
  std::vector<std::string> out;
  for (const Problem& problem : problems) out.push_back(to_line(problem));
  return out;
}

std::vector<std::string> checked(const std::string& text) {
  const auto result = JsonDocument::read_text(text, "p.json", "pit");
  return lines(result.problems());
}

TEST(JsonDocument, AGoodFileHasNoProblems) {
  const auto result = JsonDocument::read_text(
      R"({"kind": "pit", "edition": 1, "title": "Yard", "size": 3.5, "material": "PVC", "clock": [9, 12],
          "depth_m": 12.5, "faults": [{"kind": "crack", "width_mm": 3, "at_m": 1}, {"kind": "root", "blocks_percent": 4}]})",
      "p.json", "pit");
  ASSERT_TRUE(result.ok()) << to_line(result.problems().front());
  EXPECT_EQ(result.value().root()["faults"][1]["blocks_percent"], 4);
}

TEST(JsonDocument, PlacesOfValues) {
  const auto result =
      JsonDocument::parse("\xEF\xBB\xBF{ \"a\": [1,\r\n  {\"é\": 2,  \"b/c~\": 3}]\n}", "p.json");
  ASSERT_TRUE(result.ok());
  const JsonDocument& document = result.value();
  EXPECT_EQ(document.place(""), (Place{"p.json", 1, 1}));
  EXPECT_EQ(document.place("/a"), (Place{"p.json", 1, 8}));
  EXPECT_EQ(document.place("/a/0"), (Place{"p.json", 1, 9}));
  EXPECT_EQ(document.place("/a/1/é"), (Place{"p.json", 2, 9}));
  EXPECT_EQ(document.place("/a/1/b~1c~0"), (Place{"p.json", 2, 21}));
  EXPECT_EQ(document.place("/a/1/nothing/here"), (Place{"p.json", 2, 3})) << "the nearest parent";
  EXPECT_EQ(document.place("/zzz"), (Place{"p.json", 1, 1}));
}

TEST(JsonDocument, UnknownKeyIsNamedAtTheKeyWithTheNearestOne) {
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"faults\": [],\n \"titel\": \"x\"}"),
      ::testing::ElementsAre("p.json:2:2: unknown key \"titel\"; expected one of: clock, depth_m, edition, "
                             "faults, kind, material, size, title; did you mean \"title\"?"));
}

TEST(JsonDocument, UnknownKeyInsideAKind) {
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"faults\": [\n{\"kind\": \"crack\", \"width_mm\": 3, \"at\": 4}]}"),
      ::testing::ElementsAre(
          "p.json:2:34: unknown key \"at\"; expected one of: at_m, kind, width_mm; did you "
          "mean \"at_m\"?"));
}

TEST(JsonDocument, MissingKeySaysWhatItHolds) {
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"faults\": [\n{\"kind\": \"root\"}]}"),
      ::testing::ElementsAre("p.json:2:1: \"blocks_percent\" is missing in value 1 of \"faults\"; expected "
                             "\"blocks_percent\": a number from 0 to 100"));
  EXPECT_THAT(
      checked("{\"kind\": \"pit\"}"),
      ::testing::ElementsAre("p.json:1:1: \"faults\" is missing; expected \"faults\": a list [ ... ]"));
}

TEST(JsonDocument, OutOfRangeSaysRangeAndWhatWasFound) {
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"faults\": [{\"kind\": \"root\", \"blocks_percent\": 140}]}"),
      ::testing::ElementsAre("p.json:1:63: \"blocks_percent\" is 140, which is too large; expected a number "
                             "from 0 to 100"));
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"depth_m\": 0, \"faults\": []}"),
      ::testing::ElementsAre("p.json:1:28: \"depth_m\" is 0, which is too small; expected a number above 0 "
                             "and of at most 12.5"));
}

TEST(JsonDocument, WrongTypeSaysWhatWasFound) {
  EXPECT_THAT(checked("{\"kind\": \"pit\", \"depth_m\": \"2\", \"faults\": {}}"),
              ::testing::ElementsAre(
                  "p.json:1:28: \"depth_m\" is \"2\"; expected a number above 0 and of at most 12.5",
                  "p.json:1:43: \"faults\" is an object { ... }; expected a list [ ... ]"));
  EXPECT_THAT(checked("[]"),
              ::testing::ElementsAre("p.json:1:1: the file is a list [ ... ]; expected an object { ... }"));
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"edition\": 1.5, \"faults\": []}"),
      ::testing::ElementsAre("p.json:1:28: \"edition\" is 1.5; expected a whole number of at least 1"));
}

TEST(JsonDocument, NotInTheListGivesListAndNearest) {
  EXPECT_THAT(checked("{\"kind\": \"pit\", \"material\": \"clay\", \"faults\": []}"),
              ::testing::ElementsAre(
                  "p.json:1:29: \"material\" is \"clay\", which is not known here; expected one "
                  "of: vitrified clay, concrete, PVC, cast iron; did you mean \"vitrified clay\"?"));
}

TEST(JsonDocument, AnUnknownKindIsOneProblemOnly) {
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"faults\": [{\"kind\": \"crak\", \"width_mm\": 3}]}"),
      ::testing::ElementsAre("p.json:1:37: \"kind\" is \"crak\", which is not known here; expected one of: "
                             "crack, root; did you mean \"crack\"?"));
}

TEST(JsonDocument, OfSeveralFormsTheLikelyOneIsExplained) {
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"clock\": [9, 13], \"faults\": []}"),
      ::testing::ElementsAre("p.json:1:30: value 2 of \"clock\" is 13, which is too large; expected a whole "
                             "number from 1 to 12"));
  EXPECT_THAT(
      checked("{\"kind\": \"pit\", \"clock\": true, \"faults\": []}"),
      ::testing::ElementsAre("p.json:1:26: \"clock\" is true; expected a whole number from 1 to 12 or a list "
                             "[ ... ]"));
}

TEST(JsonDocument, AllProblemsAtOnceInTheOrderOfTheFile) {
  const auto found = checked("{\"kind\": \"pot\",\n\"title\": \"\",\n\"faults\": [1],\n\"x\": 0}");
  ASSERT_EQ(found.size(), 4U);
  for (int line = 1; line <= 4; ++line)
    EXPECT_THAT(found[static_cast<std::size_t>(line - 1)], HasSubstr("p.json:" + std::to_string(line) + ":"));
}

TEST(JsonDocument, ADuplicateKeyIsAProblemAtTheSecond) {
  const auto result = JsonDocument::parse("{\"a\": 1,\n \"b\": {\"c\": 1, \"c\": 2},\n \"a\": 2}", "p.json");
  EXPECT_THAT(
      lines(result.problems()),
      ::testing::ElementsAre(
          "p.json:2:16: the key \"c\" is given twice; the first is in line 2; expected each key once",
          "p.json:3:2: the key \"a\" is given twice; the first is in line 1; expected each key once"));
}

TEST(JsonDocument, NumbersTooLargeAreAProblemNotACrash) {
  const auto result = JsonDocument::parse("{\"a\": 1,\n \"b\": [2, -1e999],\n \"c\": 1E+400}", "p.json");
  EXPECT_THAT(
      lines(result.problems()),
      ::testing::ElementsAre("p.json:2:11: a number is too large to work with; expected numbers below 1e308",
                             "p.json:3:7: a number is too large to work with; expected numbers below 1e308"));
  EXPECT_FALSE(JsonDocument::parse("[1" + std::string(390, '0') + "]", "p.json").ok());
  // The largest double, one with leading zeros in plenty, and what is too small for one.
  for (const char* good : {"[1.7976931348623157e308]", "[0.000001e310]", "[1e-999]", "[0e999]"})
    EXPECT_TRUE(JsonDocument::parse(good, "p.json").ok()) << good;
}

TEST(JsonDocument, AMissingOrBrokenSchemaIsAnException) {
  EXPECT_THROW((void)JsonDocument::read_text("{}", "p.json", "no-such"), std::runtime_error);
  EXPECT_THROW((void)JsonDocument::read_text("{}", "p.json", "broken"), std::runtime_error);
}

TEST(JsonDocument, AMissingFileIsAProblem) {
  const auto result = JsonDocument::read("/nowhere/at/all.json", "pit");
  ASSERT_EQ(result.problems().size(), 1U);
  EXPECT_THAT(result.problems()[0].place.file, "/nowhere/at/all.json");
}

TEST(JsonDocument, ProblemOfTheReadersOwn) {
  const auto result = JsonDocument::parse("{\"faults\":\n [{\"at_m\": 30}]}", "p.json");
  ASSERT_TRUE(result.ok());
  EXPECT_EQ(to_line(result.value().problem("/faults/0/at_m", "the fault is past the end", "up to 24 m")),
            "p.json:2:12: the fault is past the end; expected up to 24 m");
}

}  // namespace
}  // namespace haunch::base
