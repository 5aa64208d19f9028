// SPDX-License-Identifier: Apache-2.0
// haunch train: starts the window's program, which is a program of its own so that this one needs
// no graphics libraries.
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <iostream>

#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

bool set(const char* variable) {
  const char* value = std::getenv(variable);
  return value != nullptr && *value != 0;
}

}  // namespace

int train(const Arguments& arguments) {
  std::error_code ignored;
  const fs::path self = fs::read_symlink("/proc/self/exe", ignored);
  const fs::path program = self.parent_path() / "haunch-train";
  const bool wants_help = !arguments.empty() && (arguments[0] == "--help" || arguments[0] == "-h");
  if (wants_help) {
    std::cout
        << "haunch train [SCENARIO] [options]\n\nOpens the window on a scenario: drive, code what you see, "
           "grade it, and be marked.\nEverything after the verb goes to haunch-train, which is told below."
           "\nWithout a display, haunch demo does the same job into a folder.\n"
        << std::endl;
  }
  if (!fs::exists(program)) {
    if (wants_help) {
      std::cout << program.string()
                << " is not there, so its options cannot be shown; build the window too\n";
      return done;
    }
    throw std::runtime_error(program.string() + " is not there; build the window too" +
                             (set("DISPLAY") ? "" : ". Without a display, `haunch demo` does the whole job"));
  }
  // A wrong option or a missing file matters more than a missing display: haunch-train looks at them first.
  std::vector<std::string> words{program.string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  ::execv(program.c_str(), pointers.data());
  throw std::runtime_error(program.string() + " could not be started: " + std::strerror(errno));
}

}  // namespace haunch::cli
