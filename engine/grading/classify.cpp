// SPDX-License-Identifier: Apache-2.0
#include "grading/classify.hpp"

#include <algorithm>

#include "base/words.hpp"

namespace haunch::grading {
namespace {

using base::show_number;

enum class Holds { yes, no, unknown };

Holds worst_of(Holds a, Holds b) {
  if (a == Holds::no || b == Holds::no) return Holds::no;
  return a == Holds::unknown || b == Holds::unknown ? Holds::unknown : Holds::yes;
}

Holds holds(const Row& row, const PipeHere& pipe) {
  Holds result = Holds::yes;
  if (!row.pipe.empty())
    result = pipe.stiffness.empty() ? Holds::unknown : pipe.stiffness == row.pipe ? Holds::yes : Holds::no;
  if (row.bore_above_mm || row.bore_to_mm) {
    Holds bore = Holds::unknown;
    if (pipe.bore_mm)
      bore = (row.bore_above_mm && *pipe.bore_mm <= *row.bore_above_mm) ||
                     (row.bore_to_mm && *pipe.bore_mm > *row.bore_to_mm)
                 ? Holds::no
                 : Holds::yes;
    result = worst_of(result, bore);
  }
  return result;
}

std::string condition_words(const Row& row) {
  std::vector<std::string> words;
  if (!row.pipe.empty()) words.push_back(row.pipe + " pipe");
  if (row.bore_above_mm) words.push_back("bore over " + show_number(*row.bore_above_mm) + " mm");
  if (row.bore_to_mm) words.push_back("bore up to " + show_number(*row.bore_to_mm) + " mm");
  return base::join(words, ", ");
}

std::string pipe_words(const PipeHere& pipe) {
  return (pipe.stiffness.empty()
              ? "stiffness not known (material " + (pipe.material.empty() ? "not given" : pipe.material) + ")"
              : pipe.stiffness + " pipe (" + pipe.material + ")") +
         ", bore " + (pipe.bore_mm ? show_number(*pipe.bore_mm) + " mm" : "not given");
}

bool fits(const std::vector<std::string>& letters, const std::string& given) {
  return letters.empty() || std::find(letters.begin(), letters.end(), given) != letters.end();
}

std::string meaning_of(const Row& row, const coding::CodeList& list) {
  const coding::CodeEntry* entry = list.find(row.code);
  if (entry == nullptr) return row.quantity;
  const auto& rule = row.quantity == "q2" ? entry->q2 : entry->q1;
  return rule && !rule->meaning.empty() ? rule->meaning : row.quantity;
}

void outcome(GoalClass& result, Outcome what, std::string why) {
  result.outcome = what;
  result.reason = std::move(why);
}

void decide(GoalClass& result, const Row& row, const Finding& finding, const coding::CodeList& list) {
  result.row = row.id;
  result.source = row.source;
  result.provisional = row.provisional;
  const std::string condition = condition_words(row);
  const std::string head = "row " + row.id + (condition.empty() ? "" : " (" + condition + ")") + ": ";
  if (row.not_relevant) return outcome(result, Outcome::not_relevant, head + "not relevant to " + row.goal);
  result.outcome = Outcome::classed;
  if (row.flat) {
    result.grade = row.flat;
    result.reason = head + "class " + std::to_string(*row.flat) + " whatever the size";
    return;
  }
  const std::optional<double> size = row.quantity == "q2" ? finding.q2 : finding.q1;
  if (!size) {
    result.provisional = false;
    return outcome(result, Outcome::value_missing,
                   head + meaning_of(row, list) + " in " + row.unit + " is not given");
  }
  const std::string measured = head + meaning_of(row, list) + " " + show_number(*size) + " " + row.unit;
  for (auto bound = row.from.rbegin(); bound != row.from.rend(); ++bound)
    if (*size >= bound->second) {
      result.grade = bound->first;
      result.reason = measured + ", from " + show_number(bound->second) + " " + row.unit + ": class " +
                      std::to_string(bound->first);
      return;
    }
  const std::string below = ", below " + show_number(row.from.begin()->second) + " " + row.unit;
  if (!row.otherwise) {
    result.provisional = false;
    return outcome(result, Outcome::no_row, measured + below + ", where the row ends");
  }
  result.grade = row.otherwise;
  result.reason = measured + below + ": class " + std::to_string(*row.otherwise);
}

/// Which of the place rows hold for a clock position: "lower", "upper", "whole", two of them where
/// an arc crosses or touches a limit, none where no clock is given.
std::vector<std::string> places_on(const std::optional<int>& from_h, const std::optional<int>& to_h) {
  if (!from_h) return {};
  const int from = *from_h, to = to_h.value_or(from);
  if (from < 1 || from > 12 || to < 1 || to > 12) return {};
  if (to_h && from == 12 && to == 12) return {"whole"};
  // The table's own arcs, named as they stand there.
  if (from == 3 && to == 9) return {"lower"};
  if (from == 9 && to == 3) return {"upper"};
  bool lower = false, upper = false;
  for (int hour = from;; hour = hour % 12 + 1) {
    lower = lower || (hour >= 3 && hour <= 9);
    upper = upper || hour >= 9 || hour <= 3;
    if (hour == to) break;
  }
  if (lower && upper) return {"lower", "upper"};
  return {lower ? "lower" : "upper"};
}

}  // namespace

GoalClass classify(const Finding& finding, const std::string& goal, const Scheme::Inside& scheme,
                   const coding::CodeList& list) {
  GoalClass result;
  result.goal = goal;
  const coding::Observation& seen = *finding.seen;
  bool any = false, letter_missing = false;
  std::vector<const Row*> fitting;
  for (const Row& row : scheme.rows) {
    if (row.code != seen.code || row.goal != goal) continue;
    any = true;
    if (fits(row.ch1, seen.ch1) && fits(row.ch2, seen.ch2))
      fitting.push_back(&row);
    else if ((fits(row.ch1, seen.ch1) || seen.ch1.empty()) && (fits(row.ch2, seen.ch2) || seen.ch2.empty()))
      letter_missing = true;
  }
  if (!any) {
    outcome(result, Outcome::no_row, "the scheme says nothing of " + seen.code + " and " + goal);
    return result;
  }
  if (fitting.empty() && letter_missing) {
    outcome(result, Outcome::value_missing,
            std::string("characterisation ") + (seen.ch1.empty() ? "1" : "2") +
                " is not given, and the class of " + seen.code + " for " + goal + " hangs on it");
    return result;
  }
  if (fitting.empty()) {
    outcome(result, Outcome::no_row,
            "the scheme says nothing of " + coding::show_code(seen) + " and " + goal);
    return result;
  }
  std::vector<std::string> wanted;
  bool unknown = false;
  for (const Row* row : fitting) {
    const Holds here = holds(*row, finding.pipe);
    if (here == Holds::yes) {
      decide(result, *row, finding, list);
      return result;
    }
    unknown = unknown || here == Holds::unknown;
    wanted.push_back(condition_words(*row));
  }
  outcome(result, unknown ? Outcome::condition_unknown : Outcome::no_row,
          "the rows for " + coding::show_code(seen) + " and " + goal +
              " hold for: " + base::join(wanted, "; ") + "; here: " + pipe_words(finding.pipe));
  return result;
}

void add_points(GoalClass& classed, const Finding& finding, const Site& site, const Scheme::Inside& scheme) {
  if (!classed.grade) return;
  double number = scheme.class_numbers.at(*classed.grade);
  std::string sum = "; number " + show_number(number);
  for (const Condition& condition : scheme.conditions) {
    std::vector<std::string> holding;
    if (condition.field == "place")
      holding = places_on(finding.seen->clock_from, finding.seen->clock_to);
    else if (condition.field == "joint")
      holding = {finding.seen->at_joint ? "yes" : "no"};
    else if (!site.value(condition.field).empty())
      holding = {site.value(condition.field)};
    std::optional<double> points;
    std::string criterion;
    for (const PointsOption& option : condition.options) {
      if (std::find(holding.begin(), holding.end(), option.when) == holding.end()) continue;
      const auto found = option.points.find(classed.goal);
      if (found == option.points.end() || (points && *points >= found->second)) continue;
      points = found->second;
      criterion = condition.field == "joint" ? "at a joint" : option.criterion;
    }
    if (!points || *points == 0) continue;
    number += *points;
    sum += (*points < 0 ? " - " : " + ") + show_number(*points < 0 ? -*points : *points) + " (" + criterion +
           ")";
  }
  if (number < scheme.least_final_number) {
    number = scheme.least_final_number;
    sum += ", not below " + show_number(number) + " (" + scheme.least_source + ")";
    classed.provisional = true;
  }
  classed.number = number;
  classed.reason += sum + (sum.find('(') == std::string::npos ? "" : " = " + show_number(number));
}

}  // namespace haunch::grading
