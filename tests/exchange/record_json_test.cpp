// SPDX-License-Identifier: Apache-2.0
// Record files: what is accepted, what is written, and what is said of a bad one.
#include "exchange/record_json.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using test::lines;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

coding::Record read(const std::string& text) {
  auto result = record_from_json(text, "r.json");
  EXPECT_TRUE(result.ok()) << (result.ok() ? "" : base::to_line(result.problems().front()));
  return result.ok() ? result.value().record : coding::Record{};
}

TEST(RecordJson, TheSmallestRecord) {
  const auto record = read("{\"observations\": []}");
  EXPECT_EQ(record, coding::Record{});
  EXPECT_FALSE(record.judgement);
}

TEST(RecordJson, NullIsAbsentEverywhere) {
  const auto record = read(R"({"header": null, "judgement": null, "not_visible": null, "observations": [
    {"id": null, "distance_m": null, "code": "BAB", "ch1": null, "ch2": null, "q1": null, "q2": null, "clock_from": null,
     "clock_to": null, "at_joint": null, "stretch": null, "remark": null, "manhole_place": null, "photo": null, "video": null,
     "extra": null, "reason": null}]})");
  ASSERT_EQ(record.observations.size(), 1U);
  coding::Observation expected;
  expected.id = "o1";
  expected.code = "BAB";
  EXPECT_EQ(record.observations[0], expected);
  EXPECT_FALSE(record.judgement);
}

TEST(RecordJson, NumbersMayBeText) {
  const auto record =
      read(R"({"observations": [{"code": "BCD", "distance_m": "0.50", "q1": "K3/2", "q2": 12}]})");
  EXPECT_EQ(record.observations[0].distance_m.show(), "0.50");
  EXPECT_EQ(record.observations[0].distance_m.value, 0.5);
  EXPECT_EQ(record.observations[0].q1.show(), "K3/2");
  EXPECT_EQ(record.observations[0].q2, coding::Number(12));
}

TEST(RecordJson, HeaderKeepsItsOrderAndRepeats) {
  const auto record = read(
      R"({"header": {"ADE": ["wet", "late"], "ACB": 150, "AAA": "K3-K4", "ABQ": 12.5}, "observations": []})");
  EXPECT_EQ(record.header,
            (std::vector<coding::HeaderField>{
                {"ADE", "wet"}, {"ADE", "late"}, {"ACB", "150"}, {"AAA", "K3-K4"}, {"ABQ", "12.5"}}));
  EXPECT_THAT(record_to_json(record),
              HasSubstr(R"("header": {"ADE":["wet","late"],"ACB":"150","AAA":"K3-K4","ABQ":"12.5"})"));
}

TEST(RecordJson, JudgementInBothForms) {
  const char* as_list =
      R"({"observations": [{"code": "BAB"}], "judgement": {"classes": [{"observation": "o1", "classes": {"tightness": 3}}],
    "object_class": 3, "action": "clean again"}})";
  const char* as_map =
      R"({"observations": [{"code": "BAB"}], "judgement": {"classes": {"o1": {"tightness": 3}},
    "object_class": 3, "action": "clean again"}})";
  const auto record = read(as_list);
  ASSERT_TRUE(record.judgement);
  EXPECT_EQ(record.judgement->classes, (std::vector<coding::GivenClasses>{{"o1", {{"tightness", 3}}}}));
  EXPECT_EQ(record.judgement->object_class, 3);
  EXPECT_EQ(record.judgement->action, coding::Action::clean_again);
  EXPECT_EQ(read(as_map), record);
}

/// Other programs rely on these fields being there.
TEST(RecordJson, EveryPromisedFieldIsWritten) {
  coding::Record record;
  record.observations.resize(1);
  record.observations[0].code = "BDB";
  const auto written = nlohmann::json::parse(record_to_json(record));
  const auto& one = written["observations"][0];
  for (const char* text : {"ch1", "ch2", "stretch", "remark"}) EXPECT_EQ(one.at(text), "") << text;
  for (const char* number : {"distance_m", "q1", "q2", "clock_from", "clock_to"})
    EXPECT_TRUE(one.at(number).is_null()) << number;
  EXPECT_EQ(one.at("at_joint"), false);
  EXPECT_EQ(one.at("code"), "BDB");
  record.observations[0].distance_m = coding::Number::from_text("12.50");
  EXPECT_EQ(nlohmann::json::parse(record_to_json(record))["observations"][0]["distance_m"], 12.5)
      << "a number, not its text";
}

TEST(RecordJson, PlacesOfObservations) {
  const auto result =
      record_from_json("{\"observations\": [\n {\"code\": \"BAB\"},\n   {\"code\": \"BAC\"}]}", "r.json");
  ASSERT_TRUE(result.ok());
  EXPECT_EQ(result.value().places.observations,
            (std::vector<base::Place>{{"r.json", 2, 2}, {"r.json", 3, 4}}));
}

