// SPDX-License-Identifier: Apache-2.0
// The folder a demo writes into. It remembers which files are its own, so that a second demo may
// replace them and nobody else's file is ever written over.
#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace haunch::cli {

class DemoFolder {
 public:
  explicit DemoFolder(std::filesystem::path folder);

  /// A problem for each name that is there and is not ours. Asked before any work is done.
  base::Problems in_the_way(const std::vector<std::string>& names) const;
  /// Writes under a name within the folder and remembers it; throws when the name is someone else's.
  void write(const std::string& name, const std::string& bytes);
  /// Marks a file as ours that somebody else writes (the store).
  void own(const std::string& name);
  /// Removes what an earlier demo left and this one did not write.
  void finish();

 private:
  void remember();
  std::filesystem::path folder_;
  bool list_is_ours_ = false;
  std::set<std::string> before_;  ///< ours from an earlier demo
  std::set<std::string> now_;
};

}  // namespace haunch::cli
