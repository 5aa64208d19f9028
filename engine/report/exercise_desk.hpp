// SPDX-License-Identifier: Apache-2.0
// What the parts of an exercise's page are made from. Inside this room.
#pragma once

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "report/exercise_page.hpp"
#include "report/lines.hpp"

namespace kainjow::mustache {
template <typename string_type>
class basic_data;
}

namespace haunch::report {

/// Everything the page's parts look up.
struct ExerciseDesk {
  const ExercisePage& page;
  const coding::CodeList& list;
  std::vector<Line> truths, attempts;
};

/// What a template is filled with: the template library's own `data` and `list`, whose heavy header stays in
/// the .cpp files.
using ExerciseData = kainjow::mustache::basic_data<std::string>;
using ExerciseList = std::vector<ExerciseData>;

/// By where they stand in the truth, so that a page reads along the pipe.
template <class Marks>
std::vector<typename Marks::value_type> along_the_pipe(const ExerciseDesk& desk, const Marks& marks) {
  std::vector<typename Marks::value_type> sorted(marks.begin(), marks.end());
  std::stable_sort(sorted.begin(), sorted.end(), [&](const auto& a, const auto& b) {
    return find_line(desk.truths, a.truth) < find_line(desk.truths, b.truth);
  });
  return sorted;
}

/// A plain list of sentences.
ExerciseList sentences(const std::vector<std::string>& texts);
void set_line(ExerciseData& entry, const Line* line, const std::string& id);
/// The place on the page that tells of a line; truth's labels are numbers, the attempt's letters.
std::string anchor(const Line* line);
ExerciseList pictures_of(const ExercisePage& page, const std::function<bool(const Picture&)>& wanted);

// exercise_marks.cpp
ExerciseList hits_data(const ExerciseDesk& desk);
ExerciseList missed_data(const ExerciseDesk& desk);
ExerciseList invented_data(const ExerciseDesk& desk);
ExerciseList unseen_data(const ExerciseDesk& desk);
ExerciseList tolerances_data(const ExerciseDesk& desk);

// exercise_grading.cpp
void set_grading(ExerciseData& page, const ExerciseDesk& desk);
void set_scheme(ExerciseData& page, const ExerciseDesk& desk);

}  // namespace haunch::report
