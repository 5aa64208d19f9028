// SPDX-License-Identifier: Apache-2.0
#include "marking/compare.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "marking/aspects.hpp"

namespace haunch::marking {
namespace {

bool easily_taken(const std::string& a, const std::string& b, const Rules::Inside& rules) {
  return std::any_of(rules.easily_taken.begin(), rules.easily_taken.end(),
                     [&](const auto& pair) { return pair == std::pair(a, b) || pair == std::pair(b, a); });
}

/// May a mark with this code stand for that finding at all, though the name is wrong?
bool may_be_misnamed(const std::string& truth, const std::string& attempt, const Rules::Inside& rules,
                     const coding::CodeList& list) {
  for (const std::string& code : {truth, attempt})
    if (is_one_of(rules.only_itself, code) || is_one_of(rules.neutral, code)) return false;
  if (easily_taken(truth, attempt, rules)) return true;
  const coding::CodeEntry* entry = list.find(truth);
  return entry != nullptr && is_one_of(rules.wrong_name_groups, entry->group) &&
         list.kinship(truth, attempt) <= 1;
}

double gap_m(const Finding& a, const Finding& b) {
  return std::max({0.0, a.low_m() - b.high_m(), b.low_m() - a.high_m()});
}

int scaled(double off, double reach) {
  return static_cast<int>(std::floor(255 * (1 - std::clamp(reach > 0 ? off / reach : 0, 0.0, 1.0))));
}

}  // namespace

double hours_between(const Finding& a, const Finding& b) {
  if (!a.clock || !b.clock || a.clock->whole || b.clock->whole) return 0;
  if (base::arc_contains(*a.clock, b.clock->from_h) || base::arc_contains(*b.clock, a.clock->from_h))
    return 0;
  return std::min(
      {base::hours_apart(a.clock->from_h, b.clock->from_h), base::hours_apart(a.clock->from_h, b.clock->to_h),
       base::hours_apart(a.clock->to_h, b.clock->from_h), base::hours_apart(a.clock->to_h, b.clock->to_h)});
}

double farthest_reach_m(const Finding& truth, const Rules::Inside& rules) {
  const double tolerance = place_tolerance_m(truth, rules);
  double reach = std::max(tolerance, tolerance * rules.reach_times);
  for (const Collar& collar : rules.collars)
    if (is_one_of(collar.codes, truth.seen->code)) reach = std::max(reach, collar.reach_m);
  return reach;
}

std::optional<int> nearness(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                            const coding::CodeList& list) {
  // Without a distance only the name is left to tell by.
  if (!truth.from_m && !attempt.from_m && truth.seen->code == attempt.seen->code) return 0;
  if (!truth.from_m || !attempt.from_m) return std::nullopt;
  const double tolerance = place_tolerance_m(truth, rules);
  const std::string& code = truth.seen->code;
  const bool right_name = code == attempt.seen->code;
  double reach = tolerance;
  if (right_name) {
    reach = tolerance * rules.reach_times;
    for (const Collar& collar : rules.collars)
      if (is_one_of(collar.codes, code)) reach = std::max(collar.reach_m, tolerance);
  } else if (!may_be_misnamed(code, attempt.seen->code, rules, list) ||
             hours_between(truth, attempt) > rules.wrong_name_clock_h + hair) {
    return std::nullopt;
  }
  if (!truth.continuous || !attempt.continuous) {
    const double off = gap_m(truth, attempt);
    if (off > reach + hair) return std::nullopt;
    return scaled(off, reach);
  }
  // Two stretches: they must touch, and begin near each other or share enough of the true one.
  const double off = std::abs(ends_along(truth, attempt).first - *truth.from_m);
  const double length = truth.high_m() - truth.low_m();
  const double shared = std::min(truth.high_m(), attempt.high_m()) - std::max(truth.low_m(), attempt.low_m());
  const double begin_reach = std::max(reach, rules.stretch_reach_share * length);
  if (gap_m(truth, attempt) > tolerance + hair) return std::nullopt;
  if (off > begin_reach + hair && shared < rules.stretch_overlap_share * length) return std::nullopt;
  return scaled(off, std::max(begin_reach, length));
}

Comparison compare(const Finding& truth, const Finding& attempt, const Rules::Inside& rules,
                   base::LengthUnit unit) {
  Comparison result;
  result.right_name = truth.seen->code == attempt.seen->code;
  int asked = 0, earned = 0, beside_name = 0;
  const auto take = [&](const Judged& judged, int weight) {
    result.verdicts.push_back(judged.verdict);
    result.verdicts.back().counts = weight > 0;
    if (weight == 0 && judged.thousandths < 1000)
      result.verdicts.back().sentence += " Told only: it does not count here.";
    asked += weight;
    earned += weight * judged.thousandths;
    const Aspect aspect = judged.verdict.aspect;
    if (aspect == Aspect::place || aspect == Aspect::clock || aspect == Aspect::joint ||
        aspect == Aspect::extent)
      beside_name += weight * judged.thousandths;
  };
  // What the name decides cannot be compared under another name: it weighs and earns nothing.
  const auto take_named = [&](const Judged& judged, int weight) {
    if (result.right_name) return take(judged, weight);
    result.verdicts.push_back(
        not_asked(judged.verdict.aspect, "Not compared: the code is another one.").verdict);
    asked += weight;
  };
  const auto weight = [&](Aspect aspect) { return rules.aspects.at(aspect); };
  const coding::Observation &there = *truth.seen, &given = *attempt.seen;
  take(judge_code(truth, attempt, rules), weight(Aspect::code));
  for (const char* field : {"ch1", "ch2"}) {
    const bool first = field[2] == '1';
    if ((first ? there.ch1 + given.ch1 : there.ch2 + given.ch2).empty()) continue;
    take_named(judge_letter(truth, attempt, field, rules), weight(Aspect::characterisation));
  }
  const bool placed = truth.from_m && attempt.from_m;
  if (placed) take(judge_place(truth, attempt, rules, unit), weight(Aspect::place));
  if (truth.clock) take(judge_clock(truth, attempt, rules), weight(Aspect::clock));
  if (truth.q1) take_named(judge_size(truth, attempt, "q1", rules), weight(Aspect::size));
  if (truth.q2) take_named(judge_size(truth, attempt, "q2", rules), weight(Aspect::size));
  if (there.at_joint || given.at_joint) take(judge_joint(truth, attempt), weight(Aspect::joint));
  if (placed && (truth.continuous || attempt.continuous))
    take(judge_extent(truth, attempt, rules, unit), weight(Aspect::extent));
  if (result.right_name)
    result.thousandths = earned / asked;
  else if (easily_taken(there.code, given.code, rules))
    result.thousandths = static_cast<int>(std::int64_t{beside_name} * rules.wrong_name_earns / 1000 / asked);
  return result;
}

}  // namespace haunch::marking
