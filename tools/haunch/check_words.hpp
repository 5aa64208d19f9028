// SPDX-License-Identifier: Apache-2.0
// What checking found, for people and for programs (content/schemas/check.schema.json).
#pragma once

#include <string>
#include <vector>

#include "check_file.hpp"

namespace haunch::cli {

/// A line a problem where there are few; else a page: each kind of problem once, with its count and places.
std::string check_in_words(const Checked& checked);
/// The same of what another verb came upon in a file: `inspections` is how many it has read of it. Empty
/// where there is nothing to say.
std::string remarks_in_words(const Tally& tally, const std::filesystem::path& file, std::size_t inspections);
/// "x.txt: exchange text with 3 inspections, no problems"; empty when there are errors.
std::string verdict_line(const Checked& checked);
std::string check_to_json(const std::vector<Checked>& files);
/// Every rule with its name and group, for `--without`.
std::string rules_in_words();

}  // namespace haunch::cli
