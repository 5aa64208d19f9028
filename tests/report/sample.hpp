// SPDX-License-Identifier: Apache-2.0
// A small invented exercise for the report's tests: places, people and numbers are ours.
#pragma once

#include <string>

#include "coding/record.hpp"
#include "marking/mark.hpp"
#include "report/exercise_page.hpp"

namespace haunch::report {

inline coding::Observation seen(const std::string& id, double distance_m, const std::string& code,
                                const std::string& ch1 = {}, const std::string& stretch = {}) {
  coding::Observation one;
  one.id = id;
  one.distance_m = distance_m;
  one.code = code;
  one.ch1 = ch1;
  one.stretch = stretch;
  return one;
}

/// Four things are there: a node, a stretch of grease, roots, a hole; one of them found in part, one
/// found, one missed, one hidden; and one is logged that is not there.
inline ExercisePage sample_page() {
  ExercisePage page;
  page.title = "Lower yard <branch> & gully";
  page.trainee = "coder-07";
  page.finished_at = "2026-03-02T09:40:00Z";
  page.truth.observations = {seen("t1", 0, "BCD", "A"), seen("t2", 2, "BBB", "B", "A1"),
                             seen("t3", 6, "BBB", "B", "B1"), seen("t4", 9.5, "BBA", "B"),
                             seen("t5", 14, "BAC", "B")};
  page.truth.observations[3].reason = "fine roots take 4 % of the bore";
  page.truth.not_visible = {{"t5", "under cloudy water"}};
  page.attempt.observations = {seen("o1", 0, "BCD", "A"), seen("o2", 2.1, "BBB", "A", "A1"),
                               seen("o3", 5.8, "BBB", "A", "B1"), seen("o4", 12, "BAB", "B")};
  marking::Marking& marking = page.marking;
  marking.score = 63.4;
  marking.warnings = {"A <gas> pipe was not called out"};
  const marking::Verdict right{marking::Aspect::code,
                               marking::Standing::right,
                               "BCD",
                               "BCD",
                               "the same code",
                               "ours",
                               "The code is right.",
                               1};
  marking::Verdict wrong{marking::Aspect::characterisation,
                         marking::Standing::wrong,
                         "A",
                         "B",
                         "the same letters",
                         "ours",
                         "Grease is B; A is encrustation.",
                         0};
  marking.hits.resize(2);
  marking.hits[0].truth = "t1";
  marking.hits[0].attempt = "o1";
  marking.hits[0].verdicts = {right};
  marking.hits[0].weight = marking.hits[0].earned = 1;
  marking.hits[1].truth = "t2";
  marking.hits[1].attempt = "o2";
  marking.hits[1].verdicts = {right, wrong};
  marking.hits[1].weight = 4;
  marking.hits[1].earned = 2.5;
  marking.missed.resize(1);
  marking.missed[0].truth = "t4";
  marking.missed[0].weight = 3;
  marking.missed[0].dangerous = true;
  marking.missed[0].sentence = "Roots at the joint were not logged.";
  marking.invented.resize(1);
  marking.invented[0].attempt = "o4";
  marking.invented[0].penalty = 1.5;
  marking.invented[0].sentence = "There is no crack here.";
  marking.not_visible.resize(1);
  marking.not_visible[0].truth = "t5";
  marking.not_visible[0].why = "under cloudy water";
  marking.consequence.sentences = {"The roots would have been left to grow."};
  marking.consequence.truth.scheme = "three goals";
  marking.consequence.truth.provisional = true;
  marking.consequence.truth.object_class = 3;
  marking.consequence.truth.missing = {"soil"};
  marking.action.sentence = "Cleaning again is right.";
  return page;
}

}  // namespace haunch::report
