// SPDX-License-Identifier: Apache-2.0
// What the attempt would do to the grade, in words, worst first.
#include <algorithm>
#include <tuple>
#include <unordered_map>

#include "base/words.hpp"
#include "marking/judgement.hpp"

namespace haunch::marking {
namespace {

struct Difference {
  int how_bad = 0;  ///< sorts: larger first
  double at_m = 0;
  std::string sentence;
};

std::string number(int value) { return std::to_string(value); }

std::string class_words(const grading::Scheme& scheme, const grading::Grade& grade) {
  const int object_class = *grade.object_class;
  const std::string meaning = scheme.object_class_meaning(object_class);
  return number(object_class) + (grade.object_most > object_class ? " or worse" : "") +
         (meaning.empty() ? "" : " (" + meaning + ")");
}

std::string mark_of(bool provisional) { return provisional ? " (provisional)" : ""; }

/// Grading too mild is worse than too strict: nobody acts on what is not in the record.
int badness(int truth, int attempt) {
  return truth > attempt ? 10 * (truth - attempt) + truth : 5 * (attempt - truth);
}

void object_differs(const grading::Scheme& scheme, const Consequence& both,
                    std::vector<Difference>& differences) {
  const auto &there = both.truth.object_class, &here = both.attempt.object_class;
  if (there == here) return;
  const std::string tail = mark_of(both.truth.provisional || both.attempt.provisional) + ".";
  if (there && here)
    differences.push_back({1000, 0,
                           "The pipe would be put in class " + class_words(scheme, both.attempt) +
                               "; it is in class " + class_words(scheme, both.truth) + tail});
  else if (there)
    differences.push_back(
        {1000, 0,
         "The pipe would get no class at all; it is in class " + class_words(scheme, both.truth) + tail});
  else
    differences.push_back({900, 0,
                           "The pipe would be put in class " + class_words(scheme, both.attempt) +
                               "; what is there has no class" + tail});
}

/// What was not seen has no class, whatever the class of the rest.
void coverage_differs(const Consequence& both, std::vector<Difference>& differences) {
  std::vector<std::string> more = both.attempt.not_inspected;
  for (const std::string& why : both.truth.not_inspected) std::erase(more, why);
  if (more.empty()) return;
  differences.push_back({950, 0,
                         "The record does not show the whole pipe (" + base::join(more, "; ") +
                             "): no class can be given for what was not seen."});
}

/// The two grades by id, and the goals in the scheme's order.
struct Grades {
  const std::vector<std::string>& goals;
  GradeById truth, attempt;
};

void pair_differs(const Finding& there, const Finding& mark, const Grades& grades, base::LengthUnit unit,
                  std::vector<Difference>& differences) {
  const std::string place = where_of(there, unit), logged = where_of(mark, unit);
  const std::string what = place + (logged == place ? "" : " (logged as " + logged + ")");
  for (const std::string& goal : grades.goals) {
    const grading::GoalClass* truth = grades.truth.class_in(there.id, goal);
    const grading::GoalClass* attempt = grades.attempt.class_in(mark.id, goal);
    // 0: no class.
    const int wanted = truth == nullptr ? 0 : truth->grade.value_or(0);
    const int got = attempt == nullptr ? 0 : attempt->grade.value_or(0);
    if (wanted == got) continue;
    const bool provisional =
        (truth != nullptr && truth->provisional) || (attempt != nullptr && attempt->provisional);
    std::string sentence = what + ", " + goal + ": ";
    if (wanted > 0 && got > 0)
      sentence += "class " + number(got) + " from what was logged, class " + number(wanted) +
                  " from what is there: " + (got < wanted ? "too mild" : "too strict");
    else if (wanted > 0)
      sentence += "no class from what was logged, class " + number(wanted) + " from what is there";
    else
      sentence += "class " + number(got) + " from what was logged, none from what is there";
    differences.push_back({badness(wanted, got), there.low_m(), sentence + mark_of(provisional) + "."});
  }
}

/// "class 4 for stability, class 3 for tightness", or empty.
std::string classes_words(const std::vector<std::string>& goals, const GradeById& grade,
                          const std::string& id, bool& provisional) {
  std::string words;
  for (const std::string& goal : goals) {
    const grading::GoalClass* one = grade.class_in(id, goal);
    if (one == nullptr || !one->grade) continue;
    words += (words.empty() ? "class " : ", class ") + number(*one->grade) + " for " + goal;
    provisional = provisional || one->provisional;
  }
  return words;
}

}  // namespace

Consequence consequence_of(const coding::Record& truth, const coding::Record& attempt,
                           grading::Grade truth_grade, grading::Grade attempt_grade, const PairedIds& paired,
                           const grading::Scheme& scheme, base::LengthUnit unit) {
  Consequence both{std::move(truth_grade), std::move(attempt_grade), {}};
  std::vector<Difference> differences;
  object_differs(scheme, both, differences);
  coverage_differs(both, differences);
  const Grades grades{both.truth.goals, GradeById(both.truth), GradeById(both.attempt)};
  const std::vector<Finding> marks = findings_of(attempt);
  std::unordered_map<std::string, const Finding*> mark_by_id;
  for (const Finding& mark : marks) mark_by_id.emplace(mark.id, &mark);
  for (const Finding& finding : findings_of(truth)) {
    if (const auto paired_with = paired.mark_of.find(finding.id); paired_with != paired.mark_of.end()) {
      pair_differs(finding, *mark_by_id.at(paired_with->second), grades, unit, differences);
      continue;
    }
    bool provisional = false;
    const std::string classes = classes_words(grades.goals, grades.truth, finding.id, provisional);
    if (!classes.empty())
      differences.push_back({badness(grades.truth.worst_class(finding.id).value_or(0), 0),
                             finding.from_m.value_or(0),
                             where_of(finding, unit) + " is not in the record: " + classes +
                                 " would be lost" + mark_of(provisional) + "."});
  }
  for (const Finding& finding : marks) {
    if (paired.truth_of.contains(finding.id)) continue;
    bool provisional = false;
    const std::string classes = classes_words(grades.goals, grades.attempt, finding.id, provisional);
    if (classes.empty()) continue;
    const bool again = paired.again.contains(finding.id);
    const std::string sentence = again ? " is recorded twice: " + classes + " would be counted once more"
                                       : " is not there: " + classes + " would be made up";
    differences.push_back({badness(0, grades.attempt.worst_class(finding.id).value_or(0)),
                           finding.from_m.value_or(0),
                           where_of(finding, unit) + sentence + mark_of(provisional) + "."});
  }
  std::sort(differences.begin(), differences.end(), [](const Difference& a, const Difference& b) {
    return std::tuple(-a.how_bad, a.at_m, a.sentence) < std::tuple(-b.how_bad, b.at_m, b.sentence);
  });
  for (Difference& difference : differences) both.sentences.push_back(std::move(difference.sentence));
  return both;
}

}  // namespace haunch::marking