TEST(RecordJson, AnIdGivenTwiceIsAProblemAtTheSecond) {
  const auto result = record_from_json(
      "{\"observations\": [\n {\"id\": \"o1\", \"code\": \"BAB\"},\n {\"code\": \"BAC\"},\n"
      " {\"id\": \"o1\", \"code\": \"BAC\"},\n {\"id\": \"o1\", \"code\": \"BAP\"}]}",
      "r.json");
  using ::testing::Contains;
  const auto told = lines(result.problems());
  for (const std::string place : {"r.json:4:9: ", "r.json:5:9: "})
    EXPECT_THAT(told,
                Contains(place + "the id \"o1\" is taken by the observation in line 2; expected an id of its "
                                 "own, or none"));
  EXPECT_THAT(told, ::testing::Not(Contains(HasSubstr("the name \"o1\"")))) << "told once";
  // It hides nothing else either.
  EXPECT_THAT(told, Contains(HasSubstr("r.json:3:2: BAC: it has no distance")));
  // Two records may use the same ids.
  EXPECT_TRUE(records_from_json("{\"records\": [{\"observations\": [{\"id\": \"o1\", \"code\": \"BAB\"}]}, "
                                "{\"observations\": [{\"id\": \"o1\", \"code\": \"BAB\"}]}]}",
                                "r.json")
                  .ok());
}

TEST(RecordJson, NamesThatPointNowhereAreToldWhereTheyStand) {
  const auto check = [](const std::string& judgement) {
    const auto result =
        record_from_json("{\"observations\": [{\"id\": \"o1\", \"code\": \"BCD\"}],\n" + judgement +
                             ",\n\"not_visible\": [{\"why\": \"mud\",\n  \"observation\": \"o8\"}]}",
                         "r.json");
    std::vector<std::string> found;
    for (const base::Problem& problem : coding::validate(result.value().record, coding::CodeList::shipped(),
                                                         "r.json", result.value().places))
      if (problem.what.find("names an observation") != std::string::npos)
        found.push_back(base::to_line(problem));
    return found;
  };
  EXPECT_THAT(
      check("\"judgement\": {\"classes\": [\n {\"observation\": \"O1\", \"classes\": {}}]}"),
      ElementsAre("r.json:3:18: the judgement names an observation \"O1\" that is not there; expected "
                  "the id of an observation; did you mean \"o1\"?",
                  "r.json:5:18: the list of what could not be seen names an observation \"o8\" that is "
                  "not there; expected the id of an observation; did you mean \"o1\"?"));
  EXPECT_THAT(
      check("\"judgement\": {\"classes\": {\"o1\": {},\n \"nowhere\": {}}}"),
      ::testing::Contains("r.json:3:2: the judgement names an observation \"nowhere\" that is not there; "
                          "expected the id of an observation"));
}

TEST(RecordJson, EveryBreachAtOnceWithItsPlace) {
  const auto result = record_from_json(
      "{\"kind\": \"record\",\n\"observations\": [\n{\"cod\": \"BAB\", \"distance_m\": 1},\n"
      "{\"code\": \"BAB\", \"clock_from\": 13},\n"
      "{\"code\": \"BAB\", \"at_joint\": \"A\"},\n{\"code\": \"BAB\", \"q1\": []}],\n\"judgement\": "
      "{\"action\": \"clean again!\"}}",
      "r.json");
  using ::testing::Contains;
  const auto told = lines(result.problems());
  EXPECT_THAT(told,
              Contains("r.json:3:1: \"code\" is missing in value 1 of \"observations\"; expected \"code\": "
                       "text in double quotes"));
  EXPECT_THAT(told, Contains(::testing::AllOf(HasSubstr("r.json:3:2: unknown key \"cod\""),
                                              HasSubstr("did you mean \"code\"?"))));
  EXPECT_THAT(told,
              Contains("r.json:4:31: \"clock_from\" is 13, which is too large; expected a whole number from "
                       "1 to 12"));
  EXPECT_THAT(told, Contains("r.json:5:29: \"at_joint\" is \"A\"; expected true or false"));
  EXPECT_THAT(told,
              Contains("r.json:6:23: \"q1\" is a list [ ... ]; expected a number or text in double quotes"));
  EXPECT_THAT(told, Contains(::testing::AllOf(HasSubstr("r.json:7:25: \"action\" is \"clean again!\""),
                                              HasSubstr("did you mean \"clean again\"?"))));
}

