// SPDX-License-Identifier: Apache-2.0
// What a person is believed to be able to do. The ability at a code is the sum of three terms: the person's
// own, what they know better or worse of a family of codes, and of the code itself. All terms together are
// normal, with mean and full covariance, so that what is seen of one code says something of its family.
//
// The world behind it, which the calibration test simulates:
// - before an answer, every code's own term has drifted back towards 0 (its family) as a stationary process
//   whose half-life hangs on how well it was remembered: what was forgotten becomes uncertain again;
// - an answer of some difficulty is right with the chance of logistic.hpp;
// - being answered (the right answer is shown after it) teaches: the code's term gains a little, more or
// less. After each answer the belief is the normal with the right mean and variance along the ability asked
// for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "learning/evidence.hpp"
#include "learning/model.hpp"
#include "statistics/interval.hpp"

namespace haunch::learning {

/// How long a code stays in mind.
struct CodeMemory {
  double half_life_days = 0;
  std::optional<double> last_day;  ///< the day of the latest answer, a whole number
  bool operator==(const CodeMemory&) const = default;
};
/// Longer when right on a later day than the last answer, shorter when wrong.
void remember(CodeMemory& memory, const MemoryRules& rules, bool right, double at_days);
/// The share of a code's own term that is left after some days.
double kept(const CodeMemory& memory, double days);

struct Belief {
  Skill skill = Skill::found;
  std::optional<double> at_days;   ///< of the latest answer
  std::vector<double> mean;        ///< the person's term, one for each family, one for each code
  std::vector<double> covariance;  ///< of these, row by row
  std::vector<CodeMemory> memory;  ///< by code
  bool operator==(const Belief&) const = default;
};
Belief fresh_belief(const Model& model, Skill skill);

/// Takes an answer in. False, and nothing changed, where it is for another skill, its code is in no family or
/// its numbers are none. An answer from before the latest one is taken as given at the time of that.
bool take_in(Belief& belief, const Model& model, const Evidence& evidence);

struct Estimate {
  double mean = 0, sd = 0;       ///< of the ability, in logits
  statistics::Interval ability;  ///< 95 %
  double expected = 0;           ///< chance of a right answer
  statistics::Interval success;  ///< 95 %, of that chance
};
/// Of a code ("" for skills that have none), at a later time, with nothing asked in between. A code in no
/// family is estimated like any new one of no family in particular.
Estimate estimate(const Belief& belief, const Model& model, const std::string& code, double at_days,
                  double difficulty = 0, double guess = 0);

}  // namespace haunch::learning
