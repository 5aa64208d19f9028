// SPDX-License-Identifier: Apache-2.0
// What is wrong with a file, whatever of our files it is.
#pragma once

#include <filesystem>
#include <string>

#include "base/result.hpp"

namespace haunch::cli {

struct Checked {
  std::string what;  ///< "scenario", "exchange text with 3 inspections" ..; empty when it could not be told
  base::Problems problems;
};
Checked check_file(const std::filesystem::path& file);

}  // namespace haunch::cli
