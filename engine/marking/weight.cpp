// SPDX-License-Identifier: Apache-2.0
#include "marking/weight.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "marking/judgement.hpp"

namespace haunch::marking {
namespace {

std::string tenths(int value) { return base::show_number(value / 10.0); }

}  // namespace

double run_length_m(const std::vector<Finding>& truths) {
  std::optional<double> low, high;
  for (const Finding& finding : truths) {
    if (!finding.from_m) continue;
    low = std::min(low.value_or(finding.low_m()), finding.low_m());
    high = std::max(high.value_or(finding.high_m()), finding.high_m());
  }
  return low ? *high - *low : 0;
}

Weight weight_of(const Finding& finding, const GradeById& grade, double run_m, bool carries_run,
                 const Rules::Inside& rules, const coding::CodeList& list) {
  const std::string& code = finding.seen->code;
  int weight = 0;
  std::vector<std::string> parts;
  if (const auto own = rules.code_weight.find(code); own != rules.code_weight.end())
    weight = own->second;
  else if (const coding::CodeEntry* entry = list.find(code))
    if (const auto group = rules.group_weight.find(entry->group); group != rules.group_weight.end())
      weight = group->second;
  if (weight > 0) parts.push_back(tenths(weight) + " for a finding of its kind");
  int extra = 0;
  std::string for_what;
  if (grade.has(finding.id)) {
    const std::optional<int> worst = grade.worst_firm_class(finding.id);
    const auto known = worst ? rules.class_weight.find(*worst) : rules.class_weight.end();
    extra = !worst ? rules.without_class : known == rules.class_weight.end() ? 0 : known->second;
    for_what = worst ? "class " + std::to_string(*worst) : "a defect whose class is not firm";
  }
  const coding::Action calls_for = action_of(finding, rules);
  if (const auto action = rules.action_weight.find(calls_for);
      action != rules.action_weight.end() && action->second > extra) {
    extra = action->second;
    for_what = "what it calls for (" + coding::show(calls_for) + ")";
  }
  if (extra > 0) parts.push_back(tenths(extra) + " for " + for_what);
  weight += extra;
  if (const int run = carries_run ? static_cast<int>(std::lround(rules.tenths_per_metre * run_m)) : 0;
      run > 0) {
    weight += run;
    parts.push_back(tenths(run) + " for the length inspected, which it closes");
  }
  if (weight < 1) return {1, "the least there is"};
  return {weight, base::join(parts, ", ")};
}

std::string run_carrier(const std::vector<Finding>& truths, const Rules::Inside& rules) {
  for (const std::string& code : rules.run_codes)
    for (const Finding& finding : truths)
      if (finding.seen->code == code) return finding.id;
  return {};
}

}  // namespace haunch::marking
