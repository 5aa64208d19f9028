// SPDX-License-Identifier: Apache-2.0
// What of an attempt's record could not be taken as it stands: said, never passed over.
#include <algorithm>
#include <map>
#include <set>

#include "base/words.hpp"
#include "grading/along.hpp"
#include "marking/compare.hpp"
#include "marking/judgement.hpp"

namespace haunch::marking {
namespace {

std::string quoted(const std::string& word) { return "\"" + word + "\""; }

std::string meant(const std::string& word, const std::vector<std::string>& known) {
  const std::string near = base::only_nearest_word(word, known);
  return near.empty() ? "." : "; did you mean " + quoted(near) + "?";
}

/// "classes go from 1 to 5."
std::string span_words(int lowest, int highest) {
  return "classes go from " + std::to_string(lowest) + " to " + std::to_string(highest) + ".";
}

}  // namespace

Doubles tell_doubles_apart(coding::Record& record) {
  Doubles doubles;
  std::set<std::string> taken;
  for (const coding::Observation& one : record.observations) taken.insert(one.id);
  std::set<std::string> met;
  std::map<std::string, int> next;
  for (const std::size_t row : grading::order_along(record)) {
    std::string& id = record.observations[row].id;
    if (met.insert(id).second) continue;
    int& number = next.emplace(id, 2).first->second;
    while (taken.contains(id + "/" + std::to_string(number))) ++number;
    const std::string own = id + "/" + std::to_string(number);
    doubles[id].push_back(own);
    taken.insert(own);
    id = own;
  }
  return doubles;
}

std::vector<std::string> remarks_on(const coding::Record& attempt, const std::vector<Finding>& findings,
                                    const Doubles& doubles, const grading::Scheme& scheme,
                                    base::LengthUnit unit) {
  std::vector<std::string> remarks;
  for (const auto& [id, others] : doubles)
    remarks.push_back("The id " + quoted(id) + " names " + std::to_string(others.size() + 1) +
                      " observations; it stands for the first along the pipe, and the others were given ids "
                      "of their own: " +
                      base::join(others, ", ") + ".");
  if (!attempt.judgement) return remarks;
  std::vector<std::string> ids;
  for (const coding::Observation& one : attempt.observations) ids.push_back(one.id);
  std::map<std::pair<std::string, std::string>, std::set<int>> given;
  std::map<std::string, const Finding*> by_id, by_row;
  for (const Finding& one : findings)
    for (const std::string& row : one.rows) by_row.emplace(row, &one);
  for (const coding::GivenClasses& entry : attempt.judgement->classes) {
    const auto found = by_row.find(entry.observation);
    if (found == by_row.end()) {
      remarks.push_back("Classes were given to " + quoted(entry.observation) +
                        ", which the record does not have; they were not counted" +
                        meant(entry.observation, ids));
      continue;
    }
    const std::string& id = found->second->id;
    by_id[id] = found->second;
    for (const auto& [goal, grade] : entry.classes) given[{id, goal}].insert(grade);
  }
  for (const auto& [asked, grades] : given) {
    const auto& [id, goal] = asked;
    const std::string what = where_of(*by_id[id], unit) + ", ";
    if (!is_one_of(scheme.goals(), goal)) {
      remarks.push_back(what + quoted(goal) + ": the scheme has no such goal, only " +
                        base::join(scheme.goals(), ", ") + "; the class given was not counted" +
                        meant(goal, scheme.goals()));
      continue;
    }
    for (const int grade : grades)
      if (grade < 1 || grade > scheme.worst_class())
        remarks.push_back(what + goal + ": class " + std::to_string(grade) + " was given; " +
                          span_words(1, scheme.worst_class()));
    if (grades.size() > 1)
      remarks.push_back(what + goal + ": more than one class was given; class " +
                        std::to_string(*grades.rbegin()) + ", the worst, was taken.");
  }
  if (const auto& object = attempt.judgement->object_class;
      object && (*object < 0 || *object > scheme.worst_class()))
    remarks.push_back("Object class: class " + std::to_string(*object) + " was given; " +
                      span_words(0, scheme.worst_class()));
  std::sort(remarks.begin(), remarks.end());
  return remarks;
}

std::vector<std::string> remarks_on_places(const std::vector<Finding>& truths,
                                           const std::vector<Finding>& attempts, const Rules::Inside& rules,
                                           base::LengthUnit unit) {
  // Only a truth that says where the run begins and ends can tell what lies outside.
  std::optional<double> begins, ends;
  for (const Finding& one : truths) {
    if (!one.from_m) continue;
    if (one.seen->code == "BCD") begins = one.from_m;
    if (is_one_of(rules.run_codes, one.seen->code)) ends = one.from_m;
  }
  std::vector<std::string> remarks;
  if (!begins || !ends) return remarks;
  const auto [low, high] = std::minmax(*begins, *ends);
  const auto shown = [&](double metres) { return base::show_distance(metres, unit); };
  for (const Finding& one : attempts) {
    if (!one.from_m) continue;
    const double reach = farthest_reach_m(one, rules);
    if (one.low_m() >= low - reach && one.high_m() <= high + reach) continue;
    const std::string corrected = one.counted_from_m
                                      ? " (at " + shown(*one.from_m) + " with the counter's error taken off)"
                                      : std::string();
    remarks.push_back(where_of(one, unit) + corrected + " lies outside what was inspected, which goes from " +
                      shown(low) + " to " + shown(high) + ".");
  }
  return remarks;
}

}  // namespace haunch::marking
