// SPDX-License-Identifier: Apache-2.0
#include "marking/weight.hpp"

#include <algorithm>
#include <cmath>

#include "marking/judgement.hpp"

namespace haunch::marking {

double run_length_m(const std::vector<Finding>& truths) {
  std::optional<double> low, high;
  for (const Finding& finding : truths) {
    if (!finding.from_m) continue;
    low = std::min(low.value_or(finding.low_m()), finding.low_m());
    high = std::max(high.value_or(finding.high_m()), finding.high_m());
  }
  return low ? *high - *low : 0;
}

int weight_of(const Finding& finding, const GradeById& grade, double run_m, bool carries_run,
              const Rules::Inside& rules, const coding::CodeList& list) {
  const std::string& code = finding.seen->code;
  int weight = 0;
  if (const auto own = rules.code_weight.find(code); own != rules.code_weight.end())
    weight = own->second;
  else if (const coding::CodeEntry* entry = list.find(code))
    if (const auto group = rules.group_weight.find(entry->group); group != rules.group_weight.end())
      weight = group->second;
  int extra = 0;
  if (grade.has(finding.id)) {
    const std::optional<int> worst = grade.worst_firm_class(finding.id);
    const auto known = worst ? rules.class_weight.find(*worst) : rules.class_weight.end();
    extra = !worst ? rules.without_class : known == rules.class_weight.end() ? 0 : known->second;
  }
  if (const auto action = rules.action_weight.find(action_of(finding, rules));
      action != rules.action_weight.end())
    extra = std::max(extra, action->second);
  weight += extra;
  if (carries_run) weight += static_cast<int>(std::lround(rules.tenths_per_metre * run_m));
  return std::max(weight, 1);
}

std::string run_carrier(const std::vector<Finding>& truths, const Rules::Inside& rules) {
  for (const std::string& code : rules.run_codes)
    for (const Finding& finding : truths)
      if (finding.seen->code == code) return finding.id;
  return {};
}

}  // namespace haunch::marking
