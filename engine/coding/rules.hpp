// SPDX-License-Identifier: Apache-2.0
// What `validate` looks for, by name, and which of it is switched on.
#pragma once

#include <bitset>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "coding/code_list.hpp"

namespace haunch::coding {

/// Each can be switched off alone, with its group, or, where it rests on memory, with all that does.
enum class Rule : unsigned char {
  // codes: what cannot be read as an observation at all; always on
  code_missing,
  code_unknown,
  letter_unknown,
  letter_missing,
  number_unreadable,
  clock_outside,
  distance_missing,
  distance_impossible,
  name_taken,
  name_nowhere,
  // letters: where real files and the two outside lists differ
  letter_in_one_list,
  letter_optional,
  letter_habit,
  letter_translated,
  // list: the code list's other rules
  size_missing,
  size_unasked,
  size_range,
  size_impossible,
  clock_missing,
  clock_unasked,
  clock_all_round,
  clock_two,
  clock_half,
  joint_missing,
  joint_unasked,
  run_unasked,
  photo_missing,
  remark_missing,
  header_value,
  header_value_memory,
  // runs: continuous observations
  run_mark,
  run_open,
  run_unbegun,
  run_twice,
  run_other_code,
  run_other_letters,
  run_backwards,
  run_no_length,
  run_number_again,
  run_end_first,
  // places: distances
  distance_back,
  distance_past,
  distance_far_past,
  length_short,
  row_twice,
  // nodes: where the inspection starts and finishes
  nothing_seen,
  start_missing,
  finish_missing,
  node_twice,
  outside_nodes,
  after_abandoning,
  node_names,
  // pipe: material, shape and bore
  same_material,
  same_shape,
  material_unsaid,
  material_fault,
  rigid_deformed,
  size_over_bore,
  size_over_length,
  connection_over_bore,
  joint_angle,
  shape_sizes,
  // header
  header_code,
  header_twice,
  header_number,
  header_beyond,
  header_date,
  header_time,
  header_older,
  header_clock,
  count  // how many there are
};

struct RuleWords {
  Rule rule;
  std::string_view name;   ///< "clock-missing", for people and files that switch it off
  std::string_view group;  ///< "codes", "letters", "list", "runs", "places", "nodes", "pipe", "header"
  base::Severity severity;
  std::string_view says;  ///< what all its problems say: "no clock position"
};
const RuleWords& words_of(Rule rule);
std::span<const RuleWords> all_rules();
/// The rule of that name.
std::optional<Rule> rule_named(std::string_view name);

/// Which rules are checked: all, unless some are switched off.
class Checks {
 public:
  Checks() { on_.set(); }
  /// Switches off a rule or a group by name, or `memory`: whatever is known only from memory. False when
  /// nothing has that name or it cannot be switched off, as the group `codes` cannot.
  bool switch_off(std::string_view name);
  bool on(Rule rule, Solid solid = Solid::sourced) const {
    return on_[static_cast<std::size_t>(rule)] && (memory_ || solid == Solid::sourced);
  }
  /// Every name that `switch_off` knows: memory, the groups, the rules.
  static std::vector<std::string> names();

 private:
  std::bitset<static_cast<std::size_t>(Rule::count)> on_;
  bool memory_ = true;
};

}  // namespace haunch::coding
