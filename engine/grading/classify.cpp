// SPDX-License-Identifier: Apache-2.0
#include "grading/classify.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace haunch::grading {
namespace {

using base::show_number;

enum class Holds { yes, no, unknown };

Holds worst_of(Holds a, Holds b) {
  if (a == Holds::no || b == Holds::no) return Holds::no;
  return a == Holds::unknown || b == Holds::unknown ? Holds::unknown : Holds::yes;
}

bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
}

/// One of the words stands in the remark as a word of its own.
bool says(const std::string& remark, const std::vector<std::string>& words) {
  const std::string text = base::lower(remark);
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1))
      if ((at == 0 || !letter(text[at - 1])) &&
          (at + word.size() == text.size() || !letter(text[at + word.size()])))
        return true;
    return false;
  });
}

Holds holds(const Row& row, const Finding& finding) {
  const PipeHere& pipe = finding.pipe;
  Holds result = Holds::yes;
  if (!row.remark_has.empty() && !says(finding.seen->remark, row.remark_has)) return Holds::no;
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
  if (!row.remark_has.empty()) words.push_back("a remark with " + base::join(row.remark_has, " or "));
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
  if (row.quantity == Quantity::clock_arc) return "arc of the wall";
  const coding::CodeEntry* entry = list.find(row.code);
  if (entry == nullptr) return row.quantity == Quantity::q2 ? "q2" : "q1";
  const auto& rule = row.quantity == Quantity::q2 ? entry->q2 : entry->q1;
  return rule && !rule->meaning.empty() ? rule->meaning : "size";
}

/// Clockwise from one hour to the other, 30 degrees an hour; 12 to 12 is the whole circumference, any other
/// single hour is a place without an arc.
std::optional<double> arc_of(const coding::Observation& seen) {
  if (!seen.clock_from) return {};
  const int from = *seen.clock_from, to = seen.clock_to.value_or(from);
  if (from < 1 || from > 12 || to < 1 || to > 12) return {};
  if (from == 12 && to == 12 && seen.clock_to) return 360;
  return 30.0 * ((to - from + 12) % 12);
}

void outcome(GoalClass& result, Outcome what, std::string why = {}) {
  result.outcome = what;
  result.reason = std::move(why);
}

void take_class(GoalClass& result, const Row& row, int grade) {
  result.outcome = Outcome::classed;
  result.grade = grade;
  result.provisional = row.mark.provisional;
  if (const auto score = row.scores.find(grade); score != row.scores.end()) result.number = score->second;
  const auto mark = row.class_marks.find(grade);
  if (mark == row.class_marks.end()) return;
  result.provisional = result.provisional || mark->second.provisional;
  if (mark->second.source != result.source) result.source += "; " + mark->second.source;
}

/// "row BAJ/B (rigid pipe): offset joint (CK), "
std::string head_of(const Row& row) {
  const std::string condition = condition_words(row);
  return "row " + row.id + (condition.empty() ? "" : " (" + condition + ")") + ": " +
         (row.kind.empty() ? "" : row.kind + ", ");
}

/// Where another row of a run has the size that counts: the line of its begin would seem to say something
/// else.
std::string whose_words(const Row& row, const Finding& finding, double size) {
  const bool second = row.quantity == Quantity::q2;
  if (!finding.continuous || (!second && row.quantity != Quantity::q1)) return {};
  const coding::Number& begin = second ? finding.seen->q2 : finding.seen->q1;
  return begin.value == size ? "" : " (the largest along the run)";
}

/// To 3 significant places; to more where it would seem to lie elsewhere beside a bound of the row.
std::string show_quotient(double size, const Row& row) {
  if (size == 0) return "0";
  const int before = static_cast<int>(std::floor(std::log10(std::abs(size)))) + 1;
  for (int places = 3; places < 15; ++places) {
    const double scale = std::pow(10.0, places - before), shown = std::round(size * scale) / scale;
    if (std::all_of(row.bounds.begin(), row.bounds.end(), [&](const auto& bound) {
          return (shown < bound.second) == (size < bound.second) &&
                 (shown > bound.second) == (size > bound.second);
        }))
      return show_number(shown);
  }
  return show_number(size);
}

/// The size that the row measures; nothing where something is not known, which `result` then says.
std::optional<double> size_for(Work& work, const Row& row, const Finding& finding, GoalClass& result,
                               std::string& measured) {
  std::optional<double> size = row.quantity == Quantity::q2          ? finding.q2
                               : row.quantity == Quantity::clock_arc ? arc_of(*finding.seen)
                                                                     : finding.q1;
  if (!size) {
    const std::optional<double>& below_0 = row.quantity == Quantity::q2   ? finding.q2_below_0
                                           : row.quantity == Quantity::q1 ? finding.q1_below_0
                                                                          : size;
    outcome(result, Outcome::value_missing,
            !work.words ? ""
            : below_0   ? head_of(row) + meaning_of(row, work.list) + " " + show_number(*below_0) +
                            (row.divided_by.empty() ? " " + row.unit : "") +
                            " cannot be, as no size is below 0, and so is not known"
                      : head_of(row) + meaning_of(row, work.list) +
                            (row.divided_by.empty() ? " in " + row.unit : "") + " is not given");
    return {};
  }
  double divisor = 1;
  if (!row.divided_by.empty()) {
    const SiteField* field = work.scheme.field(row.divided_by);
    const std::string what = field == nullptr ? row.divided_by : field->what;
    if (!base::read_number(work.site.value(row.divided_by), divisor) || divisor <= 0) {
      work.missing(what, "what is measured by it has no class");
      outcome(result, Outcome::condition_unknown,
              work.words ? head_of(row) + "the " + what + " is not known" : "");
      return {};
    }
    if (work.words)
      measured = head_of(row) + meaning_of(row, work.list) + " " + show_number(*size) + " / " + what + " " +
                 show_number(divisor) + " = " + show_quotient(*size / divisor, row);
    return *size / divisor;
  }
  if (work.words)
    measured = head_of(row) + meaning_of(row, work.list) + " " + show_number(*size) + " " + row.unit +
               whose_words(row, finding, *size);
  return size;
}

