// SPDX-License-Identifier: Apache-2.0
// A grade in machine-readable form (schema: content/schemas/grade.schema.json).
#pragma once

#include <string>

#include "grading/grade.hpp"

namespace haunch::grading {

/// Classes by goal, each with the row that decided it.
std::string to_json(const Grade& grade);
/// The same with the code and the distance of each observation beside its id.
std::string to_json(const Grade& grade, const coding::Record& record);

}  // namespace haunch::grading
