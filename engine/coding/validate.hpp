// SPDX-License-Identifier: Apache-2.0
// Is a Record well formed? Never what it means for the pipe.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"

namespace haunch::coding {

/// Where each observation stands in its file, when it came from one; may be empty.
using ObservationPlaces = std::vector<base::Place>;

/// Every problem of the Record. Errors: unknown codes and letters, clocks outside 1..12, numbers
/// that are none, runs begun or ended wrongly, distances below 0 or past the stated length.
/// Warnings: whatever rests on a rule known only from memory. Notes: harmless oddities.
base::Problems validate(const Record& record, const CodeList& list, const std::string& file_name,
                        const ObservationPlaces& places = {});

}  // namespace haunch::coding
