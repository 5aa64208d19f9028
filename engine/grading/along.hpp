// SPDX-License-Identifier: Apache-2.0
// Which pipe stands where along a run, and findings put together whatever order they are written in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::grading {

/// coding::extents, but the order of the rows never matters: an end written before its begin still
/// ends it. Indices are those of the Record; the list is in order of distance.
std::vector<coding::Extent> extents_in_any_order(const coding::Record& record);

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
