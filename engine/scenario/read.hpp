// SPDX-License-Identifier: Apache-2.0
// From a scenario file to a run as values. Schema: content/schemas/scenario.schema.json.
#pragma once

#include <filesystem>
#include <string>

#include "base/result.hpp"
#include "scene/scenario.hpp"

namespace haunch::scenario {

/// Reads, checks by schema, then by sense (faults inside the run, joints where joints are, areas
/// that fit the bore ...). All problems at once.
base::Result<scene::Scenario> read_scenario(const std::filesystem::path& path);
base::Result<scene::Scenario> scenario_from_json(const std::string& text, const std::string& file_name);

}  // namespace haunch::scenario
