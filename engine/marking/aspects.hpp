// SPDX-License-Identifier: Apache-2.0
// The verdict on each aspect of a mark. Inside this room.
#pragma once

#include "marking/finding.hpp"
#include "marking/rules_inside.hpp"

namespace haunch::marking {

struct Judged {
  Verdict verdict;
  int thousandths = 0;
};

Judged judge_code(const Finding& truth, const Finding& attempt, const Rules::Inside& rules);
/// `field` is "ch1" or "ch2".
Judged judge_letter(const Finding& truth, const Finding& attempt, const std::string& field,
                    const Rules::Inside& rules);
Judged judge_place(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                   base::LengthUnit unit);
Judged judge_clock(const Finding& truth, const Finding& attempt, const Rules::Inside& rules);
/// `field` is "q1" or "q2"; the truth must have it.
Judged judge_size(const Finding& truth, const Finding& attempt, const std::string& field,
                  const Rules::Inside& rules);
Judged judge_joint(const Finding& truth, const Finding& attempt);
Judged judge_extent(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                    base::LengthUnit unit);

/// An aspect that is not held against the mark.
Judged not_asked(Aspect aspect, std::string sentence);

/// Begin and end of the mark, turned to run the way the truth does.
std::pair<double, double> ends_along(const Finding& truth, const Finding& attempt);

double place_tolerance_m(const Finding& truth, const Rules::Inside& rules);

}  // namespace haunch::marking
