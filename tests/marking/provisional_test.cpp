// SPDX-License-Identifier: Apache-2.0
// Nobody passes or fails by a class that nobody has read at its source: whatever the provisional rows of a
// scheme say, the score, the action and the firm classes of an attempt stay the same.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "base/files.hpp"
#include "campaign.hpp"
#include "marking/helpers.hpp"

namespace haunch::marking {
namespace {

using Json = nlohmann::json;

Json shipped_file() {
  return Json::parse(base::read_file(base::content_dir() / "grading" / "three-goals.json").value());
}

grading::Scheme read(const Json& file) {
  const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
  const auto path =
      std::filesystem::temp_directory_path() / (std::string("haunch-provisional-") + test->name() + ".json");
  std::ofstream(path) << file;
  auto scheme = grading::Scheme::read(path);
  std::filesystem::remove(path);
  if (!scheme) throw std::runtime_error(base::to_line(scheme.problems().front()));
  return std::move(scheme).value();
}

/// The shipped scheme as if every third row had been read; and what its other rows say turned round.
Json partly_firm(bool turned) {
  Json file = shipped_file();
  file["least_final_number"]["source"] = {"A-3.1.2"};
  for (std::size_t i = 0; i < file["rows"].size(); ++i) {
    Json& row = file["rows"][i];
    if (i % 3 == 0) {
      row["source"] = {"A-3.1.2"};
      row["provisional"] = false;
      continue;
    }
    if (!turned) continue;
    if (row.contains("class")) row["class"] = 6 - row["class"].get<int>();
    if (row.contains("from"))
      for (auto& [grade, bound] : row["from"].items()) bound = bound.get<double>() * 0.3;
  }
  return file;
}

TEST(Provisional, ScoreActionAndFirmClassesHangOnNoProvisionalRow) {
  const grading::Scheme one = read(partly_firm(false)), other = read(partly_firm(true));
  base::Random random(41);
  int firm = 0, firm_right = 0, other_consequence = 0, other_right = 0, moved_by_firm = 0;
  for (int i = 0; i < campaign::rounds(150); ++i) {
    const coding::Record truth = testing::random_record(random);
    coding::Record attempt = testing::careless(truth, random);
    // Half of what the first scheme gives for the record, half of it a class off.
    attempt.judgement = testing::own_classes(attempt);
    for (coding::GivenClasses& given : attempt.judgement->classes)
      for (auto& [goal, grade] : given.classes)
        if (random.below(3) == 0) grade = 1 + static_cast<int>(random.below(5));
    const Marking a = mark(truth, attempt, one, {}, Rules::shipped());
    const Marking b = mark(truth, attempt, other, {}, Rules::shipped());
    EXPECT_EQ(a.score, b.score);
    EXPECT_EQ(a.warnings, b.warnings);
    EXPECT_EQ(a.action.right, b.action.right);
    EXPECT_EQ(a.grading.right_firm, b.grading.right_firm);
    EXPECT_EQ(a.grading.asked_firm, b.grading.asked_firm);
    for (const Marking* marked : {&a, &b}) {
      EXPECT_LE(marked->grading.right_firm, marked->grading.right);
      EXPECT_LE(marked->grading.asked_firm, marked->grading.asked);
      EXPECT_LE(marked->grading.right_firm, marked->grading.asked_firm);
    }
    firm += a.grading.asked_firm;
    firm_right += a.grading.right_firm;
    other_right += a.grading.right != b.grading.right ? 1 : 0;
    other_consequence += a.consequence.sentences != b.consequence.sentences ? 1 : 0;
    moved_by_firm += a.score != testing::mark_plain(truth, attempt).score ? 1 : 0;
  }
  // The two schemes do differ, there were firm classes, and those do move the score.
  EXPECT_GT(firm, firm_right);
  EXPECT_GT(firm_right, 50);
  EXPECT_GT(other_right, 50);
  EXPECT_GT(other_consequence, 50);
  EXPECT_GT(moved_by_firm, 20);
}

TEST(Provisional, OfTheShippedSchemesNoClassIsFirm) {
  base::Random random(42);
  for (const std::string& id : grading::Scheme::shipped_ids()) {
    const grading::Scheme scheme = grading::Scheme::shipped_named(id).value();
    int asked = 0;
    for (int i = 0; i < 60; ++i) {
      const coding::Record truth = testing::random_record(random);
      coding::Record attempt = truth;
      coding::Judgement judgement;
      for (const auto& graded : grading::grade(attempt, scheme, {}).observations)
        for (const auto& goal : graded.goals)
          if (goal.grade) judgement.classes.push_back({graded.observation, {{goal.goal, *goal.grade}}});
      judgement.object_class = 3;
      attempt.judgement = judgement;
      const Marking marking = mark(truth, attempt, scheme, {}, Rules::shipped());
      asked += marking.grading.asked;
      EXPECT_EQ(marking.grading.asked_firm, 0);
      EXPECT_EQ(marking.grading.right_firm, 0);
      for (const ClassVerdict& verdict : marking.grading.classes)
        EXPECT_TRUE(!verdict.own_record || verdict.own_provisional) << verdict.sentence;
    }
    EXPECT_GT(asked, 100) << id;
  }
}

TEST(Provisional, TheMarkIsSaidWithTheCount) {
  GradingMarks marks;
  marks.right = 3;
  marks.asked = 5;
  EXPECT_EQ(show_right(marks), "3 of 5 right, all provisional: practice only");
  marks.right_firm = 1;
  marks.asked_firm = 2;
  EXPECT_EQ(show_right(marks), "3 of 5 right; 1 of 2 firm, the rest provisional: practice only");
  marks.right_firm = 3;
  marks.asked_firm = 5;
  EXPECT_EQ(show_right(marks), "3 of 5 right");
  EXPECT_EQ(show_right({}), "0 of 0 right");
}

}  // namespace
}  // namespace haunch::marking
