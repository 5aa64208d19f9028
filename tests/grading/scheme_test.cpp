// SPDX-License-Identifier: Apache-2.0
// Scheme files: what is refused and where; and that another scheme is only another file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "base/files.hpp"
#include "grading/helpers.hpp"

namespace haunch::grading {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

class SchemeFile : public ::testing::Test {
 protected:
  void SetUp() override {
    const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
    path_ = std::filesystem::temp_directory_path() / (std::string("haunch-scheme-") + test->name() + ".json");
    load("three-goals");
  }
  void load(const std::string& id) {
    const auto shipped = base::read_file(base::content_dir() / "grading" / (id + ".json"));
    ASSERT_TRUE(shipped.ok());
    text_ = shipped.value();
  }
  void TearDown() override { std::filesystem::remove(path_); }

  /// Replaces the first place where `from` stands; it must stand there.
  void change(const std::string& from, const std::string& to) {
    const auto at = text_.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text_.replace(at, from.size(), to);
  }
  base::Result<Scheme> read() {
    std::ofstream(path_) << text_;
    return Scheme::read(path_);
  }
  std::vector<std::string> problems() {
    std::vector<std::string> lines;
    const auto result = read();
    for (const base::Problem& problem : result.problems()) {
      EXPECT_GT(problem.place.line, 0);
      EXPECT_FALSE(problem.expected.empty());
      lines.push_back(base::to_line(problem));
    }
    return lines;
  }

