// SPDX-License-Identifier: Apache-2.0
// write_fuzz_seeds DIR: what each fuzzer begins with, in a folder of its own.
#include <fstream>

#include <filesystem>

#include "fuzz/entries.hpp"

int main(int count, char** words) {
  if (count != 2) return 2;
  for (const auto& entry : haunch::fuzz::entries()) {
    const auto folder = std::filesystem::path(words[1]) / entry.name;
    std::filesystem::create_directories(folder);
    int number = 0;
    for (const std::string& bytes : haunch::fuzz::seeds(entry.name))
      std::ofstream(folder / ("seed-" + std::to_string(++number)), std::ios::binary) << bytes;
  }
}
