// SPDX-License-Identifier: Apache-2.0
// One thing a person was asked, and what came of it. Times are days since any fixed day; a new day begins at
// every whole number, so let them count from a local midnight.
#pragma once

#include <array>
#include <optional>
#include <string>

namespace haunch::learning {

/// found, named and sized are kept for each main code; the others for the person as a whole (code "").
enum class Skill { found, named, sized, clock, water_depth, bottom, clean, graded, next_step };
inline constexpr std::array<Skill, 9> all_skills = {Skill::found, Skill::named,       Skill::sized,
                                                    Skill::clock, Skill::water_depth, Skill::bottom,
                                                    Skill::clean, Skill::graded,      Skill::next_step};
std::string show(Skill skill);  ///< "water depth"
bool for_each_code(Skill skill);

struct Evidence {
  Skill skill = Skill::found;
  std::string code;  ///< a main code, or empty
  double at_days = 0;
  double credit = 0;      ///< 0 wrong to 1 right
  double guess = 0;       ///< chance of being right by guessing: 0 for a free answer, 1/k of k options
  double difficulty = 0;  ///< logits, 0 for an average picture
  std::optional<double> latency_s;  ///< until the answer was given
  bool first_exposure = true;       ///< this person had not seen this very picture
  std::string instance;             ///< which picture; found and named of one picture are one trial
  std::string answered_code;        ///< what was said, where it was a code
  bool operator==(const Evidence&) const = default;
};

/// Numbers that can be reckoned with: finite, credit from 0 to 1, guess from 0 to below 1.
bool usable(const Evidence& evidence);
/// At least half the credit.
bool is_right(const Evidence& evidence);

}  // namespace haunch::learning
