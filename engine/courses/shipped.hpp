// SPDX-License-Identifier: Apache-2.0
// Files of a folder of the content. Inside this room.
#pragma once

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "base/files.hpp"

namespace haunch::courses {

inline std::vector<std::filesystem::path> shipped_files(const std::string& folder) {
  std::vector<std::filesystem::path> files;
  std::error_code none;
  for (const auto& entry : std::filesystem::directory_iterator(base::content_dir() / folder, none))
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}
/// Is there such a file? A name with a folder in it is none.
inline bool shipped_file(const std::string& folder, const std::string& name) {
  std::error_code none;
  return name.find('/') == std::string::npos &&
         std::filesystem::is_regular_file(base::content_dir() / folder / (name + ".json"), none);
}

}  // namespace haunch::courses
