// SPDX-License-Identifier: Apache-2.0
// grade_file FILE: reads inspections (exchange text, JSON or CSV), says what is wrong with them, grades
// them, and prints the worst finding of each with its reason. Exit code 0 when all were read and graded,
// 1 when the file could not be read whole, 2 when called wrongly.
#include <exception>
#include <haunch/coding/validate.hpp>
#include <haunch/exchange/inspections.hpp>
#include <haunch/grading/grade.hpp>
#include <iostream>

using namespace haunch;

namespace {

/// Prints them all; false when an error is among them.
bool told(const base::Problems& problems) {
  for (const base::Problem& problem : problems) std::cout << base::to_line(problem) << '\n';
  return !base::has_errors(problems);
}

void print_worst(const coding::Record& record, const grading::Grade& grade) {
  const grading::ObservationGrade* where = nullptr;
  const grading::GoalClass* worst = nullptr;
  for (const grading::ObservationGrade& one : grade.observations)
    for (const grading::GoalClass& goal : one.goals)
      if (goal.grade && (worst == nullptr || *goal.grade > *worst->grade)) {
        where = &one;
        worst = &goal;
      }
  if (worst == nullptr) {
    std::cout << "  nothing that has a class\n";
    return;
  }
  const coding::Observation& observation = *record.find(where->observation);
  std::cout << "  at " << observation.distance_m.show()
            << " m: " << coding::in_words(observation, coding::CodeList::shipped()) << '\n'
            << "  " << worst->goal << ": " << worst->reason << (worst->provisional ? " (provisional)" : "")
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
