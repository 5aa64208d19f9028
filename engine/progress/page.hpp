// SPDX-License-Identifier: Apache-2.0
// Scores as one printable HTML page that needs nothing beside it, as CSV and as JSON.
#pragma once

#include <string>
#include <vector>

#include "progress/overview.hpp"

namespace haunch::progress {

/// One person's, or a team's with the people below one another (template content/report/scores.mustache).
std::string html(const std::vector<Overview>& people, const std::string& made_at);
/// A line for each person and code.
std::string csv(const std::vector<Overview>& people);
/// Schema: content/schemas/progress.schema.json.
std::string json(const std::vector<Overview>& people);
/// For a terminal.
std::string text(const std::vector<Overview>& people);

}  // namespace haunch::progress
