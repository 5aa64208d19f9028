// SPDX-License-Identifier: Apache-2.0
// grade_file FILE: reads inspections (exchange text, JSON or CSV), says what is wrong with them, grades
// those that are sound, and prints the worst finding of each with its reason. A class that rests on rows that
// nobody has read at their source is marked provisional: it is for practice and decides nothing. Exit code 0
// when all were read and graded, 1 when something was wrong with the file or an inspection, 2 when called
// wrongly.
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

const char* provisional(bool is) { return is ? " (provisional)" : ""; }

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
      std::cout << "  " << goal.goal << ": class " << *goal.grade << provisional(goal.provisional) << ", "
                << goal.reason << '\n';
}

void print_object(const grading::Grade& grade) {
  std::cout << "  object class: "
            << (grade.object_class ? std::to_string(*grade.object_class) : std::string("none"))
            // A class that might be worse, were all known, is a lower bound.
            << (grade.object_most > grade.object_class ? " or worse" : "") << provisional(grade.provisional)
            << ", " << grade.object_reason << '\n';
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
      const bool read = told(inspection->remarks),
                 sound = told(coding::validate(record, coding::CodeList::shipped(), words[1], places));
      if (!read || !sound) {
        // A class of what cannot be would look like any other.
        std::cout << "  not graded: it has errors\n";
        whole = false;
        continue;
      }
      // What is not known of the site counts for nothing; `grade.missing` names it.
      const grading::Grade grade = grading::grade(record, scheme, grading::site_from(record));
      print_worst(record, grade);
      print_object(grade);
    }
    return told(inspections.problems()) && whole ? 0 : 1;
  } catch (const std::exception& stop) {
    std::cerr << "grade_file: " << stop.what() << '\n';
    return 3;
  }
}
