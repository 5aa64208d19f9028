// SPDX-License-Identifier: Apache-2.0
// Counting found, missed and false marks by event, as published for sound events (Mesaros, Heittola,
// Virtanen 2016), whose spans in time are our stretches along a pipe. A foil for our one-to-one pairing.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "marking/assignment.hpp"

namespace haunch::marking::testing {

struct Span {
  double from = 0, to = 0;
};

struct Counts {
  std::size_t found = 0, missed = 0, invented = 0;

  /// Harmonic mean of precision and recall.
  double f() const { return share(2 * found, 2 * found + missed + invented); }
  /// (missed + invented) / true ones, for one kind of finding; may pass 1.
  double error_rate() const { return share(missed + invented, found + missed); }

 private:
  static double share(std::size_t part, std::size_t whole) {
    return whole == 0 ? 0 : static_cast<double>(part) / static_cast<double>(whole);
  }
};

struct EventCollar {
  double begin = 0;      ///< a difference equal to it is within it
  double end_share = 0;  ///< the end within `begin` or this share of the true length
  bool ends_count = true;
};

/// One to one, as many as can be.
inline Counts count_events(const std::vector<Span>& truth, const std::vector<Span>& marks,
                           const EventCollar& collar) {
  constexpr double hair = 1e-9;
  const auto within = [&](const Span& there, const Span& mark) {
    if (std::abs(there.from - mark.from) > collar.begin + hair) return false;
    const double end = std::max(collar.begin, collar.end_share * (there.to - there.from));
    return !collar.ends_count || std::abs(there.to - mark.to) <= end + hair;
  };
  std::vector<PossiblePair> possible;
  for (std::size_t t = 0; t < truth.size(); ++t)
    for (std::size_t m = 0; m < marks.size(); ++m)
      if (within(truth[t], marks[m])) possible.push_back({t, m, 1});
  Counts counts;
  counts.found = best_pairs(truth.size(), marks.size(), possible).size();
  counts.missed = truth.size() - counts.found;
  counts.invented = marks.size() - counts.found;
  return counts;
}

/// The same by pieces of even length: a piece is true, or marked, where any span reaches into it.
struct Segments {
  std::size_t both = 0, neither = 0, missed = 0, invented = 0;
  double accuracy() const {
    return static_cast<double>(both + neither) / static_cast<double>(both + neither + missed + invented);
  }
  /// A piece holds one kind only, so nothing is put down as something else.
  double error_rate() const {
    return static_cast<double>(missed + invented) / static_cast<double>(both + missed);
  }
};
inline Segments count_segments(const std::vector<Span>& truth, const std::vector<Span>& marks,
                               double length) {
  double end = 0;
  for (const auto* side : {&truth, &marks})
    for (const Span& one : *side) end = std::max(end, one.to);
  const auto any = [&](const std::vector<Span>& spans, double from) {
    return std::any_of(spans.begin(), spans.end(), [&](const Span& one) {
      return one.from < from + length - 1e-9 && one.to > from + 1e-9;
    });
  };
  Segments counts;
  for (double from = 0; from < end - 1e-9; from += length) {
    const bool there = any(truth, from), marked = any(marks, from);
    ++(there && marked ? counts.both : there ? counts.missed : marked ? counts.invented : counts.neither);
  }
  return counts;
}

}  // namespace haunch::marking::testing
