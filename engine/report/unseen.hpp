// SPDX-License-Identifier: Apache-2.0
// The stretches of a pipe that a record does not show, in metres, as far as it gives them.
#pragma once

#include <string>
#include <vector>

#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/measure.hpp"

namespace haunch::report {

/// As recorded, from_m nearer to where the camera went in; the same for a place.
struct Unseen {
  double from_m = 0, to_m = 0;
  bool blind = false;  ///< the camera went by and saw nothing (BDG); else it did not get there
  bool operator==(const Unseen&) const = default;
};
/// Along the pipe. What lies beyond the last row counts where the far end is known and was not reached.
std::vector<Unseen> unseen_stretches(const coding::Record& record);

/// "from 14.19 m to 15.64 m (1.45 m) the camera could not see"; then what the grading has to say that no
/// stretch says already, without codes. Empty when the whole pipe was seen.
std::vector<std::string> unseen_words(const coding::Record& record, const grading::Grade& grade,
                                      const Measure& measure);

/// Nothing else is wrong than that the camera saw nothing on its way.
bool only_blind(const grading::Grade& grade);

}  // namespace haunch::report
