// SPDX-License-Identifier: Apache-2.0
// Files that verbs write: never over an input or one another, and never over what is there unless told.
// One rule for every verb: whose a file is cannot be told from what stands in it.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli.hpp"

namespace haunch::cli {

struct Output {
  std::string option;  ///< "--html"
  std::filesystem::path file;
};

/// The same place, whether it is there yet or not.
bool same_file(const std::filesystem::path& a, const std::filesystem::path& b);

/// Adds `--force`.
void add_force(Command& command);
/// A UsageError when outputs are one another's or an input's file.
void keep_apart(const std::vector<Output>& outputs, const std::vector<std::filesystem::path>& inputs);
/// InputProblems for each file that is there already, unless `--force`; asked before the work is done.
void keep_others(const std::vector<Output>& outputs, const po::variables_map& given);

}  // namespace haunch::cli
