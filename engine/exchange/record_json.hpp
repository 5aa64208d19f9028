// SPDX-License-Identifier: Apache-2.0
// Records as JSON (schema: content/schemas/record.schema.json).
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"
#include "coding/validate.hpp"

namespace haunch::exchange {

/// A Record and where its parts stand in their file.
struct PlacedRecord {
  coding::Record record;
  coding::RecordPlaces places;
};

/// `{"kind": "record", "edition": 1, "header": {"ACB": "150"}, "observations": [{"distance_m": 0.5,
/// "code": "BAB", "ch1": "B", ...}], "judgement": {"classes": [{"observation": "o3", "classes":
/// {"tightness": 3}}], "object_class": 3, "action": "clean again"}}`. Absent fields are empty.
/// Observations without an id are numbered; an id given twice is a problem. A header code that stands there
/// more than once holds a list of values. `kind` and `edition` may be left out.
base::Result<PlacedRecord> record_from_json(const std::string& text, const std::string& file_name);
/// Every observation with all of distance_m, code, ch1, ch2, q1, q2, clock_from, clock_to, at_joint,
/// stretch, remark: "" for no text, null for no number. The text of a number that JSON writes otherwise
/// ("007", "1.20") stands beside it in as_written, and reading takes it from there while it is of that value.
std::string record_to_json(const coding::Record& record);

/// Several inspections in one file: `{"kind": "records", "edition": 1, "records": [..]}`. Reading takes
/// a single record as well.
base::Result<std::vector<PlacedRecord>> records_from_json(const std::string& text,
                                                          const std::string& file_name);
std::string records_to_json(const std::vector<coding::Record>& records);

}  // namespace haunch::exchange
