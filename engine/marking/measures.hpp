// SPDX-License-Identifier: Apache-2.0
// Counting found, missed and false marks, by event and by segment, as published for sound events
// (Mesaros, Heittola, Virtanen 2016), whose spans in time are our stretches along a pipe.
#pragma once

#include <cstddef>
#include <vector>

namespace haunch::marking {

struct Span {
  double from = 0, to = 0;
  bool operator==(const Span&) const = default;
};

struct Counts {
  std::size_t found = 0, missed = 0, invented = 0;
  std::size_t rightly_empty = 0;  ///< segments with nothing there and nothing marked

  double precision() const;
  double recall() const;
  double f() const;           ///< harmonic mean of both
  double accuracy() const;    ///< segments only
  double error_rate() const;  ///< (missed + invented) / true ones, for one kind of finding; may pass 1
};

struct EventCollar {
  double begin = 0;      ///< a difference equal to it is within it
  double end_share = 0;  ///< the end within `begin` or this share of the true length
  bool ends_count = true;
};

/// One to one, as many as can be.
Counts count_events(const std::vector<Span>& truth, const std::vector<Span>& marks,
                    const EventCollar& collar);

/// The axis is cut into segments of this length from 0; a segment is marked when a span touches it.
Counts count_segments(const std::vector<Span>& truth, const std::vector<Span>& marks, double segment);

}  // namespace haunch::marking