/// The size is not given in full: not in each row of a run, or one hour where two tell how far it goes.
bool size_gaps(const Work& work, const Row& row, const Finding& finding) {
  if (row.quantity == Quantity::q1) return finding.q1_gaps;
  if (row.quantity == Quantity::q2) return finding.q2_gaps;
  const coding::Observation& seen = *finding.seen;
  const coding::CodeEntry* entry = work.list.find(row.code);
  return row.quantity == Quantity::clock_arc && seen.clock_from && !seen.clock_to && entry != nullptr &&
         entry->clock_for(seen.ch1) == coding::ClockRule::range;
}

void decide(Work& work, GoalClass& result, const Row& row, const Finding& finding) {
  result.row = row.id;
  result.source = row.mark.source;
  if (row.not_relevant) {
    result.provisional = row.mark.provisional;
    return outcome(result, Outcome::not_relevant,
                   work.words ? head_of(row) + "not relevant to " + row.goal : "");
  }
  if (row.flat) {
    take_class(result, row, *row.flat);
    if (work.words)
      result.reason = head_of(row) + "class " + std::to_string(*row.flat) + " whatever the size";
    return;
  }
  std::string measured;
  const std::optional<double> size = size_for(work, row, finding, result, measured);
  if (!size) {
    if (!row.without_size || result.outcome != Outcome::value_missing) return;
    take_class(result, row, *row.without_size);
    if (work.words) result.reason += ": class " + std::to_string(*row.without_size);
    return;
  }
  const std::string unit = row.divided_by.empty() ? " " + row.unit : "";
  const bool gaps = size_gaps(work, row, finding);
  for (auto bound = row.bounds.rbegin(); bound != row.bounds.rend(); ++bound)
    if (row.bound_included ? *size >= bound->second : *size > bound->second) {
      take_class(result, row, bound->first);
      result.least = gaps && bound != row.bounds.rbegin();
      if (work.words)
        result.reason = measured + (row.bound_included ? ", from " : ", over ") + show_number(bound->second) +
                        unit + ": class " + std::to_string(bound->first);
      return;
    }
  const std::string below = !work.words ? ""
                                        : measured + (row.bound_included ? ", below " : ", not over ") +
                                              show_number(row.bounds.begin()->second) + unit;
  if (row.otherwise) {
    take_class(result, row, *row.otherwise);
    result.least = gaps;
    if (work.words) result.reason = below + ": class " + std::to_string(*row.otherwise);
    return;
  }
  // Below every bound where it is given, and not given everywhere: nobody knows.
  if (gaps)
    return outcome(result, Outcome::value_missing,
                   work.words ? below + " where it is given, but it is not given in full" : "");
  if (row.below_is.empty())
    return outcome(result, Outcome::no_row, work.words ? below + ", where the row ends" : "");
  result.provisional = row.mark.provisional;
  outcome(result, Outcome::no_defect, work.words ? below + ": " + row.below_is : "");
}

}  // namespace

GoalClass classify(Work& work, const Finding& finding, const std::string& goal,
                   const std::vector<std::size_t>& rows) {
  GoalClass result;
  result.goal = goal;
  const coding::Observation& seen = *finding.seen;
  bool letter_missing = false, any_fits = false, unknown = false;
  for (const std::size_t index : rows) {
    const Row& row = work.scheme.rows[index];
    if (!fits(row.ch1, seen.ch1) || !fits(row.ch2, seen.ch2)) {
      letter_missing = letter_missing || ((fits(row.ch1, seen.ch1) || seen.ch1.empty()) &&
                                          (fits(row.ch2, seen.ch2) || seen.ch2.empty()));
      continue;
    }
    any_fits = true;
    const Holds here = holds(row, finding);
    if (here == Holds::yes) {
      decide(work, result, row, finding);
      return result;
    }
    unknown = unknown || here == Holds::unknown;
  }
  result.outcome = any_fits ? (unknown ? Outcome::condition_unknown : Outcome::no_row)
                            : (letter_missing ? Outcome::value_missing : Outcome::no_row);
  if (!work.words) return result;
  if (rows.empty())
    result.reason = "the scheme says nothing of " + seen.code + " and " + goal;
  else if (!any_fits && letter_missing)
    result.reason = std::string("characterisation ") + (seen.ch1.empty() ? "1" : "2") +
                    " is not given, and the class of " + seen.code + " for " + goal + " hangs on it";
  else if (!any_fits)
    result.reason = "the scheme says nothing of " + coding::show_code(seen) + " and " + goal;
  else {
    std::vector<std::string> wanted;
    for (const std::size_t index : rows) {
      const Row& row = work.scheme.rows[index];
      if (fits(row.ch1, seen.ch1) && fits(row.ch2, seen.ch2)) wanted.push_back(condition_words(row));
    }
    result.reason = "the rows for " + coding::show_code(seen) + " and " + goal +
                    " hold for: " + base::join(wanted, "; ") + "; here: " + pipe_words(finding.pipe);
  }
  return result;
}

}  // namespace haunch::grading
