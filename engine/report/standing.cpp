// SPDX-License-Identifier: Apache-2.0
#include "report/standing.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"

namespace haunch::report {

Came came_of(const marking::Hit& hit) {
  const bool all_right =
      std::all_of(hit.verdicts.begin(), hit.verdicts.end(), [](const marking::Verdict& verdict) {
        return verdict.standing == marking::Standing::right ||
               verdict.standing == marking::Standing::not_asked;
      });
  return all_right ? Came::found : Came::partly;
}

std::string show(Came came) {
  switch (came) {
    case Came::found:
      return "found";
    case Came::partly:
      return "found, partly right";
    case Came::missed:
      return "missed";
    case Came::unseen:
      return "could not be seen";
    case Came::invented:
      return "invented";
    case Came::doubled:
      return "marked twice";
    case Came::logged:
      return "logged";
  }
  return {};
}

std::string one_decimal(double number) { return base::show_number(std::round(number * 10) / 10); }

std::string show_score(double score) {
  return score < 100 ? one_decimal(std::min(score, 99.9)) : one_decimal(score);
}

std::string show_class(const std::optional<int>& grade, bool provisional, const std::string& none) {
  if (!grade) return none;
  return std::to_string(*grade) + (provisional ? " (provisional)" : "");
}

}  // namespace haunch::report
