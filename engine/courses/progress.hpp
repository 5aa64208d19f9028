// SPDX-License-Identifier: Apache-2.0
// How far a person is in a course, from what was kept of them.
#pragma once

#include <string>
#include <vector>

#include "courses/course.hpp"
#include "scores/kept.hpp"

namespace haunch::courses {

struct LessonState {
  bool open = false;  ///< those that come first are done
  bool read = false;
  std::vector<bool> drills, runs;  ///< done, each
  bool done = false;
  std::string words;  ///< what is still to do: "8 of the last 10 right in \"name it\" (5 of 7 so far)"
};

/// One for each lesson, in the order of the course. `answers` and `attempts` oldest first, all of one person.
/// `run_hashes` says which scenario a run's name stands for now; a run whose file changed is to be driven
/// anew.
std::vector<LessonState> progress_in(const Course& course, const std::vector<scores::Step>& steps,
                                     const std::vector<scores::Answer>& answers,
                                     const std::vector<scores::Attempt>& attempts,
                                     const std::vector<std::pair<std::string, std::string>>& run_hashes);

/// How the last answers to a drill went.
struct DrillTally {
  int right = 0, of = 0;  ///< of is at most what the drill counts
};
DrillTally tally_of(const LessonDrill& drill, const std::vector<scores::Answer>& answers);

}  // namespace haunch::courses
