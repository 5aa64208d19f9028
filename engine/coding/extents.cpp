// SPDX-License-Identifier: Apache-2.0
// Puts continuous observations together from their begins and ends.
#include <algorithm>
#include <map>

#include "coding/record.hpp"
#include "coding/stretch.hpp"

namespace haunch::coding {
namespace {

struct Row {
  std::size_t index = 0;
  char kind = 'A';
  double at_m = 0;
};

double distance(const Observation& one) { return one.distance_m.value.value_or(0); }

/// Ends found for begins among the rows of one run number. Two rows are a pair whatever their order;
/// more are a number used again, and are taken in turn along the pipe.
std::map<std::size_t, std::size_t> pairs(std::vector<Row> rows) {
  std::map<std::size_t, std::size_t> ends;
  std::vector<Row> begun, ended;
  for (const Row& row : rows)
    if (row.kind != 'C') (row.kind == 'A' ? begun : ended).push_back(row);
  if (begun.size() == 1 && ended.size() == 1) {
    ends[begun[0].index] = ended[0].index;
    return ends;
  }
  const auto along = [](const Row& a, const Row& b) {
    if (a.at_m != b.at_m) return a.at_m < b.at_m;
    return a.kind != b.kind ? a.kind < b.kind : a.index < b.index;
  };
  std::sort(rows.begin(), rows.end(), along);
  // Distances that count down put every end before its begin.
  if (!rows.empty() && rows.front().kind == 'B' && rows.back().kind == 'A')
    std::reverse(rows.begin(), rows.end());
  const Row* open = nullptr;
  for (const Row& row : rows) {
    if (row.kind == 'A') open = &row;
    if (row.kind != 'B' || open == nullptr) continue;
    ends[open->index] = row.index;
    open = nullptr;
  }
  return ends;
}

}  // namespace

std::vector<Extent> extents(const Record& record) {
  std::map<std::string, std::vector<Row>> runs;
  for (std::size_t i = 0; i < record.observations.size(); ++i)
    if (const auto mark = stretch_mark(record.observations[i].stretch))
      runs[mark->number].push_back({i, mark->kind, distance(record.observations[i])});

  std::map<std::size_t, std::size_t> ends;
  std::vector<bool> inside(record.observations.size(), false);  // rows that belong to a begin's extent
  for (const auto& [number, rows] : runs) {
    const auto found = pairs(rows);
    for (const auto& [begin, end] : found) {
      ends[begin] = end;
      inside[end] = true;
    }
    // A change row belongs to the run of its code that it stands in.
    for (const Row& row : rows) {
      if (row.kind != 'C') continue;
      for (const auto& [begin, end] : found) {
        const double a = distance(record.observations[begin]), b = distance(record.observations[end]);
        const bool of_it = record.observations[row.index].code == record.observations[begin].code;
        if (of_it && row.at_m >= std::min(a, b) && row.at_m <= std::max(a, b)) inside[row.index] = true;
      }
    }
  }

  std::vector<Extent> out;
  for (std::size_t i = 0; i < record.observations.size(); ++i) {
    if (inside[i]) continue;
    const Observation& one = record.observations[i];
    Extent extent{i, i, distance(one), distance(one), false};
    const auto mark = stretch_mark(one.stretch);
    extent.continuous = mark && mark->kind == 'A';
    if (const auto end = ends.find(i); end != ends.end()) {
      extent.last = end->second;
      extent.to_m = distance(record.observations[end->second]);
    }
    out.push_back(extent);
  }
  return out;
}

}  // namespace haunch::coding
