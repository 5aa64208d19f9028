// SPDX-License-Identifier: Apache-2.0
// The rules of the code list, row by row. What rests on memory warns; it never refuses.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"
#include "coding/suggest.hpp"

namespace haunch::coding {
namespace {

using Letters = std::map<std::string, std::string>;

std::string shown(const Letters& letters) {
  std::vector<std::string> parts;
  for (const auto& [letter, meaning] : letters)
    parts.push_back(letters.size() > 12 ? letter : letter + " (" + meaning + ")");
  if (parts.empty()) return "none";
  return parts.size() == 1 ? parts[0] : "one of " + base::join(parts, ", ");
}

/// A letter that the code does not have.
void unknown_letter(RemarksOn& remarks, std::size_t i, const CodeEntry& entry, const char* which,
                    const std::string& letter, const Letters& known, const Letters& habits) {
  if (letter.empty() || known.contains(letter) || (letter == "Y" && !known.empty())) return;
  const std::string what = std::string("characterisation ") + which + " is \"" + letter + "\"";
  std::string suggestion = suggest_letters(remarks.record.observations[i], entry, remarks.list);
  if (known.empty())
    remarks.row(Rule::letter_unknown, i, what, "none: this code has none", std::move(suggestion));
  else if (habits.contains(letter))
    remarks.row(Rule::letter_unknown, i, what + ", which does not go with the other letter",
                habits.at(letter) + "; else " + shown(known), std::move(suggestion));
  else
    remarks.row(Rule::letter_unknown, i, what + ", which this code does not know", shown(known),
                std::move(suggestion));
}

void missing_letter(RemarksOn& remarks, std::size_t i, const CodeEntry& entry, Rule rule) {
  const Observation& one = remarks.record.observations[i];
  const bool first = one.ch1.empty();
  remarks.row(rule, i, std::string("characterisation ") + (first ? "1" : "2") + " is missing",
              shown(first ? entry.ch1 : entry.ch2), suggest_letters(one, entry, remarks.list));
}

void check_size(RemarksOn& remarks, std::size_t i, const char* which, const Number& number,
                const std::optional<QuantityRule>& rule, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  if (number.empty() || (!number.value && base::trim(number.text).empty())) {
    if (rule && rule->is_required(one.ch1, !one.stretch.empty(), one.ch2))
      remarks.row(Rule::size_missing, i, std::string(which) + " is missing",
                  rule->meaning + (rule->unit_for(one.ch1).empty() ? "" : " in " + rule->unit_for(one.ch1)),
                  {}, rule->required_solid);
    return;
  }
  if (!rule) {
    // Node references stand in this column by local habit.
    if (entry.role != Role::start && entry.role != Role::finish)
      remarks.row(Rule::size_unasked, i,
                  std::string(which) + " is " + number.show() + ", and none is known for this code", "none",
                  {}, Solid::memory);
    return;
  }
  if (!number.value)
    return remarks.row(Rule::number_unreadable, i, std::string(which) + " is \"" + number.text + "\"",
                       "a number: " + rule->meaning, nearest_number(number.text));
  const double value = *number.value;
  if (value >= 0 && value <= 90 && value == std::floor(value)) return;  // in range in every unit
  const std::string& unit = rule->unit_for(one.ch1);
  const bool too_large = (unit == "%" && value > 100) || (unit == "degree" && value > 90) ||
                         (unit == "mm" && value > widest_pipe_mm);
  if (value >= 0 && !too_large && (unit != "count" || value == std::floor(value))) return;
  const std::string what = std::string(which) + " is " + number.show() +
                           (unit == "degree"                  ? " degrees"
                            : unit.empty() || unit == "count" ? ""
                                                              : ' ' + unit);
  // Nothing is smaller than nothing or wider than any pipe, where the unit is known for certain.
  const Rule broken = rule->solid == Solid::sourced ? Rule::size_impossible : Rule::size_range;
  std::string expected = rule->meaning;
  if (unit == "%")
    expected += ", from 0 to 100 %";
  else if (unit == "degree")
    expected += ", up to 90 degrees";
  else if (unit == "count")
    expected += ", a whole number";
  else if (too_large)
    expected += ", up to " + base::show_number(widest_pipe_mm) + " mm";
  else
    expected += ", at least 0";
  remarks.row(broken, i, what, std::move(expected), {}, rule->solid);
}

void check_clock(RemarksOn& remarks, std::size_t i, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  if (one.clock_to && !one.clock_from)
    remarks.row(Rule::clock_half, i, "clock position 2 stands without position 1", "position 1 as well");
  const char* memory = entry.clock_solid == Solid::sourced ? "" : " (rule from memory)";
  const auto missing = [&](const char* expected) {
    if (!one.clock_from)
      remarks.row(Rule::clock_missing, i, "no clock position is given", std::string(expected) + memory, {},
                  entry.clock_solid);
  };
  switch (entry.clock_for(one.ch1)) {
    case ClockRule::none:
      if (one.clock_from == 12 && one.clock_to == 12)
        remarks.row(Rule::clock_all_round, i, "a clock all the way round is given",
                    std::string("none with this code") + memory, {}, entry.clock_solid);
      else if (one.clock_from || one.clock_to)
        remarks.row(Rule::clock_unasked, i, "a clock position is given",
                    std::string("none with this code") + memory, {}, entry.clock_solid);
      break;
    case ClockRule::one:
      missing("one position");
      if (one.clock_from && one.clock_to && one.clock_from != one.clock_to)
        remarks.row(Rule::clock_two, i, "two clock positions are given", std::string("one position") + memory,
                    {}, entry.clock_solid);
      break;
    case ClockRule::range:
      missing("from and to, clockwise");
      break;
    case ClockRule::one_or_range:
      missing("one position, or from and to clockwise");
      break;
    case ClockRule::optional:
    case ClockRule::by_ch1:
      break;
  }
}

}  // namespace

void check_letters(RemarksOn& remarks, std::size_t i, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  const auto both = [&] {
    return "the characterisations are " + (one.ch1.empty() ? "-" : one.ch1) + one.ch2;
  };
  switch (fit(entry, one.ch1, one.ch2)) {
    case Fit::good:
      break;
    case Fit::in_one_list:
      // The material of a change may stand in the remark; the rules for the pipe look there.
      if (one.ch1.empty() ? entry.role != Role::material : one.ch2.empty())
        missing_letter(remarks, i, entry, Rule::letter_optional);
      else if (!one.ch1.empty())
        remarks.row(Rule::letter_in_one_list, i, both() + ", which one public list of codes leaves out",
                    entry.ch2_applies(one.ch1) ? "another cause" : "no characterisation 2 here");
      break;
    case Fit::habit:
      remarks.row(Rule::letter_habit, i, both() + " (" + entry.habits.at(one.ch1 + one.ch2) + ")",
                  entry.ch1.empty() ? "no letters" : "letters of the list");
      break;
    case Fit::translated:
      remarks.row(Rule::letter_translated, i,
                  std::string("characterisation ") + (one.ch1 == "Y" ? "1" : "2") +
                      " is Y, a mark of codings translated from an older system",
                  shown(one.ch1 == "Y" ? entry.ch1 : entry.ch2));
      break;
    case Fit::missing:
      missing_letter(remarks, i, entry, Rule::letter_missing);
      break;
    case Fit::unknown:
      unknown_letter(remarks, i, entry, "1", one.ch1, entry.ch1, entry.ch1_habits);
      if (!one.ch2.empty() && entry.ch2.contains(one.ch2) && !entry.ch2_applies(one.ch1))
        remarks.row(Rule::letter_unknown, i, "characterisation 2 is \"" + one.ch2 + "\"",
                    "none with characterisation 1 " + one.ch1);
      unknown_letter(remarks, i, entry, "2", one.ch2, entry.ch2, entry.ch2_habits);
      break;
  }
}

void check_sizes(RemarksOn& remarks, std::size_t i, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  remarks.quantification = 1;
  check_size(remarks, i, "quantification 1", one.q1, entry.q1, entry);
  remarks.quantification = 2;
  check_size(remarks, i, "quantification 2", one.q2, entry.q2, entry);
  remarks.quantification = 0;
}

void check_list_rules(RemarksOn& remarks, std::size_t i, const CodeEntry& entry) {
  const Observation& one = remarks.record.observations[i];
  check_clock(remarks, i, entry);
  const auto rule = [&](Rule broken, const char* what, const char* expected) {
    remarks.row(broken, i, what, std::string(expected) + " (rule from memory)", {}, Solid::memory);
  };
  if (entry.joint == JointRule::always && !one.at_joint)
    rule(Rule::joint_missing, "it is not marked as being at a joint", "the joint mark");
  if (entry.joint == JointRule::no && one.at_joint)
    rule(Rule::joint_unasked, "it is marked as being at a joint", "no joint mark with this code");
  if (!entry.may_be_continuous && !one.stretch.empty())
    rule(Rule::run_unasked, "it is part of a run", "a single place for this code");
  for (const std::string& need : entry.needs) {
    if (need == "photo" && one.photo.empty()) rule(Rule::photo_missing, "it has no photo", "a photo");
    if (need == "remark" && base::trim(one.remark).empty())
      rule(Rule::remark_missing, "it has no remark", "a remark");
  }
}

}  // namespace haunch::coding
