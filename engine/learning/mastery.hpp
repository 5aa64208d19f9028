// SPDX-License-Identifier: Apache-2.0
// Whether a code is mastered, and what is missing. Only pictures seen for the first time and no easier than
// the rules say count. Of these the latest are looked at, as far back as serves the person: who failed at
// first does not carry it for ever.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "learning/history.hpp"
#include "learning/model.hpp"
#include "statistics/interval.hpp"

namespace haunch::learning {

enum class Standing { never_tried, not_yet, shaky, mastered };  ///< shaky: it was mastered once
std::string show(Standing standing);

struct Mastery {
  Standing standing = Standing::never_tried;
  int counted = 0, right = 0, days = 0;  ///< of the latest trials that come nearest to mastery
  statistics::Interval bound{0, 1};      ///< Wilson, of these
  int more_right = 0, more_days = 0;     ///< at the least, if all that follow are right
  std::string taken_for;                 ///< the code said too often instead, or empty
  bool too_slow = false;
  std::string missing;  ///< "2 more days, 3 more right"; empty when nothing is
  std::optional<double> mastered_at;
  std::string sentence;  ///< "BAB: not yet: 2 more days, 3 more right."
};

/// `own_latency_s`: the person's own median; without one, or without latencies, speed is not asked for.
Mastery mastery_of(const CodeHistory& history, const std::string& code, const MasteryRules& rules,
                   std::optional<double> own_latency_s);
/// Sets since when the code is mastered; called after each trial.
void judge(CodeHistory& history, const std::string& code, const MasteryRules& rules,
           std::optional<double> own_latency_s);
/// Of a whole family, by the latest trials of all its codes together.
Mastery mastery_of_family(const History& history, const Family& family, const MasteryRules& rules);

}  // namespace haunch::learning
