// SPDX-License-Identifier: Apache-2.0
#include "learning/evidence.hpp"

#include <cmath>

namespace haunch::learning {

std::string show(Skill skill) {
  switch (skill) {
    case Skill::found:
      return "found";
    case Skill::named:
      return "named";
    case Skill::sized:
      return "sized";
    case Skill::clock:
      return "clock";
    case Skill::water_depth:
      return "water depth";
    case Skill::bottom:
      return "bottom";
    case Skill::clean:
      return "clean";
    case Skill::graded:
      return "graded";
    case Skill::next_step:
      return "next step";
  }
  return {};
}

bool for_each_code(Skill skill) {
  return skill == Skill::found || skill == Skill::named || skill == Skill::sized;
}

bool usable(const Evidence& evidence) {
  return std::isfinite(evidence.at_days) && std::isfinite(evidence.difficulty) && evidence.credit >= 0 &&
         evidence.credit <= 1 && evidence.guess >= 0 && evidence.guess < 1 &&
         (!evidence.latency_s || (std::isfinite(*evidence.latency_s) && *evidence.latency_s >= 0));
}

bool is_right(const Evidence& evidence) { return evidence.credit >= 0.5; }

}  // namespace haunch::learning