  std::filesystem::path path_;
  std::string text_;
};

TEST_F(SchemeFile, TheShippedOnesAreGood) {
  for (const std::string& id : Scheme::shipped_ids()) {
    load(id);
    EXPECT_TRUE(problems().empty()) << id;
  }
}

TEST_F(SchemeFile, AllThatIsWrongWithTheSecondIsToldAtOnce) {
  load("mean-and-worst");
  change(R"("id": "BAB/AB",)", R"("id": "BAB/C",)");
  change(R"("code": "BBA")", R"("code": "BBX")");
  change(R"("table": "SG")", R"("table": "S~G")");
  change(R"("when": "ordinary")", R"("when": "ordinry")");
  change(R"("divided_by": "wall_thickness_mm")", R"("divided_by": "wall_thicknes_mm")");
  change(R"("without_size": 4)", R"("without_size": 7)");
  change(R"("above": 15, "source": ["wh"])", R"("above": 3, "source": ["wh"])");
  change(R"("of": {"K": 0.15)", R"("of": {"J": 0.15)");
  change(R"("mapping": "weak")", R"("mapping": "good")");
  change(R"("source": ["hf"])", R"("source": ["fh"])");
  change(R"("low": 0.1)", R"("low": 0.6)");
  const auto found = problems();
  for (const char* told :
       {"two rows are called \"BAB/C\"", "\"BBX\" is not a main code",
        "\"S~G\" is not one of the scheme's tables", "\"ordinry\" is not a value of ground",
        "\"wall_thicknes_mm\" is not a field of \"site\"", "class 7 is past the worst class",
        "class 3 starts at 3, not above class 2", "\"J\" is none of \"importance\"",
        "source \"fh\" is not explained", "the high bound is not above the low one"})
    EXPECT_THAT(found, Contains(HasSubstr(told)));
}

TEST_F(SchemeFile, RowsMayNotOverlapNorAskForWhatIsNot) {
  load("mean-and-worst");
  change(R"("ch1": ["A", "B"],)", R"("ch1": ["A", "C", "Q"],)");
  change(R"("goal": "structural")", R"("goal": "structurl")");
  const auto found = problems();
  EXPECT_THAT(found, Contains(HasSubstr("row \"BAB/C\" overlaps row \"BAB/AB\"")));
  EXPECT_THAT(found, Contains(HasSubstr("BAB has no ch1 \"Q\"")));
  EXPECT_THAT(found, Contains(HasSubstr("\"structurl\" is not a goal of this scheme")));
}

TEST_F(SchemeFile, AWeakMappingIsProvisional) {
  load("mean-and-worst");
  const auto row = [](const std::string& mapping, const std::string& source, const std::string& provisional) {
    return "\"mapping\": \"" + mapping + "\",\n      \"source\": [\"" + source +
           "\"],\n      \"confidence\": \"high\",\n      \"provisional\": " + provisional;
  };
  change(row("good", "mapping", "true"), row("weak", "ours", "false"));
  EXPECT_THAT(problems(), Contains(HasSubstr("has a weak mapping and is not marked provisional")));
}

TEST_F(SchemeFile, AnUnknownProcedureIsNamedWithTheKnown) {
  change(R"("procedure": "three goals")", R"("procedure": "three gaols")");
  EXPECT_THAT(problems(), Contains(HasSubstr("three gaols")));
}

TEST_F(SchemeFile, BoundsMustRiseWithTheClass) {
  change("\"from\": {\"5\": 7, \"4\": 4", "\"from\": {\"5\": 4, \"4\": 7");
  EXPECT_THAT(problems(), Contains(HasSubstr("class 5 starts at 4, not above class 4")));
}

TEST_F(SchemeFile, MemoryMustBeMarkedProvisional) {
  change("\"confidence\": \"medium\", \"provisional\": true }",
         "\"confidence\": \"medium\", \"provisional\": false }");
  EXPECT_THAT(problems(), Contains(HasSubstr("is from memory and not marked provisional")));
}

TEST_F(SchemeFile, WhatRestsOnAProvisionalSourceMustBeMarkedToo) {
  load("mean-and-worst");
  change(
      "\"mapping\": \"good\",\n      \"source\": [\"mapping\"],\n      \"confidence\": \"high\",\n      "
      "\"provisional\": true",
      "\"mapping\": \"good\",\n      \"source\": [\"mapping\"],\n      \"confidence\": \"high\",\n      "
      "\"provisional\": false");
  EXPECT_THAT(problems(), ::testing::ElementsAre(HasSubstr("row \"BAB/AB\" is from the provisional source "
                                                           "\"mapping\" and not marked provisional")));
  change("\"provisional_sources\": [\"wh\"", "\"provisional_sources\": [\"wg\"");
  EXPECT_THAT(problems(), Contains(::testing::AllOf(HasSubstr("source \"wg\" is not explained"),
                                                    HasSubstr("did you mean \"wh\""))));
}

TEST_F(SchemeFile, ItsFingerprintIsThatOfItsBytes) {
  for (const std::string& id : Scheme::shipped_ids()) {
    load(id);
    EXPECT_EQ(Scheme::shipped_named(id).value().fingerprint(), base::fingerprint(text_)) << id;
  }
  change("\"edition\": 1", "\"edition\": 2");
  EXPECT_EQ(read().value().fingerprint(), base::fingerprint(text_));
}

TEST_F(SchemeFile, UnknownGoalSourceAndRepeatedIdAreAllNamed) {
  change("\"id\": \"BAA/operation\", \"code\": \"BAA\", \"ch1\": [\"A\", \"B\"], \"goal\": \"operation\"",
         "\"id\": \"BAB/A/tightness\", \"code\": \"BAA\", \"ch1\": [\"A\", \"B\"], \"goal\": \"operaton\"");
  change("\"class\": 1, \"source\": [\"memory\"]", "\"class\": 1, \"source\": [\"memry\"]");
  const auto found = problems();
  EXPECT_THAT(found, Contains(::testing::AllOf(HasSubstr("\"operaton\" is not a goal"),
                                               HasSubstr("did you mean \"operation\""))));
  EXPECT_THAT(found, Contains(::testing::AllOf(HasSubstr("\"memry\" is not explained"),
                                               HasSubstr("did you mean \"memory\""))));
  EXPECT_THAT(found, Contains(HasSubstr("two rows are called \"BAB/A/tightness\"")));
}

TEST_F(SchemeFile, UnknownKeysAreProblems) {
  change("\"worst_class\": 5", "\"worst_class\": 5, \"best_class\": 1");
  EXPECT_THAT(problems(), Contains(HasSubstr("unknown key \"best_class\"")));
}

TEST_F(SchemeFile, AFirmMayAddItsOwn) {
  // A scheme of our own invention: one goal, and a row that somebody has checked.
  text_ =
      R"({ "kind": "grading-scheme", "edition": 1, "id": "yard", "title": "Yard rules", "procedure": "three goals",
    "procedure_source": "the yard's own sheet", "sources": { "sheet": "the yard's own sheet" }, "goals": ["flow"], "worst_class": 3,
    "class_numbers": { "numbers": { "1": 1, "2": 2, "3": 3 }, "source": ["sheet"], "confidence": "high" },
    "boundary_points": { "conditions": [] },
    "least_final_number": { "value": 0, "source": ["sheet"], "confidence": "high" },
    "point_length_m": { "value": 0.5, "source": ["sheet"], "confidence": "high" },
    "length_points": { "found": false, "why": "the yard adds none" },
    "object_class": { "from": { "3": 3, "2": 2 }, "otherwise": 1, "source": ["sheet"], "confidence": "high",
      "provisional": false, "meaning_source": ["sheet"], "meaning": { "3": "now" } },
    "rows": [
      { "id": "r", "code": "BBA", "goal": "flow", "quantity": "q1", "unit": "%", "from": { "3": 40, "2": 15 }, "otherwise": 1,
        "source": ["sheet"], "confidence": "high", "provisional": false },
      { "id": "s", "code": "BAB", "goal": "flow", "not_relevant": true, "source": ["sheet"], "confidence": "high", "provisional": false } ] })";
  const auto scheme = read();
  ASSERT_TRUE(scheme.ok()) << base::to_line(scheme.problems().front());
  const Grade all =
      grade(testing::record_of({testing::seen(1, "BBA", "B", "", 20), testing::seen(2, "BAB", "C", "A", 9)}),
            scheme.value(), {});
  EXPECT_EQ(all.object_class, 2);
  EXPECT_FALSE(all.provisional);
  EXPECT_EQ(all.length_number, 1);
  EXPECT_EQ(all.observations.at(1).goals.at(0).outcome, Outcome::not_relevant);
  EXPECT_EQ(all.observations.at(1).goals.at(0).row, "s");
  EXPECT_THAT(all.notes, Contains(HasSubstr("the yard's own sheet")));
}

}  // namespace
}  // namespace haunch::grading
