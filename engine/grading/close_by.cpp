// SPDX-License-Identifier: Apache-2.0
#include "grading/close_by.hpp"

#include <algorithm>
#include <functional>
#include <queue>
#include <utility>

namespace haunch::grading {
namespace {

/// Sums of decimal fractions are off by a few units in the last place.
constexpr double hair = 1e-9;

bool starts_before(const Scored& a, const Scored& b) {
  return a.from_m != b.from_m ? a.from_m < b.from_m : a.to_m < b.to_m;
}

/// The largest sum of scores that meet one stretch of `together_m`. Items by their start.
double worst_place(const std::vector<Scored>& items, const Closeness& rule) {
  using End = std::pair<double, double>;  // where it is left behind, score
  std::priority_queue<End, std::vector<End>, std::greater<>> open;
  double sum = 0, worst = 0;
  for (const Scored& one : items) {
    while (!open.empty() && open.top().first + rule.together_m < one.from_m - hair) {
      sum -= open.top().second;
      open.pop();
    }
    if (open.empty()) sum = 0;
    open.emplace(one.to_m, one.score);
    sum += one.score;
    worst = std::max(worst, sum);
  }
  return std::min(worst, rule.most);
}

/// Splits items, by their start, where more than `gap_m` of clear pipe lies between.
std::vector<std::vector<Scored>> linked(const std::vector<Scored>& items, double gap_m) {
  std::vector<std::vector<Scored>> groups;
  double end = 0;
  for (const Scored& one : items) {
    if (groups.empty() || one.from_m - end > gap_m + hair) {
      groups.emplace_back();
      end = one.to_m;
    }
    groups.back().push_back(one);
    end = std::max(end, one.to_m);
  }
  return groups;
}

double end_of(const std::vector<Scored>& items) {
  double end = items.front().to_m;
  for (const Scored& one : items) end = std::max(end, one.to_m);
  return end;
}

/// For each end along the way, the worst place among the items that are over by then.
std::vector<std::pair<double, double>> worst_until(std::vector<Scored> items, const Closeness& rule) {
  std::sort(items.begin(), items.end(), [](const Scored& a, const Scored& b) {
    return std::pair(a.to_m, a.from_m) < std::pair(b.to_m, b.from_m);
  });
  std::vector<std::pair<double, double>> worst;
  for (std::size_t i = 0; i < items.size(); ++i) {
    std::vector<Scored> near;
    for (std::size_t j = i + 1; j-- > 0 && items[j].to_m + rule.together_m >= items[i].from_m - hair;)
      near.push_back(items[j]);
    std::sort(near.begin(), near.end(), starts_before);
    const double before = worst.empty() ? 0 : worst.back().second;
    worst.emplace_back(items[i].to_m, std::max(before, worst_place(near, rule)));
  }
  return worst;
}

/// The largest sum of two places of which one is over before the other begins; 0 where there are no two.
double two_apart(const std::vector<Scored>& items, const Closeness& rule) {
  std::vector<Scored> mirrored;
  for (const Scored& one : items) mirrored.push_back({-one.to_m, -one.from_m, one.score, one.placed});
  const auto before = worst_until(items, rule), after = worst_until(std::move(mirrored), rule);
  double best = 0;
  for (const auto& [end, worst] : before) {
    // Items that begin past the end: mirrored, they are over before it.
    const auto next = std::lower_bound(after.begin(), after.end(), -end,
                                       [](const auto& one, double place) { return one.first < place; });
    if (next != after.begin()) best = std::max(best, worst + std::prev(next)->second);
  }
  return best;
}

/// The placed ones by their start; the others are taken out.
std::vector<Scored> placed_of(const std::vector<Scored>& items) {
  std::vector<Scored> placed;
  for (const Scored& one : items)
    if (one.placed) placed.push_back(one);
  std::sort(placed.begin(), placed.end(), starts_before);
  return placed;
}

}  // namespace

std::vector<Compound> compounds(std::vector<Scored> items, const Closeness& rule) {
  std::vector<Compound> found;
  double end = 0;
  for (const std::vector<Scored>& group : linked(placed_of(items), rule.together_m)) {
    const double from = group.front().from_m, to = end_of(group);
    Compound one{worst_place(group, rule), to - from, false, group.size()};
    if (!found.empty() && from - end <= rule.close_m + hair) one.close = found.back().close = true;
    found.push_back(one);
    end = to;
  }
  for (const Scored& one : items)
    if (!one.placed) found.push_back({std::min(one.score, rule.most), one.to_m - one.from_m, false, 1});
  return found;
}

double worst_of_any_choice(const std::vector<Scored>& items, const Closeness& rule) {
  double worst = 0;
  for (const Scored& one : items) worst = std::max(worst, std::min(one.score, rule.most));
  for (const std::vector<Scored>& group : linked(placed_of(items), rule.close_m)) {
    worst = std::max(worst, worst_place(group, rule));
    worst = std::max(worst, rule.factor * two_apart(group, rule) / 2);
  }
  return worst;
}

}  // namespace haunch::grading
