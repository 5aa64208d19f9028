// SPDX-License-Identifier: Apache-2.0
#include "marking/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <tuple>

#include "marking/aspects.hpp"

namespace haunch::marking {
namespace {

constexpr double alike_share = 0.3;  // ours: sizes of one thing estimated twice

bool alike(const std::optional<double>& a, const std::optional<double>& b) {
  if (!a || !b) return !a && !b;
  return std::abs(*a - *b) <= alike_share * std::max(std::abs(*a), std::abs(*b)) + hair;
}

bool is_stretch(const Finding& finding) { return finding.continuous && finding.from_m && finding.to_m; }

std::optional<double> larger(const std::optional<double>& a, const std::optional<double>& b) {
  return a && b ? std::optional(std::max(*a, *b)) : a;
}

}  // namespace

std::optional<Finding> joined(const Finding& a, const Finding& b, double gap_m) {
  if (!is_stretch(a) || !is_stretch(b)) return std::nullopt;
  const coding::Observation &one = *a.seen, &other = *b.seen;
  if (one.code != other.code || one.ch1 != other.ch1 || one.ch2 != other.ch2 ||
      one.at_joint != other.at_joint || a.clock != b.clock || !alike(a.q1, b.q1) || !alike(a.q2, b.q2))
    return std::nullopt;
  const double way = *a.to_m - *a.from_m;
  if (way * (*b.to_m - *b.from_m) <= 0) return std::nullopt;
  const auto goes_on = [&](const Finding& first, const Finding& second) {
    return std::abs(*second.from_m - *first.to_m) <= gap_m + hair;
  };
  const bool a_first = goes_on(a, b);
  if (!a_first && !goes_on(b, a)) return std::nullopt;
  const Finding &first = a_first ? a : b, &second = a_first ? b : a;
  Finding whole = first;
  whole.to_m = second.to_m;
  whole.counted_to_m = second.counted_to_m;
  // Written places are told only where both were set right; else they would be of two kinds.
  if (first.counted_from_m.has_value() != second.counted_to_m.has_value())
    whole.counted_from_m = whole.counted_to_m = std::nullopt;
  whole.rows.insert(whole.rows.end(), second.rows.begin(), second.rows.end());
  whole.q1 = larger(first.q1, second.q1);
  whole.q2 = larger(first.q2, second.q2);
  return whole;
}

std::vector<Piece> take_in_pieces(std::vector<Finding>& findings,
                                  const std::function<const Finding*(std::size_t)>& partner_of,
                                  const std::function<bool(std::size_t, std::size_t)>& may,
                                  const Rules::Inside& rules) {
  std::map<std::string, std::vector<std::size_t>> paired;  // stretches, by code
  std::vector<std::size_t> left_over;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    if (!is_stretch(findings[i])) continue;
    if (const Finding* partner = partner_of(i); partner == nullptr)
      left_over.push_back(i);
    else if (is_stretch(*partner) && partner->seen->code == findings[i].seen->code)
      paired[findings[i].seen->code].push_back(i);
  }
  std::sort(left_over.begin(), left_over.end(), [&](std::size_t a, std::size_t b) {
    return std::tuple(findings[a].low_m(), findings[a].high_m(), findings[a].id) <
           std::tuple(findings[b].low_m(), findings[b].high_m(), findings[b].id);
  });
  std::vector<Piece> taken;
  std::vector<bool> gone(findings.size(), false);
  const auto take = [&](std::size_t one) {
    if (gone[one]) return;
    for (const std::size_t into : paired[findings[one].seen->code]) {
      const Finding& partner = *partner_of(into);
      const double tolerance = place_tolerance_m(partner, rules), ends = tolerance + rules.stretch_extra_m;
      if (findings[one].low_m() < partner.low_m() - ends - hair ||
          findings[one].high_m() > partner.high_m() + ends + hair || !may(one, into))
        continue;
      std::optional<Finding> whole = joined(findings[into], findings[one], tolerance);
      if (!whole) continue;
      whole->id = findings[into].id;
      whole->seen = findings[into].seen;
      findings[into] = std::move(*whole);
      gone[one] = true;
      taken.push_back({one, into});
      return;
    }
  };
  for (const std::size_t one : left_over) take(one);
  for (auto one = left_over.rbegin(); one != left_over.rend(); ++one) take(*one);
  return taken;
}

}  // namespace haunch::marking
