// SPDX-License-Identifier: Apache-2.0
// grade_file FILE: reads inspections (exchange text, JSON or CSV), says what is wrong with them, grades
// them, and prints the worst finding of each with its reason. Exit code 0 when all were read and graded,
// 1 when the file could not be read whole, 2 when called wrongly.
#include <exception>
#include <haunch/coding/validate.hpp>
#include <haunch/exchange/inspections.hpp>
#include <haunch/grading/grade.hpp>
#include <iostream>
#include <vector>

using namespace haunch;

namespace {

/// Prints them all; false when an error is among them.
bool told(const base::Problems& problems) {
  for (const base::Problem& problem : problems) std::cout << base::to_line(problem) << '\n';
  return !base::has_errors(problems);
}

void print_worst(const coding::Record& record, const grading::Grade& grade) {
  const std::vector<std::size_t> order = grading::worst_first(grade);
  if (order.empty() || !grade.observations[order.front()].worst) {
    std::cout << "  nothing that has a class\n";
    return;
  }
  const grading::ObservationGrade& worst = grade.observations[order.front()];
  const coding::Observation& observation = *record.find(worst.observation);
  std::cout << "  at " << observation.distance_m.show()
            << " m: " << coding::in_words(observation, coding::CodeList::shipped()) << '\n';
  for (const grading::GoalClass& goal : worst.goals)
    if (goal.goal == worst.worst_goal)
      std::cout << "  " << goal.goal << ": " << goal.reason << (goal.provisional ? " (provisional)" : "")
                << '\n';
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) {
    std::cerr << "usage: grade_file FILE\n";
    return 2;
  }
  try {
    const grading::Scheme& scheme = grading::Scheme::shipped();
    exchange::Inspections inspections(words[1]);
    bool whole = true;
    while (const auto inspection = inspections.next()) {
      const auto& [record, places] = inspection->placed;
      std::cout << "Inspection " << inspection->number << '\n';
      whole = told(inspection->remarks) && whole;
      told(coding::validate(record, coding::CodeList::shipped(), words[1], places));
      // What is not known of the site counts for nothing; `grade.missing` names it.
      const grading::Grade grade = grading::grade(record, scheme, grading::site_from(record));
      print_worst(record, grade);
      std::cout << "  " << grade.object_reason << '\n';
    }
    return told(inspections.problems()) && whole ? 0 : 1;
  } catch (const std::exception& stop) {
    std::cerr << "grade_file: " << stop.what() << '\n';
    return 3;
  }
}
