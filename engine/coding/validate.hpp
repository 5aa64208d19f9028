// SPDX-License-Identifier: Apache-2.0
// Is a Record well formed? Never what it means for the pipe.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::coding {

/// Where the parts of a Record stand in their file, when it came from one; each list may be empty.
struct RecordPlaces {
  std::vector<base::Place> observations;
  std::vector<base::Place> classes;      ///< entries of the judgement, at the name of the observation
  std::vector<base::Place> not_visible;  ///< entries, at the name of the observation
  bool operator==(const RecordPlaces&) const = default;
};

/// Ours: no run of pipe between two nodes is as long, and no bore as wide.
inline constexpr double longest_pipe_m = 10000, widest_pipe_mm = 20000;

/// Every problem of the Record. Errors: unknown codes and letters, clocks outside 1..12, numbers
/// that are none, runs begun or ended wrongly, distances below 0, past the stated length or
/// past any pipe.
/// Warnings: whatever rests on a rule known only from memory. Notes: harmless oddities.
base::Problems validate(const Record& record, const CodeList& list, const std::string& file_name,
                        const RecordPlaces& places = {});

}  // namespace haunch::coding
