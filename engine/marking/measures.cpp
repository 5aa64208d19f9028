// SPDX-License-Identifier: Apache-2.0
#include "marking/measures.hpp"

#include <algorithm>
#include <cmath>

#include "marking/assignment.hpp"

namespace haunch::marking {
namespace {

constexpr double hair = 1e-9;

double share(std::size_t part, std::size_t whole) {
  return whole == 0 ? 0 : static_cast<double>(part) / static_cast<double>(whole);
}

bool within(const Span& truth, const Span& mark, const EventCollar& collar) {
  if (std::abs(truth.from - mark.from) > collar.begin + hair) return false;
  const double end = std::max(collar.begin, collar.end_share * (truth.to - truth.from));
  return !collar.ends_count || std::abs(truth.to - mark.to) <= end + hair;
}

}  // namespace

double Counts::precision() const { return share(found, found + invented); }
double Counts::recall() const { return share(found, found + missed); }
double Counts::f() const { return share(2 * found, 2 * found + missed + invented); }
double Counts::accuracy() const {
  return share(found + rightly_empty, found + rightly_empty + missed + invented);
}
double Counts::error_rate() const { return share(missed + invented, found + missed); }

Counts count_events(const std::vector<Span>& truth, const std::vector<Span>& marks,
                    const EventCollar& collar) {
  std::vector<PossiblePair> possible;
  for (std::size_t t = 0; t < truth.size(); ++t)
    for (std::size_t m = 0; m < marks.size(); ++m)
      if (within(truth[t], marks[m], collar)) possible.push_back({t, m, 1});
  Counts counts;
  counts.found = best_pairs(truth.size(), marks.size(), possible).size();
  counts.missed = truth.size() - counts.found;
  counts.invented = marks.size() - counts.found;
  return counts;
}

Counts count_segments(const std::vector<Span>& truth, const std::vector<Span>& marks, double segment) {
  double end = 0;
  for (const auto* spans : {&truth, &marks})
    for (const Span& span : *spans) end = std::max(end, span.to);
  const auto touched = [&](const std::vector<Span>& spans, double from) {
    return std::any_of(spans.begin(), spans.end(), [&](const Span& span) {
      return span.from < from + segment - hair && span.to > from + hair;
    });
  };
  Counts counts;
  const auto segments = static_cast<long>(std::ceil(end / segment - hair));
  for (long i = 0; i < segments; ++i) {
    const double from = static_cast<double>(i) * segment;
    const bool there = touched(truth, from), marked = touched(marks, from);
    ++(there ? (marked ? counts.found : counts.missed) : (marked ? counts.invented : counts.rightly_empty));
  }
  return counts;
}

}  // namespace haunch::marking
