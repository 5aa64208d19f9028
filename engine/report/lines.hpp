// SPDX-License-Identifier: Apache-2.0
// A Record as people read it: one line for each finding, a stretch once with both its ends.
#pragma once

#include <string>
#include <vector>

#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::report {

struct Line {
  std::string id;       ///< Observation::id, of the begin for a stretch
  std::string end_id;   ///< of the end of a stretch, else empty
  std::string label;    ///< "3" or "c": short name used in pictures and tables
  bool placed = false;  ///< a distance is there
  double from_m = 0, to_m = 0;
  std::string where;   ///< "9.50 m" or "2.00 m to 6.00 m"
  std::string code;    ///< "BAB B A"
  std::string words;   ///< the whole observation in plain words
  std::string reason;  ///< why truth wrote it; empty in people's records
};

enum class Labels { numbers, letters };
std::vector<Line> lines_of(const coding::Record& record, const coding::CodeList& list, base::LengthUnit unit,
                           Labels labels = Labels::numbers);
/// By id of the observation (begin or end of a stretch), or null.
const Line* find_line(const std::vector<Line>& lines, const std::string& id);

/// Our own sentences say distances as "9.50 m": the same text with them in `unit`.
std::string distances_in(const std::string& text, base::LengthUnit unit);

/// a, b .. z, aa, ab ..: 0 is "a".
std::string letters_for(std::size_t index);

}  // namespace haunch::report
