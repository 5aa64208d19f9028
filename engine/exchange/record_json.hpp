// SPDX-License-Identifier: Apache-2.0
// Records as JSON (schema: content/schemas/record.schema.json).
#pragma once

#include <filesystem>
#include <string>

#include "base/result.hpp"
#include "coding/record.hpp"
#include "coding/validate.hpp"

namespace haunch::exchange {

/// A Record and where its observations stand in their file.
struct PlacedRecord {
  coding::Record record;
  coding::ObservationPlaces places;
};

/// `{"kind": "record", "edition": 1, "header": {"ACB": "150"}, "observations": [{"distance_m": 0.5,
/// "code": "BAB", "ch1": "B", ...}], "judgement": {"classes": [{"observation": "o3", "classes":
/// {"tightness": 3}}], "object_class": 3, "action": "clean again"}}`. Absent fields are empty.
/// Observations without an id are numbered.
base::Result<PlacedRecord> record_from_json(const std::string& text, const std::string& file_name);
std::string record_to_json(const coding::Record& record);

}  // namespace haunch::exchange
