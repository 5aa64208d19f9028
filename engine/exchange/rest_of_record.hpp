// SPDX-License-Identifier: Apache-2.0
// A record file with faults is still looked through to its end, so that a person mends it once. Inside
// this room.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/json_document.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {

/// What of one record was refused and read as if it were not there.
struct Refused {
  bool observations = false;                               ///< the whole list
  bool names = false;                                      ///< of the judgement or of what is not visible
  std::map<std::size_t, std::set<std::string>> of_fields;  ///< by observation; "*" is all of it
};

/// `pointer` is that of the record within its file.
Refused refused_in(const std::string& pointer, const std::vector<base::JsonDocument::Fault>& faults);

/// What the code list says of the rest. What only hangs on something refused is left out, and so is what
/// has been told. What stands nowhere is told where the record begins.
base::Problems problems_of_the_rest(const PlacedRecord& placed, const Refused& refused,
                                    const base::Place& begins);

}  // namespace haunch::exchange
