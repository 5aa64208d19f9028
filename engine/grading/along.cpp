// SPDX-License-Identifier: Apache-2.0
#include "grading/along.hpp"

#include <algorithm>
#include <numeric>
#include <set>
#include <tuple>

#include "base/words.hpp"
#include "coding/stretch.hpp"

namespace haunch::grading {
namespace {

using coding::Observation;
using coding::Record;

bool ends_a_run(const Observation& seen) { return !seen.stretch.empty() && seen.stretch.front() == 'B'; }

/// Every field that tells two rows apart; ids last, so that equal findings keep a fixed order.
auto order_key(const Observation& seen) {
  return std::tuple(ends_a_run(seen), seen.distance_m.value.value_or(1e18), seen.code, seen.ch1, seen.ch2,
                    seen.q1.value.value_or(-1), seen.q2.value.value_or(-1), seen.clock_from.value_or(0),
                    seen.clock_to.value_or(0), seen.at_joint, seen.stretch, seen.remark, seen.id);
}

bool changes_a_run(const Observation& seen) {
  const auto mark = coding::stretch_mark(seen.stretch);
  return mark && mark->kind == 'C';
}

/// Changes are part of their runs, and what changes no run stands for itself: nothing seen is lost.
void settle_changes(const Record& record, const std::vector<std::size_t>& order,
                    std::vector<coding::Extent>& found) {
  if (std::none_of(record.observations.begin(), record.observations.end(), changes_a_run)) return;
  std::erase_if(
      found, [&](const coding::Extent& extent) { return changes_a_run(record.observations[extent.first]); });
  std::set<std::size_t> in_a_run;
  const Changes changes(record);
  for (const coding::Extent& extent : found)
    for (const std::size_t row : rows_of(record, extent, changes)) in_a_run.insert(row);
  std::vector<std::size_t> rank(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[order[i]] = i;
  for (const std::size_t row : order) {
    if (!changes_a_run(record.observations[row]) || in_a_run.contains(row)) continue;
    const double at_m = record.observations[row].distance_m.value.value_or(0);
    found.push_back({row, row, at_m, at_m, false});
  }
  std::sort(found.begin(), found.end(),
            [&](const coding::Extent& a, const coding::Extent& b) { return rank[a.first] < rank[b.first]; });
}

std::string material_of(const Observation& change, const coding::CodeList& list) {
  // Where the code of the new material stands is not certain: characterisation 1, both letters
  // spread over 1 and 2, or the remark.
  for (const std::string& place :
       {change.ch1, change.ch1 + change.ch2, change.ch2, base::trim(change.remark)})
    if (!place.empty() && list.material(place) != nullptr) return place;
  return {};
}

}  // namespace

std::vector<std::size_t> order_along(const Record& record) {
  std::vector<std::size_t> order(record.observations.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return order_key(record.observations[a]) < order_key(record.observations[b]);
  });
  return order;
}

std::vector<coding::Extent> extents_in_any_order(const Record& record) {
  const std::vector<std::size_t> order = order_along(record);
  Record sorted;
  for (const std::size_t index : order) sorted.observations.push_back(record.observations[index]);
  std::vector<coding::Extent> found = coding::extents(sorted);
  for (coding::Extent& extent : found) {
    extent.first = order[extent.first];
    extent.last = order[extent.last];
  }
  settle_changes(record, order, found);
  return found;
}

Changes::Changes(const Record& record) {
  for (std::size_t i = 0; i < record.observations.size(); ++i) {
    const Observation& one = record.observations[i];
    if (changes_a_run(one))
      by_code_and_number_[{one.code, coding::stretch_mark(one.stretch)->number}].push_back(i);
  }
}

const std::vector<std::size_t>& Changes::of(const Observation& begin) const {
  static const std::vector<std::size_t> none;
  const auto mark = coding::stretch_mark(begin.stretch);
  if (!mark || by_code_and_number_.empty()) return none;
  const auto found = by_code_and_number_.find({begin.code, mark->number});
  return found == by_code_and_number_.end() ? none : found->second;
}

std::vector<std::size_t> rows_of(const Record& record, const coding::Extent& extent, const Changes& changes) {
  std::vector<std::size_t> rows{extent.first};
  if (!extent.continuous) return rows;
  const Observation& begin = record.observations[extent.first];
  const bool ended = extent.last != extent.first;
  const bool placed = ended && begin.distance_m.value && record.observations[extent.last].distance_m.value;
  const auto [low, high] = std::minmax(extent.from_m, extent.to_m);
  for (const std::size_t i : changes.of(begin)) {
    const auto& at = record.observations[i].distance_m.value;
    if (!at || !placed || (*at >= low && *at <= high)) rows.push_back(i);
  }
  if (ended) rows.push_back(extent.last);
  return rows;
}

Sizes sizes_of(const Record& record, const std::vector<std::size_t>& rows) {
  Sizes sizes;
  const auto larger = [](std::optional<double>& size, const coding::Number& other) {
    if (other.value && (!size || *other.value > *size)) size = other.value;
  };
  for (const std::size_t row : rows) {
    larger(sizes.q1, record.observations[row].q1);
    larger(sizes.q2, record.observations[row].q2);
  }
  return sizes;
}

bool counts_down(const Record& record) {
  std::optional<double> start, finish;
  for (const Observation& seen : record.observations) {
    if (!seen.distance_m.value) continue;
    if (seen.code == "BCD") start = seen.distance_m.value;
    if (seen.code == "BCE") finish = seen.distance_m.value;
  }
  return start && finish && *start > *finish;
}

std::vector<std::size_t> pipe_changes(const Record& record) {
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < record.observations.size(); ++i) {
    const Observation& one = record.observations[i];
    if (one.code == "AED" || (one.code == "AEC" && one.q1.value)) rows.push_back(i);
  }
  return rows;
}

PipeHere pipe_at(const Record& record, const coding::CodeList& list, const std::optional<double>& distance_m,
                 const std::vector<std::size_t>& changes, bool down) {
  PipeHere here;
  here.material = base::trim(record.header_value("ACD").value_or(""));
  here.bore_mm = record.header_number("ACB");
  const double sign = down ? -1 : 1;
  std::optional<double> material_since, bore_since;
  bool unsure_material = false, unsure_bore = false;
  for (const std::size_t row : changes) {
    const Observation& change = record.observations[row];
    const bool of_material = change.code == "AED";
    if (!distance_m || !change.distance_m.value) {
      (of_material ? unsure_material : unsure_bore) = true;
      continue;
    }
    const double at = sign * *change.distance_m.value;
    std::optional<double>& since = of_material ? material_since : bore_since;
    if (at > sign * *distance_m || (since && *since > at)) continue;
    since = at;
    if (of_material)
      here.material = material_of(change, list);
    else
      here.bore_mm = change.q1.value;
  }
  if (unsure_material) here.material.clear();
  if (unsure_bore) here.bore_mm.reset();
  if (const coding::Named* material = list.material(here.material))
    if (material->stiffness == "rigid" || material->stiffness == "flexible")
      here.stiffness = material->stiffness;
  return here;
}

}  // namespace haunch::grading