TEST(RecordJson, ASchemaErrorHidesNothingElse) {
  const auto told =
      lines(record_from_json("{\"observations\": [\n"
                             "{\"distance_m\": 0, \"code\": \"BCD\", \"ch1\": \"A\"},\n"
                             "{\"distance_m\": 2, \"code\": \"BAJ\", \"ch1\": \"A\", \"q1\": 12, "
                             "\"at_joint\": true, \"clock_from\": 13},\n"
                             "{\"distance_m\": -3, \"code\": \"BBF\", \"ch1\": \"Q\"},\n"
                             "{\"distance_m\": 4, \"code\": \"BBC\", \"ch1\": \"A\", \"q1\": 5, "
                             "\"stretch\": \"A1\"},\n"
                             "{\"distance_m\": 1e300, \"code\": \"BCE\", \"ch1\": \"A\"}]}",
                             "r.json")
                .problems());
  using ::testing::Contains;
  EXPECT_THAT(told, Contains(HasSubstr("r.json:3:")));
  EXPECT_THAT(told, Contains(HasSubstr("\"clock_from\" is 13")));
  EXPECT_THAT(told, Contains(::testing::AllOf(HasSubstr("r.json:4:"), HasSubstr("its distance is -3"))));
  EXPECT_THAT(told,
              Contains(::testing::AllOf(HasSubstr("r.json:4:"), HasSubstr("characterisation 1 is \"Q\""))));
  EXPECT_THAT(told, Contains(::testing::AllOf(HasSubstr("r.json:5:"), HasSubstr("begins and never ends"))));
  EXPECT_THAT(told, Contains(::testing::AllOf(HasSubstr("r.json:6:"), HasSubstr("no pipe is as long"))));
  // What was refused is told once, and nothing that only hangs on it.
  EXPECT_THAT(told, ::testing::Not(Contains(HasSubstr("clock position 1"))));
  EXPECT_THAT(told,
              ::testing::Not(Contains(::testing::AllOf(HasSubstr("r.json:3:"), HasSubstr("no clock")))));
}

TEST(RecordJson, WhatHangsOnSomethingRefusedIsNotTold) {
  const auto told = [](const std::string& observation) {
    return lines(
        record_from_json("{\"observations\": [\n" + observation + "],\n\"odd\": 1}", "r.json").problems());
  };
  using ::testing::Contains;
  using ::testing::Not;
  EXPECT_THAT(told("{\"code\": 3, \"distance_m\": 1}"), Not(Contains(HasSubstr("no main code"))));
  EXPECT_THAT(told("{\"code\": 3, \"distance_m\": 1}"), Not(Contains(HasSubstr("no start node"))));
  EXPECT_THAT(told("{\"code\": \"BAP\", \"distance_m\": []}"),
              Not(Contains(HasSubstr("it has no distance"))));
  EXPECT_THAT(told("{\"code\": \"BAP\"}"), Contains(HasSubstr("it has no distance")));
  EXPECT_THAT(told("7"), Not(Contains(HasSubstr("it has no"))));
  for (const char* hostile : {"{\"code\": \"BAP\", \"extra\": [3, [1, 2], [\"a\"]]}", "null", "[]",
                              "{\"code\": null, \"id\": {}, \"stretch\": 4}"})
    EXPECT_FALSE(told(hostile).empty());
}

TEST(RecordJson, OtherFilesAreToldApart) {
  for (const std::string mark : {"", "\xEF\xBB\xBF"}) {
    EXPECT_THAT(lines(record_from_json(mark + "{\"kind\": \"scenario\", \"pipe\": {}}", "r.json").problems()),
                ElementsAre(HasSubstr("r.json:1:10: this is a scenario, not a record; expected a record")));
    EXPECT_THAT(lines(record_from_json(mark + "{\"pipe\": {}}", "r.json").problems()),
                ElementsAre(HasSubstr("this is a scenario, not a record")));
  }
  EXPECT_THAT(lines(record_from_json("{\"kind\": \"marking\"}", "r.json").problems()),
              ElementsAre(HasSubstr("this is a file of the kind \"marking\", not a record")));
  EXPECT_THAT(lines(record_from_json("[]", "r.json").problems()),
              ElementsAre("r.json:1:1: the file is a list [ ... ]; expected an object { ... }"));
  EXPECT_THAT(lines(record_from_json("{\"records\": []}", "r.json").problems()),
              ElementsAre("r.json:1:1: the file holds 0 records; expected one record"));
}

TEST(RecordJson, TextThatIsNotUtf8IsStillWrittenAsJson) {
  coding::Record record;
  record.observations.resize(1);
  record.observations[0].remark = "\xff";
  EXPECT_TRUE(nlohmann::json::accept(record_to_json(record)));
}

/// A folder of a job holds files of other programs.
TEST(RecordJson, SomeOtherJsonIsSaidToBeThat) {
  EXPECT_THAT(
      lines(records_from_json("{\n\"name\": \"x\", \"version\": \"1\", \"scripts\": {}}", "f").problems()),
      ElementsAre("f:1:1: this is some other JSON, not a record: it has \"name\", \"scripts\", \"version\"; "
                  "expected a record, with \"observations\""));
  EXPECT_THAT(
      lines(records_from_json("{\"a1\": 1, \"b2\": 1, \"c3\": 1, \"d4\": 1, \"e5\": 1, \"f6\": 1}", "f")
                .problems()),
      ElementsAre(HasSubstr("\"e5\" and more; expected")));
  // A slip in a key is a record with a slip, and so is nothing at all.
  EXPECT_THAT(lines(records_from_json("{\"observation\": []}", "f").problems()),
              Contains(HasSubstr("\"observations\" is missing")));
  EXPECT_THAT(lines(records_from_json("{}", "f").problems()),
              Contains(HasSubstr("\"observations\" is missing")));
}

}  // namespace
}  // namespace haunch::exchange
