// SPDX-License-Identifier: Apache-2.0
#include "grading/along.hpp"

#include <algorithm>
#include <compare>
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
bool comes_before(const Observation& a, const Observation& b) {
  if (ends_a_run(a) != ends_a_run(b)) return ends_a_run(b);
  const double here = a.distance_m.value.value_or(1e18), there = b.distance_m.value.value_or(1e18);
  if (here != there) return here < there;
  if (const auto by = std::tie(a.code, a.ch1, a.ch2) <=> std::tie(b.code, b.ch1, b.ch2); by != 0)
    return by < 0;
  const auto numbers = [](const Observation& one) {
    return std::tuple(one.q1.value.value_or(-1), one.q2.value.value_or(-1), one.clock_from.value_or(0),
                      one.clock_to.value_or(0), one.at_joint);
  };
  if (numbers(a) != numbers(b)) return numbers(a) < numbers(b);
  return std::tie(a.stretch, a.remark, a.id) < std::tie(b.stretch, b.remark, b.id);
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

std::string stiffness_of(const std::string& code, const coding::CodeList& list) {
  const coding::Named* material = list.material(code);
  const bool known =
      material != nullptr && (material->stiffness == "rigid" || material->stiffness == "flexible");
  return known ? material->stiffness : std::string();
}

}  // namespace

std::vector<std::size_t> order_along(const Record& record) {
  std::vector<std::size_t> order(record.observations.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return comes_before(record.observations[a], record.observations[b]);
  });
  return order;
}

std::vector<coding::Extent> extents_in_any_order(const Record& record) {
  const std::vector<std::size_t> order = order_along(record);
  std::vector<coding::Extent> found;
  const bool runs = std::any_of(record.observations.begin(), record.observations.end(),
                                [](const Observation& seen) { return !seen.stretch.empty(); });
  if (!runs) {
    found.reserve(order.size());
    for (const std::size_t index : order) {
      const double at_m = record.observations[index].distance_m.value.value_or(0);
      found.push_back({index, index, at_m, at_m, false});
    }
    return found;
  }
  // Only what tells where a run begins and ends.
  Record sorted;
  sorted.observations.resize(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Observation& seen = record.observations[order[i]];
    sorted.observations[i].distance_m.value = seen.distance_m.value;
    sorted.observations[i].code = seen.code;
    sorted.observations[i].stretch = seen.stretch;
  }
  found = coding::extents(sorted);
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

PipeAlong::PipeAlong(const Record& record, const coding::CodeList& list)
    : sign_(counts_down(record) ? -1 : 1) {
  start_.material = base::trim(record.header_value("ACD").value_or(""));
  start_.bore_mm = record.header_number("ACB");
  start_.stiffness = stiffness_of(start_.material, list);
  for (const Observation& one : record.observations) {
    const bool of_material = one.code == "AED", of_bore = one.code == "AEC";
    if (!of_material && !of_bore) continue;
    if (!one.distance_m.value) {
      (of_material ? unsure_material_ : unsure_bore_) = true;
      continue;
    }
    const double at = sign_ * *one.distance_m.value;
    if (of_bore) {
      bores_.emplace_back(at, one.q1.value);  // a change to what nobody gives: not known from there
      continue;
    }
    std::string material = material_of(one, list);
    std::string stiffness = stiffness_of(material, list);
    materials_.push_back({at, std::move(material), std::move(stiffness)});
  }
  std::stable_sort(materials_.begin(), materials_.end(),
                   [](const Material& a, const Material& b) { return a.from < b.from; });
  std::stable_sort(bores_.begin(), bores_.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
}

std::vector<double> PipeAlong::changes_m() const {
  std::vector<double> places;
  for (const Material& one : materials_) places.push_back(sign_ * one.from);
  for (const auto& [from, bore_mm] : bores_) places.push_back(sign_ * from);
  return places;
}

PipeHere PipeAlong::at(const std::optional<double>& distance_m) const {
  PipeHere here = start_;
  const double at = sign_ * distance_m.value_or(0);
  if (unsure_material_ || (!distance_m && !materials_.empty())) {
    here.material.clear();
    here.stiffness.clear();
  } else if (const auto next =
                 std::upper_bound(materials_.begin(), materials_.end(), at,
                                  [](double place, const Material& one) { return place < one.from; });
             next != materials_.begin()) {
    here.material = std::prev(next)->material;
    here.stiffness = std::prev(next)->stiffness;
  }
  if (unsure_bore_ || (!distance_m && !bores_.empty()))
    here.bore_mm.reset();
  else if (const auto next =
               std::upper_bound(bores_.begin(), bores_.end(), at,
                                [](double place, const auto& one) { return place < one.first; });
           next != bores_.begin())
    here.bore_mm = std::prev(next)->second;
  return here;
}

}  // namespace haunch::grading
