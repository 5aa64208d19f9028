// SPDX-License-Identifier: Apache-2.0
// Which pipe stands where along a run, and findings put together whatever order they are written in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::grading {

/// Indices of the rows of a Record in an order that does not hang on the one they are written in.
std::vector<std::size_t> order_along(const coding::Record& record);

/// coding::extents, but the order of the rows never matters: an end written before its begin still
/// ends it. A change ("C1") that belongs to no run is a point. Indices are those of the Record; the
/// list is in order of distance.
std::vector<coding::Extent> extents_in_any_order(const coding::Record& record);

/// All rows of an extent: the point, or begin, changes and end of a run. A change belongs to the run
/// of its number, code and place; where a place or the end of the run is not known, to every one of its
/// number and code.
std::vector<std::size_t> rows_of(const coding::Record& record, const coding::Extent& extent);

/// The sizes that count for an extent: along a run they may differ, and the largest counts.
struct Sizes {
  std::optional<double> q1, q2;
};
Sizes sizes_of(const coding::Record& record, const coding::Extent& extent);

/// True where distances run backwards, from the start node down to the finish node.
bool counts_down(const coding::Record& record);

struct PipeHere {
  std::string material;   ///< code, or empty when not known
  std::string stiffness;  ///< "rigid", "flexible" or empty when not known
  std::optional<double> bore_mm;
};

/// From the header and the last change of material (AED) and of shape or size (AEC) met before or
/// at the place.
PipeHere pipe_at(const coding::Record& record, const coding::CodeList& list,
                 const std::optional<double>& distance_m);

}  // namespace haunch::grading
