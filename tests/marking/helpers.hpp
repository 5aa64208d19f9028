// SPDX-License-Identifier: Apache-2.0
// Attempts made from truths: a few words for worked cases, random mutations for properties.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "grading/helpers.hpp"
#include "marking/mark.hpp"

namespace haunch::marking::testing {

using grading::testing::random_defect;
using grading::testing::random_record;
using grading::testing::record_of;
using grading::testing::seen;
using grading_place = grading::testing::Place;
using grading::testing::shuffle;

inline Marking mark_plain(const coding::Record& truth, const coding::Record& attempt) {
  return mark(truth, attempt, grading::Scheme::shipped(), {}, Rules::shipped());
}

/// What a careless person would make of the truth: things left out, moved, misnamed, misread, made up.
inline coding::Record careless(const coding::Record& truth, base::Random& random) {
  coding::Record attempt = truth;
  attempt.observations.clear();
  for (coding::Observation one : truth.observations) {
    if (!one.stretch.empty()) {  // both rows of a stretch, or half of it could not be read
      attempt.observations.push_back(one);
      continue;
    }
    if (random.below(5) == 0) continue;
    if (random.below(4) == 0) one.distance_m = *one.distance_m.value + random.uniform(-0.8, 0.8);
    if (random.below(5) == 0 && one.q1.value) one.q1 = *one.q1.value * random.uniform(0.3, 2);
    if (random.below(6) == 0) one.clock_from = static_cast<int>(random.below(12)) + 1;
    if (random.below(10) == 0) one.code = "BAC";
    attempt.observations.push_back(one);
  }
  if (random.below(3) == 0) attempt.observations.push_back(random_defect(random));
  for (coding::Observation& one : attempt.observations) one.id.clear();
  coding::number_observations(attempt);
  return attempt;
}

/// Classes as the scheme gives them for the record itself.
inline coding::Judgement own_classes(const coding::Record& record) {
  coding::Judgement judgement;
  const grading::Grade grade = grading::grade(record, grading::Scheme::shipped(), {});
  for (const grading::ObservationGrade& one : grade.observations) {
    coding::GivenClasses given{one.observation, {}};
    for (const grading::GoalClass& goal : one.goals)
      if (goal.grade) given.classes[goal.goal] = *goal.grade;
    if (!given.classes.empty()) judgement.classes.push_back(given);
  }
  judgement.object_class = grade.object_class;
  judgement.action = action_for(record, Rules::shipped()).action;
  return judgement;
}

/// Rules as a file says them; its name is nobody else's.
inline Rules rules_from(const std::string& text) {
  static int count = 0;
  const auto path = std::filesystem::temp_directory_path() /
                    ("haunch-rules-" + std::to_string(::getpid()) + "-" + std::to_string(++count) + ".json");
  std::ofstream(path) << text;
  auto rules = Rules::read(path);
  std::filesystem::remove(path);
  EXPECT_TRUE(rules.ok());
  return std::move(rules).value();
}

inline const Verdict& verdict_on(const Hit& hit, Aspect aspect) {
  for (const Verdict& verdict : hit.verdicts)
    if (verdict.aspect == aspect) return verdict;
  throw std::runtime_error("no verdict on " + show(aspect));
}

}  // namespace haunch::marking::testing
