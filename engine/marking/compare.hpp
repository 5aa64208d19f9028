// SPDX-License-Identifier: Apache-2.0
// One mark against one true finding. Inside this room.
#pragma once

#include <optional>
#include <vector>

#include "marking/finding.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

struct Comparison {
  std::vector<Verdict> verdicts;
  int thousandths = 0;  ///< of the weight of the truth, 0..1000; 1000 only when all is right
  bool right_name = false;
};

/// Within reach of each other? Then how near, 255 (the same place) down to 0. Size, letters and clock
/// (but for marks with the wrong name) never put a pair out of reach.
std::optional<int> nearness(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                            const coding::CodeList& list);

/// How far from a true finding, along the pipe, a mark can at most be for a nearness.
double farthest_reach_m(const Finding& truth, const Rules::Inside& rules);

/// Hours between the nearest places of two arcs; 0 where one is not given.
double hours_between(const Finding& a, const Finding& b);

/// `unit` is that of the distances in the verdicts.
Comparison compare(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                   base::LengthUnit unit = base::LengthUnit::metres);

}  // namespace haunch::marking
