// SPDX-License-Identifier: Apache-2.0
#include "courses/progress.hpp"

#include <algorithm>
#include <set>

namespace haunch::courses {
namespace {

constexpr double right_from = 0.999;

bool is_about(const scores::Answer& answer, const LessonDrill& drill) {
  if (answer.kind != drill.kind) return false;
  // What shows nothing wrong is about no code, and belongs to every set.
  return drill.codes.empty() || answer.code.empty() ||
         std::find(drill.codes.begin(), drill.codes.end(), answer.code) != drill.codes.end();
}

void add(std::string& words, const std::string& more) { words += (words.empty() ? "" : "; ") + more; }

std::string number(int n) { return std::to_string(n); }

}  // namespace

DrillTally tally_of(const LessonDrill& drill, const std::vector<scores::Answer>& answers) {
  DrillTally tally;
  for (auto one = answers.rbegin(); one != answers.rend() && tally.of < drill.of; ++one) {
    if (!is_about(*one, drill)) continue;
    ++tally.of;
    tally.right += one->credit >= right_from ? 1 : 0;
  }
  return tally;
}

std::vector<LessonState> progress_in(const Course& course, const std::vector<scores::Step>& steps,
                                     const std::vector<scores::Answer>& answers,
                                     const std::vector<scores::Attempt>& attempts,
                                     const std::vector<std::pair<std::string, std::string>>& run_hashes) {
  std::set<std::string> read, done;
  for (const scores::Step& step : steps)
    if (step.course == course.id) read.insert(step.step);
  const auto driven = [&](const LessonRun& run) {
    const auto hash = std::find_if(run_hashes.begin(), run_hashes.end(),
                                   [&](const auto& one) { return one.first == run.scenario; });
    return hash != run_hashes.end() &&
           std::any_of(attempts.begin(), attempts.end(), [&](const scores::Attempt& attempt) {
             return attempt.scenario_hash == hash->second && attempt.score >= run.at_least;
           });
  };
  std::vector<LessonState> states;
  for (const Lesson& lesson : course.lessons) {
    LessonState state;
    state.open = std::all_of(lesson.after.begin(), lesson.after.end(),
                             [&](const std::string& id) { return done.contains(id); });
    state.read = lesson.text.empty() || read.contains(lesson.id);
    if (!state.read) add(state.words, "to be read");
    for (const LessonDrill& drill : lesson.drills) {
      const DrillTally tally = tally_of(drill, answers);
      state.drills.push_back(tally.right >= drill.right);
      if (!state.drills.back())
        add(state.words, number(drill.right) + " of the last " + number(drill.of) + " right in \"" +
                             drill.kind + "\" (" + number(tally.right) + " of " + number(tally.of) +
                             " so far)");
    }
    for (const LessonRun& run : lesson.runs) {
      state.runs.push_back(driven(run));
      if (!state.runs.back()) add(state.words, "a run to be driven");
    }
    const auto is_done = [](bool one) { return one; };
    state.done = state.read && std::all_of(state.drills.begin(), state.drills.end(), is_done) &&
                 std::all_of(state.runs.begin(), state.runs.end(), is_done);
    if (state.done) done.insert(lesson.id);
    states.push_back(std::move(state));
  }
  return states;
}

}  // namespace haunch::courses
