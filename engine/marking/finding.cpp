// SPDX-License-Identifier: Apache-2.0
#include "marking/finding.hpp"

#include <algorithm>
#include <unordered_set>

#include "coding/clock_arc.hpp"
#include "coding/code_list.hpp"
#include "grading/along.hpp"

namespace haunch::marking {
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
    finding.clock = coding::clock_arc(seen);
    finding.stiffness = pipe.at(finding.from_m).stiffness;
    findings.push_back(std::move(finding));
  }
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
