// SPDX-License-Identifier: Apache-2.0
// What the rules file holds, for this room only. Shares are whole thousandths and weights whole
// tenths, so that a score is exact: full marks are exactly 100.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "marking/finding.hpp"
#include "marking/mark.hpp"

namespace haunch::marking {

/// Sums of decimal fractions are off by a few units in the last place; a difference equal to the
/// tolerance is within it.
inline constexpr double hair = 1e-9;

struct Collar {
  std::vector<std::string> codes;
  double within_m = 0, reach_m = 0;
  std::string source;
};
struct SizeRule {
  std::vector<std::string> codes, ch1;
  double within = 0, within_share = 0;
  std::optional<double> small_up_to, small_within;
  std::string unit, source;
};
struct NearLetters {
  std::string code, field;
  std::pair<std::string, std::string> letters;
  int earns = 0;
};
/// A finding that means something: a danger, an action.
struct Meaning {
  std::string code;
  std::vector<std::string> ch1;  ///< empty: any
  std::string quantity;          ///< "q1", "q2" or empty
  double from = 0;
  /// "rigid" or "flexible": only where the pipe is not known to be the other; empty: any.
  std::string pipe;
  std::string why;
  coding::Action action = coding::Action::carry_on;
};

struct Rules::Inside {
  double place_within_m = 0, place_within_share = 0, stretch_extra_m = 0;
  double place_partly_times = 2, reach_times = 3, stretch_reach_share = 0.5, stretch_overlap_share = 0.25;
  int place_partly_earns = 0;
  std::vector<Collar> collars;
  std::string place_source;

  bool counter_looked_for = false;
  int counter_least_marks = 4, counter_costs = 0;  ///< tenths
  double counter_least_share = 0.6, counter_agree_m = 0.1, counter_from_m = 0.15, counter_most_zero_m = 2,
         counter_most_scale = 0.05;
  std::string counter_source;

  double clock_within_h = 1, clock_partly_within_h = 2, range_overlap_from = 0.3;
  int clock_partly_earns = 0, one_hour_for_range_earns = 0;
  std::string clock_source;

  double plumb_within_h = 1, plumb_partly_within_h = 2;
  int plumb_partly_earns = 0;

  double fade_times = 3;
  std::vector<SizeRule> sizes;

  std::map<Aspect, int> aspects;
  std::vector<NearLetters> near_letters;

  int wrong_name_earns = 0;
  double wrong_name_clock_h = 3;
  std::vector<std::string> wrong_name_groups, only_itself;
  std::vector<std::pair<std::string, std::string>> easily_taken;
  std::string wrong_name_source;

  std::map<std::string, int> group_weight, code_weight;
  std::map<int, int> class_weight;
  int without_class = 0;
  std::map<coding::Action, int> action_weight;
  std::vector<std::string> run_codes;
  double tenths_per_metre = 0;

  std::vector<std::string> neutral;
  int false_call = 0, duplicate = 0, least_total = 0;
  std::vector<Meaning> dangerous, actions;
  std::string actions_source;
};

/// Does a finding fall under it? Sizes are those of the finding (the largest along a run).
bool falls_under(const Meaning& meaning, const Finding& finding);

bool is_one_of(const std::vector<std::string>& words, const std::string& word);

}  // namespace haunch::marking
