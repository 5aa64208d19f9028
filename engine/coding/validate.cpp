// SPDX-License-Identifier: Apache-2.0
// The rules of the code list, row by row. What rests on memory warns; it never refuses.
#include "coding/validate.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"
#include "coding/stretch.hpp"

namespace haunch::coding {
namespace {

using base::Severity;
using Letters = std::map<std::string, std::string>;

std::string shown(const Letters& letters) {
  std::vector<std::string> parts;
  for (const auto& [letter, meaning] : letters)
    parts.push_back(letters.size() > 12 ? letter : letter + " (" + meaning + ")");
  return parts.size() == 1 ? parts[0] : "one of " + base::join(parts, ", ");
}

std::vector<std::string> keys(const Letters& letters) {
  std::vector<std::string> out;
  for (const auto& [letter, meaning] : letters) out.push_back(letter);
  return out;
}

/// A letter that stands where the list knows others.
void check_letter(RemarksOn& remarks, std::size_t i, const char* which, const std::string& letter,
                  const Letters& known, const Letters& habits) {
  if (letter.empty() || known.contains(letter)) return;
  if (const auto habit = habits.find(letter); habit != habits.end())
    return remarks.note(i, std::string(which) + " is " + letter + " (" + habit->second + ")",
                        known.empty() ? "none" : shown(known));
  if (letter == "Y")
    return remarks.warn(i, std::string(which) + " is Y, a mark of codings translated from an older system",
                        known.empty() ? "none" : shown(known));
  if (known.empty())
    return remarks.error(i, std::string(which) + " is \"" + letter + "\"", "none: this code has none");
  remarks.error(i, std::string(which) + " is \"" + letter + "\", which this code does not know", shown(known),
                base::nearest_word(letter, keys(known)));
}

void check_letters(RemarksOn& remarks, std::size_t i, const CodeEntry& entry, const CodeList& list) {
  const Observation& one = remarks.record.observations[i];
  check_letter(remarks, i, "characterisation 1", one.ch1, entry.ch1, entry.ch1_habits);
  check_letter(remarks, i, "characterisation 2", one.ch2, entry.ch2, entry.ch2_habits);
  if (one.ch1.empty() && !entry.ch1.empty()) {
    // Where the material of a change stands is known only from memory: readers take it from the remark too.
    const std::string first_word =
        base::trim(one.remark).substr(0, base::trim(one.remark).find_first_of(" ,;:"));
    if (entry.code != "AED" || list.material(first_word) == nullptr)
      remarks.warn(i, "characterisation 1 is missing", shown(entry.ch1));
  }
  if (one.ch2.empty() && entry.ch2_applies(one.ch1) && entry.ch2_applies_when != "optional" &&
      entry.ch1.contains(one.ch1) && one.ch1 != "YY")
    remarks.warn(i, "characterisation 2 is missing", shown(entry.ch2));
  if (entry.ch2.contains(one.ch2) && !entry.ch2_applies(one.ch1))
    remarks.warn(i,
                 "characterisation 2 goes with " + entry.ch2_applies_when +
                     " in one list of codes and with all in another",
                 "no characterisation 2 here");
}

void check_quantity(RemarksOn& remarks, std::size_t i, const char* which, const Number& number,
                    const std::optional<QuantityRule>& rule, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  const bool node = entry.code == "BCD" || entry.code == "BCE";
  if (number.empty() || base::trim(number.show()).empty()) {
    if (rule && rule->is_required(one.ch1, !one.stretch.empty()))
      remarks.warn(i, std::string(which) + " is missing",
                   rule->meaning + (rule->unit_for(one.ch1).empty() ? "" : " in " + rule->unit_for(one.ch1)));
    return;
  }
  if (!rule) {
    // Node references stand in this column by local habit.
    if (!node)
      remarks.note(i, std::string(which) + " is " + number.show() + ", and none is known for this code",
                   "none");
    return;
  }
  if (!number.value)
    return remarks.error(i, std::string(which) + " is \"" + number.text + "\"", "a number: " + rule->meaning);
  const std::string& unit = rule->unit_for(one.ch1);
  const double value = *number.value;
  const std::string what = std::string(which) + " is " + number.show();
  if (value < 0)
    remarks.warn(i, what, rule->meaning + ", at least 0");
  else if (unit == "%" && value > 100)
    remarks.warn(i, what + " %", rule->meaning + ", from 0 to 100 %");
  else if (unit == "degree" && value > 90)
    remarks.warn(i, what + " degrees", rule->meaning + ", up to 90 degrees");
  // Ours: no socket holds together at such an angle.
  else if (entry.code == "BAJ" && unit == "degree" && value > 20)
    remarks.warn(i, what + " degrees, more than a joint can bend", "degrees, not mm or %");
  else if (unit == "mm" && value > widest_pipe_mm)
    remarks.warn(i, what + " mm", rule->meaning + ", up to " + base::show_number(widest_pipe_mm) + " mm");
  else if (unit == "count" && value != std::floor(value))
    remarks.warn(i, what, "a whole number");
}

void check_clock(RemarksOn& remarks, std::size_t i, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  const auto outside = [](const std::optional<int>& hour) { return hour && (*hour < 1 || *hour > 12); };
  if (outside(one.clock_from))
    remarks.error(i, "clock position 1 is " + std::to_string(*one.clock_from), "a whole hour from 1 to 12");
  if (outside(one.clock_to))
    remarks.error(i, "clock position 2 is " + std::to_string(*one.clock_to), "a whole hour from 1 to 12");
  if (one.clock_to && !one.clock_from)
    remarks.warn(i, "clock position 2 stands without position 1", "position 1 as well");
  const bool two = one.clock_from && one.clock_to && one.clock_from != one.clock_to;
  const char* memory = entry.clock_solid == Solid::sourced ? "" : " (rule from memory)";
  switch (entry.clock_for(one.ch1)) {
    case ClockRule::none:
      if (one.clock_from || one.clock_to)
        remarks.warn(i, "a clock position is given", std::string("none with this code") + memory);
      break;
    case ClockRule::one:
      if (!one.clock_from)
        remarks.warn(i, "no clock position is given", std::string("one position") + memory);
      else if (two)
        remarks.warn(i, "two clock positions are given", std::string("one position") + memory);
      break;
    case ClockRule::range:
      if (!one.clock_from)
        remarks.warn(i, "no clock position is given", std::string("from and to, clockwise") + memory);
      break;
    case ClockRule::one_or_range:
      if (!one.clock_from)
        remarks.warn(i, "no clock position is given",
                     std::string("one position, or from and to clockwise") + memory);
      break;
    case ClockRule::optional:
    case ClockRule::by_ch1:
      break;
  }
}

void check_place_rules(RemarksOn& remarks, std::size_t i, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  if (entry.joint == JointRule::always && !one.at_joint)
    remarks.warn(i, "it is not marked as being at a joint", "the joint mark (rule from memory)");
  if (entry.joint == JointRule::no && one.at_joint)
    remarks.warn(i, "it is marked as being at a joint", "no joint mark with this code (rule from memory)");
  if (!entry.may_be_continuous && !one.stretch.empty())
    remarks.warn(i, "it is part of a run", "a single place for this code (rule from memory)");
  for (const std::string& need : entry.needs)
    if ((need == "photo" && one.photo.empty()) || (need == "remark" && base::trim(one.remark).empty()))
      remarks.warn(i, "it has no " + need, "a " + need + " (rule from memory)");
}

void check_distance(RemarksOn& remarks, std::size_t i, const std::optional<double>& length_m) {
  const Number& distance = remarks.record.observations[i].distance_m;
  if (distance.empty()) return remarks.error(i, "it has no distance", "metres along the pipe");
  if (!distance.value)
    return remarks.error(i, "its distance is \"" + distance.text + "\"", "metres along the pipe, a number");
  if (*distance.value < 0) return remarks.error(i, "its distance is " + distance.show() + " m", "at least 0");
  if (*distance.value > longest_pipe_m)
    return remarks.error(i, "its distance is " + distance.show() + " m, and no pipe is as long",
                         "at most " + base::show_number(longest_pipe_m) + " m");
  if (!length_m || *length_m <= 0 || *distance.value <= *length_m) return;
  // Ours: the header's length is an expectation, and cables stretch; well past it is a slip.
  const double past = *distance.value - *length_m;
  const std::string what = "its distance is " + distance.show() + " m, past the length in the header (ABQ)";
  const std::string expected = "at most " + base::show_number(*length_m) + " m";
  if (past > std::max(1.0, 0.02 * *length_m))
    remarks.error(i, what, expected);
  else
    remarks.warn(i, what, expected);
}

void check_order(RemarksOn& remarks) {
  const auto& observations = remarks.record.observations;
  int up = 0, down = 0;
  for (std::size_t i = 1; i < observations.size(); ++i) {
    const auto& before = observations[i - 1].distance_m.value;
    const auto& here = observations[i].distance_m.value;
    if (!before || !here) continue;
    up += *here > *before ? 1 : 0;
    down += *here < *before ? 1 : 0;
  }
  if (up == 0 || down == 0) return;
  const bool counts_down = down > up;
  for (std::size_t i = 1; i < observations.size(); ++i) {
    const auto& before = observations[i - 1].distance_m.value;
    const auto& here = observations[i].distance_m.value;
    if (before && here && (counts_down ? *here > *before : *here < *before))
      remarks.note(i, "its distance is out of order after " + observations[i - 1].distance_m.show() + " m",
                   counts_down ? "distances that fall" : "distances that grow");
  }
}

void check_ends(RemarksOn& remarks) {
  const auto has = [&](std::string_view code) {
    return std::any_of(remarks.record.observations.begin(), remarks.record.observations.end(),
                       [code](const Observation& one) { return one.code == code; });
  };
  if (remarks.record.observations.empty())
    return remarks.whole(Severity::note, "the record has no observations", "at least a start node (BCD)");
  if (!has("BCD")) remarks.whole(Severity::warning, "no start node is recorded", "an observation BCD");
  if (!has("BCE") && !has("BDC"))
    remarks.whole(Severity::warning, "neither a finish node nor an abandonment is recorded",
                  "an observation BCE or BDC");
}

void check_observation(RemarksOn& remarks, std::size_t i, const CodeList& list) {
  const Observation& one = remarks.record.observations[i];
  const CodeEntry* entry = list.find(one.code);
  if (entry == nullptr) {
    std::vector<std::string> codes;
    for (const CodeEntry& known : list.codes()) codes.push_back(known.code);
    if (one.code.empty())
      remarks.error(i, "it has no main code", "a main code of three letters");
    else
      remarks.error(i, "the main code \"" + one.code + "\" is not known", "a main code of " + list.standard(),
                    base::nearest_word(one.code, codes));
    const auto outside = [](const std::optional<int>& hour) { return hour && (*hour < 1 || *hour > 12); };
    if (outside(one.clock_from) || outside(one.clock_to))
      remarks.error(i, "a clock position is outside the clock", "a whole hour from 1 to 12");
    return;
  }
  check_letters(remarks, i, *entry, list);
  check_quantity(remarks, i, "quantification 1", one.q1, entry->q1, *entry);
  check_quantity(remarks, i, "quantification 2", one.q2, entry->q2, *entry);
  check_clock(remarks, i, *entry);
  check_place_rules(remarks, i, *entry);
}

}  // namespace

std::string RemarksOn::name(std::size_t index) const {
  const Observation& one = record.observations[index];
  std::string said = one.code.empty() ? "an observation" : show_code(one);
  if (!one.distance_m.empty()) said += " at " + one.distance_m.show() + (one.distance_m.value ? " m" : "");
  const bool placed = index < places.observations.size() && places.observations[index].line > 0;
  return placed ? said : "observation " + std::to_string(index + 1) + ", " + said;
}

void RemarksOn::add(Severity severity, std::size_t index, std::string_view what, std::string expected,
                    std::string suggestion) {
  at(places.observations, index, severity, name(index) + ": " + std::string(what), std::move(expected),
     std::move(suggestion));
}

base::Problems validate(const Record& record, const CodeList& list, const std::string& file_name,
                        const RecordPlaces& places) {
  RemarksOn remarks{record, file_name, places, {}};
  check_header(remarks, list);
  const auto length_m = record.header_number("ABQ");
  for (std::size_t i = 0; i < record.observations.size(); ++i) {
    check_distance(remarks, i, length_m);
    check_observation(remarks, i, list);
  }
  check_runs(remarks);
  check_order(remarks);
  check_ends(remarks);
  check_names(remarks);
  // By line, so that a person can walk down the file; what has no line comes first.
  std::stable_sort(remarks.problems.begin(), remarks.problems.end(),
                   [](const base::Problem& a, const base::Problem& b) {
                     return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
                   });
  return std::move(remarks.problems);
}

}  // namespace haunch::coding
