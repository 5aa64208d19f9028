// SPDX-License-Identifier: Apache-2.0
#include "marking/finding.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <unordered_set>

#include "coding/code_list.hpp"
#include "grading/along.hpp"

namespace haunch::marking {
namespace {

std::optional<base::ClockArc> clock_of(const coding::Observation& seen) {
  if (!seen.clock_from || *seen.clock_from < 1 || *seen.clock_from > 12) return std::nullopt;
  base::ClockArc arc;
  arc.from_h = arc.to_h = *seen.clock_from;
  if (seen.clock_to && *seen.clock_to >= 1 && *seen.clock_to <= 12) {
    arc.to_h = *seen.clock_to;
    arc.whole = *seen.clock_from == 12 && *seen.clock_to == 12;
  }
  return arc;
}

constexpr double touch_m = 0.05;     // ours: closer than anybody reads a counter
constexpr double alike_share = 0.3;  // ours: sizes of one thing estimated twice

bool alike(const std::optional<double>& a, const std::optional<double>& b) {
  if (!a || !b) return !a && !b;
  return std::abs(*a - *b) <= alike_share * std::max(std::abs(*a), std::abs(*b));
}

/// Does the second go on where the first ends, as one thing closed and opened again?
bool goes_on(const Finding& first, const Finding& second) {
  const double way = *first.to_m - *first.from_m;
  return way * (*second.to_m - *second.from_m) > 0 && std::abs(*second.from_m - *first.to_m) <= touch_m &&
         first.seen->at_joint == second.seen->at_joint && alike(first.q1, second.q1) &&
         alike(first.q2, second.q2);
}

/// Stretches of one code that touch are one stretch, however often it was closed and opened again.
void merge_touching(std::vector<Finding>& findings) {
  using Key = std::tuple<std::string, std::string, std::string, double, double>;
  std::map<Key, std::vector<std::size_t>> alike_ones;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    const Finding& one = findings[i];
    if (!one.continuous || !one.from_m || !one.to_m) continue;
    const base::ClockArc arc = one.clock.value_or(base::ClockArc{0, 0, false});
    alike_ones[{one.seen->code, one.seen->ch1, one.seen->ch2, arc.from_h, arc.to_h}].push_back(i);
  }
  std::vector<bool> gone(findings.size(), false);
  for (auto& [key, members] : alike_ones) {
    std::stable_sort(members.begin(), members.end(), [&](std::size_t a, std::size_t b) {
      return std::tuple(findings[a].low_m(), findings[a].high_m()) <
             std::tuple(findings[b].low_m(), findings[b].high_m());
    });
    for (std::size_t k = 0; k + 1 < members.size(); ++k) {
      // Those counted backwards go on into the one before.
      Finding &low = findings[members[k]], &high = findings[members[k + 1]];
      const bool onwards = *low.from_m <= *low.to_m;
      Finding &first = onwards ? low : high, &second = onwards ? high : low;
      if (!goes_on(first, second)) continue;
      Finding whole = first;
      whole.to_m = second.to_m;
      whole.rows.insert(whole.rows.end(), second.rows.begin(), second.rows.end());
      if (second.q1) whole.q1 = std::max(*whole.q1, *second.q1);
      if (second.q2) whole.q2 = std::max(*whole.q2, *second.q2);
      gone[members[k]] = true;
      findings[members[k + 1]] = std::move(whole);
    }
  }
  std::size_t i = 0;
  std::erase_if(findings, [&](const Finding&) { return gone[i++]; });
}

}  // namespace

std::vector<Finding> findings_of(const coding::Record& record) {
  std::vector<Finding> findings;
  const grading::Changes changes(record);
  const grading::PipeAlong pipe(record, coding::CodeList::shipped());
  for (const coding::Extent& extent : grading::extents_in_any_order(record)) {
    const coding::Observation& seen = record.observations[extent.first];
    Finding finding;
    finding.seen = &seen;
    finding.id = seen.id;
    const std::vector<std::size_t> rows = grading::rows_of(record, extent, changes);
    for (const std::size_t row : rows) finding.rows.push_back(record.observations[row].id);
    const grading::Sizes sizes = grading::sizes_of(record, rows);
    finding.q1 = sizes.q1;
    finding.q2 = sizes.q2;
    if (seen.distance_m.value) finding.from_m = finding.to_m = seen.distance_m.value;
    finding.continuous = extent.continuous && extent.last != extent.first;
    const auto& end_m = record.observations[extent.last].distance_m.value;
    if (finding.continuous && finding.from_m && end_m) finding.to_m = end_m;
    finding.clock = clock_of(seen);
    finding.stiffness = pipe.at(finding.from_m).stiffness;
    findings.push_back(std::move(finding));
  }
  merge_touching(findings);
  return findings;
}

std::string where_of(const Finding& finding, base::LengthUnit unit) {
  const auto shown = [&](double metres) { return base::show_distance(metres, unit); };
  const std::string code = coding::show_code(*finding.seen);
  if (!finding.from_m) return code + " (no distance given)";
  if (!finding.continuous) return code + " at " + shown(*finding.written_from_m());
  return code + " from " + shown(*finding.written_from_m()) + " to " + shown(*finding.written_to_m());
}

coding::Record visible_part(const coding::Record& record) {
  if (record.not_visible.empty()) return record;
  std::unordered_set<std::string> named, hidden;
  for (const coding::NotVisible& entry : record.not_visible) named.insert(entry.observation);
  for (const Finding& finding : findings_of(record))
    if (std::any_of(finding.rows.begin(), finding.rows.end(),
                    [&](const std::string& id) { return named.contains(id); }))
      hidden.insert(finding.rows.begin(), finding.rows.end());
  coding::Record part = record;
  std::erase_if(part.observations, [&](const coding::Observation& seen) { return hidden.contains(seen.id); });
  part.not_visible.clear();
  return part;
}

}  // namespace haunch::marking
