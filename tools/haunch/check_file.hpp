// SPDX-License-Identifier: Apache-2.0
// What is wrong with a file, whatever of our files it is.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "check_tally.hpp"

namespace haunch::cli {

struct Checked {
  std::filesystem::path file;
  std::string what;  ///< "scenario", "exchange text with 3 inspections" ..; empty when it could not be told
  int inspections = 0;
  std::size_t rows = 0;  ///< observations of all inspections
  Tally tally;
};

struct HowToCheck {
  coding::Checks checks;
  std::size_t keep = Tally::few;                          ///< of each kind
  std::function<void(const base::Problem&)> as_it_comes;  ///< told every problem, kept or not
};
/// Records are read one after another: a file of any size needs memory for one of them.
Checked check_file(const std::filesystem::path& file, const HowToCheck& how);

/// The files of a folder and the folders in it that can be checked, by name; what is no folder is itself.
std::vector<std::filesystem::path> files_to_check(const std::filesystem::path& given);

}  // namespace haunch::cli
