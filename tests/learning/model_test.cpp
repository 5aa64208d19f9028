// SPDX-License-Identifier: Apache-2.0
#include "learning/model.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "base/files.hpp"
#include "coding/code_list.hpp"

namespace haunch::learning {
namespace {

using Json = nlohmann::json;
using testing::HasSubstr;

Json shipped_json() {
  return Json::parse(base::read_file(base::content_dir() / "learning" / "model.json").value());
}

/// The first problem of the shipped file with a change in it.
template <class Change>
std::string problem_of(Change change) {
  Json json = shipped_json();
  change(json);
  const auto read = read_model_text(json.dump(1), "mine.json");
  return read.ok() ? "" : base::to_line(read.problems().front());
}

TEST(LearningModel, EveryMainCodeIsInOneFamily) {
  std::multiset<std::string> listed;
  for (const auto& entry : coding::CodeList::shipped().codes()) listed.insert(entry.code);
  EXPECT_EQ(std::multiset<std::string>(shipped_model().codes.begin(), shipped_model().codes.end()), listed);
  for (std::size_t i = 0; i < shipped_model().codes.size(); ++i) {
    const auto& codes = shipped_model().families[shipped_model().family_of[i]].codes;
    EXPECT_EQ(std::count(codes.begin(), codes.end(), shipped_model().codes[i]), 1);
  }
}

TEST(LearningModel, ProblemsSayWhereAndWhatIsExpected) {
  EXPECT_EQ(problem_of([](Json&) {}), "");
  const std::string unknown = problem_of([](Json& json) { json["families"][0]["codes"][0] = "BAX"; });
  EXPECT_THAT(unknown, HasSubstr("mine.json:"));
  EXPECT_THAT(unknown, HasSubstr("\"BAX\" is no main code"));
  EXPECT_THAT(problem_of([](Json& json) { json["families"][1]["codes"].push_back("BAA"); }),
              HasSubstr("in the family \"bore\" already"));
  EXPECT_THAT(problem_of([](Json& json) { json["families"][0]["codes"].erase(0); }),
              HasSubstr("BAA is in no family"));
  EXPECT_THAT(problem_of([](Json& json) {
                json["confusable"]["pairs"][0] = {"BAB", "BAB"};
              }),
              HasSubstr("taken for itself"));
  EXPECT_THAT(problem_of([](Json& json) { json["order"]["aim"] = {0.9, 0.7}; }), HasSubstr("larger"));
  EXPECT_THAT(problem_of([](Json& json) { json["order"]["easiest"] = 3; }), HasSubstr("hardest"));
  EXPECT_THAT(problem_of([](Json& json) { json["mastery"]["most_counted"] = 5; }), HasSubstr("fewer"));
  EXPECT_THAT(problem_of([](Json& json) { json["mastery"]["recheck_days"] = {30, 7}; }), HasSubstr("rise"));
  EXPECT_THAT(problem_of([](Json& json) { json["order"]["gapp"] = 1; }), HasSubstr("gap"));
  EXPECT_THAT(problem_of([](Json& json) { json["prior"].erase("source"); }), HasSubstr("source"));
}

TEST(LearningModel, EverySectionNamesItsSource) {
  const Json json = shipped_json();
  for (const auto& [key, section] : json.items()) {
    if (section.is_object()) {
      EXPECT_FALSE(section.value("source", "").empty()) << key;
    }
  }
}

TEST(Difficulty, UsualIsNoughtAndLessToSeeIsHarder) {
  const DifficultyRules& rules = shipped_model().difficulty;
  const Measures usual{rules.usual_share, rules.usual_contrast, 0, rules.usual_seconds};
  EXPECT_EQ(difficulty_of(usual, rules), 0);
  Measures half = usual;
  half.share_of_picture /= 2;
  EXPECT_NEAR(difficulty_of(half, rules), rules.per_share_halving, 1e-12);
  Measures dim = usual;
  dim.contrast /= 4;
  EXPECT_NEAR(difficulty_of(dim, rules), 2 * rules.per_contrast_halving, 1e-12);
  Measures quick = usual;
  quick.seconds_in_view /= 2;
  EXPECT_NEAR(difficulty_of(quick, rules), rules.per_seconds_halving, 1e-12);
  Measures behind = usual;
  behind.hidden_share = 0.5;
  EXPECT_NEAR(difficulty_of(behind, rules), rules.when_hidden / 2, 1e-12);
}

TEST(Difficulty, StaysWithinItsBoundsWhateverIsMeasured) {
  const DifficultyRules& rules = shipped_model().difficulty;
  EXPECT_EQ(difficulty_of({}, rules), rules.most) << "what cannot be seen is the hardest";
  EXPECT_EQ(difficulty_of({1, 1, 0, 1e9}, rules), -rules.most);
  const double nan = std::nan("");
  EXPECT_EQ(difficulty_of({nan, nan, nan, nan}, rules), rules.most);
}

}  // namespace
}  // namespace haunch::learning
