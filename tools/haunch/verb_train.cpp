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
           "grade it, and be marked.\nEverything after the verb goes to haunch-train.\nWithout a display, "
           "haunch demo does the same job into a folder.\n";
    return done;
  }
  if (!set("DISPLAY") && !set("WAYLAND_DISPLAY")) {
    std::cerr
        << "haunch: there is no display to open a window on; `haunch demo` does the whole job without one\n";
    return could_not_go_on;
  }
  if (!fs::exists(program))
    throw std::runtime_error(program.string() + " is not there; build the window too");
  std::vector<std::string> words{program.string()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  ::execv(program.c_str(), pointers.data());
  throw std::runtime_error(program.string() + " could not be started: " + std::strerror(errno));
}

}  // namespace haunch::cli
