// SPDX-License-Identifier: Apache-2.0
#include "coding/rules.hpp"

#include <algorithm>

namespace haunch::coding {
namespace {

using enum base::Severity;

/// In the order of the enum. Groups and severities are ours.
constexpr RuleWords rules[] = {
    {Rule::code_missing, "code-missing", "codes", error, "no main code"},
    {Rule::code_unknown, "code-unknown", "codes", error, "a main code that is not known"},
    {Rule::letter_unknown, "letter-unknown", "codes", error,
     "a characterisation that this code does not know"},
    {Rule::letter_missing, "letter-missing", "codes", error, "a characterisation is missing"},
    {Rule::number_unreadable, "number-unreadable", "codes", error, "a size that is no number"},
    {Rule::clock_outside, "clock-outside", "codes", error, "a clock position outside 1 to 12"},
    {Rule::distance_missing, "distance-missing", "codes", error, "no distance that can be read"},
    {Rule::distance_impossible, "distance-impossible", "codes", error, "a distance that cannot be"},
    {Rule::name_taken, "name-taken", "codes", error, "a name that another observation has"},
    {Rule::name_nowhere, "name-nowhere", "codes", error, "a name that no observation has"},

    {Rule::letter_in_one_list, "letter-in-one-list", "letters", note,
     "characterisations that one public list of codes has and the other leaves out"},
    {Rule::letter_optional, "letter-optional", "letters", warning, "a characterisation is missing"},
    {Rule::letter_habit, "letter-habit", "letters", note, "characterisations by local habit"},
    {Rule::letter_translated, "letter-translated", "letters", warning,
     "characterisation Y, a mark of codings translated from an older system"},

    {Rule::size_missing, "size-missing", "list", warning, "a size is missing"},
    {Rule::size_unasked, "size-unasked", "list", note, "a size is given where none is known"},
    {Rule::size_range, "size-range", "list", warning, "a size that can hardly be"},
    {Rule::size_impossible, "size-impossible", "list", error, "a size that cannot be"},
    {Rule::clock_missing, "clock-missing", "list", warning, "no clock position is given"},
    {Rule::clock_unasked, "clock-unasked", "list", warning, "a clock position is given"},
    {Rule::clock_all_round, "clock-all-round", "list", note, "a clock all the way round is given"},
    {Rule::clock_two, "clock-two", "list", warning, "two clock positions are given"},
    {Rule::clock_half, "clock-half", "list", warning, "clock position 2 stands without position 1"},
    {Rule::joint_missing, "joint-missing", "list", warning, "it is not marked as being at a joint"},
    {Rule::joint_unasked, "joint-unasked", "list", warning, "it is marked as being at a joint"},
    {Rule::run_unasked, "run-unasked", "list", warning, "it is part of a run"},
    {Rule::photo_missing, "photo-missing", "list", warning, "it has no photo"},
    {Rule::remark_missing, "remark-missing", "list", warning, "it has no remark"},
    {Rule::header_value, "header-value", "list", error, "a value that its list does not have"},
    {Rule::header_value_memory, "header-value-memory", "list", warning,
     "a value that its list does not have"},

    {Rule::run_mark, "run-mark", "runs", error, "a continuous mark of another form"},
    {Rule::run_open, "run-open", "runs", error, "a stretch that never ends"},
    {Rule::run_unbegun, "run-unbegun", "runs", error, "a stretch ends or changes without a begin"},
    {Rule::run_twice, "run-twice", "runs", error, "a stretch begins again while it is open"},
    {Rule::run_other_code, "run-other-code", "runs", error, "a stretch goes on as another code"},
    {Rule::run_other_letters, "run-other-letters", "runs", warning,
     "a stretch ends with other characterisations than it began with"},
    {Rule::run_backwards, "run-backwards", "runs", error,
     "a stretch ends before it begins, or changes outside it"},
    {Rule::run_no_length, "run-no-length", "runs", warning, "a stretch ends where it begins"},
    {Rule::run_number_again, "run-number-again", "runs", warning,
     "the number of an ended stretch is used again"},
    {Rule::run_end_first, "run-end-first", "runs", note, "the end of a stretch stands above its begin"},

    {Rule::distance_back, "distance-back", "places", warning, "a distance goes back"},
    {Rule::distance_past, "distance-past", "places", warning,
     "a distance a little past the length in the header"},
    {Rule::distance_far_past, "distance-far-past", "places", error,
     "a distance past the length in the header"},
    {Rule::length_short, "length-short", "places", warning,
     "the finish node stands short of the length in the header"},
    {Rule::row_twice, "row-twice", "places", note, "the same is written down twice"},

    {Rule::nothing_seen, "nothing-seen", "nodes", note, "no observations"},
    {Rule::start_missing, "start-missing", "nodes", warning, "no start node"},
    {Rule::finish_missing, "finish-missing", "nodes", warning, "neither a finish node nor an abandonment"},
    {Rule::node_twice, "node-twice", "nodes", warning, "a second start or finish"},
    {Rule::outside_nodes, "outside-nodes", "nodes", warning,
     "a place before the start node or past the finish"},
    {Rule::after_abandoning, "after-abandoning", "nodes", warning, "a finish node although it was abandoned"},
    {Rule::node_names, "node-names", "nodes", warning, "names of nodes that do not go together"},

    {Rule::same_material, "same-material", "pipe", warning, "a change to the material that is there"},
    {Rule::same_shape, "same-shape", "pipe", warning, "a change to the shape and size that are there"},
    {Rule::material_unsaid, "material-unsaid", "pipe", warning,
     "a change of material that does not say to which"},
    {Rule::material_fault, "material-fault", "pipe", warning, "a finding that does not go with the material"},
    {Rule::rigid_deformed, "rigid-deformed", "pipe", note, "a rigid pipe is deformed but not broken"},
    {Rule::size_over_bore, "size-over-bore", "pipe", warning, "a size larger than the bore"},
    {Rule::size_over_length, "size-over-length", "pipe", warning, "a size longer than the pipe"},
    {Rule::connection_over_bore, "connection-over-bore", "pipe", warning,
     "a connection larger than the pipe"},
    {Rule::joint_angle, "joint-angle", "pipe", warning, "an angle that no joint holds"},
    {Rule::shape_sizes, "shape-sizes", "pipe", warning, "height and width that do not go with the shape"},

    {Rule::header_code, "header-code", "header", warning, "a code that is not known"},
    {Rule::header_twice, "header-twice", "header", warning, "it is given twice"},
    {Rule::header_number, "header-number", "header", error, "it is no number"},
    {Rule::header_beyond, "header-beyond", "header", error, "a number that cannot be"},
    {Rule::header_date, "header-date", "header", warning, "it is no date"},
    {Rule::header_time, "header-time", "header", warning, "it is no time"},
    {Rule::header_older, "header-older", "header", note,
     "the inspection is older than the standard it names"},
    {Rule::header_clock, "header-clock", "header", warning, "it is no clock position"},
};

static_assert(std::size(rules) == static_cast<std::size_t>(Rule::count));

}  // namespace

const RuleWords& words_of(Rule rule) { return rules[static_cast<std::size_t>(rule)]; }
std::span<const RuleWords> all_rules() { return rules; }

std::optional<Rule> rule_named(std::string_view name) {
  for (const RuleWords& one : rules)
    if (one.name == name) return one.rule;
  return {};
}

bool Checks::switch_off(std::string_view name) {
  if (name == "memory") {
    memory_ = false;
    return true;
  }
  bool found = false;
  for (const RuleWords& one : rules) {
    if (one.group == "codes" || (one.group != name && one.name != name)) continue;
    on_.reset(static_cast<std::size_t>(one.rule));
    found = true;
  }
  return found;
}

std::vector<std::string> Checks::names() {
  std::vector<std::string> out{"memory"};
  for (const RuleWords& one : rules)
    if (one.group != "codes" && std::find(out.begin(), out.end(), one.group) == out.end())
      out.emplace_back(one.group);
  for (const RuleWords& one : rules)
    if (one.group != "codes") out.emplace_back(one.name);
  return out;
}

}  // namespace haunch::coding
