// SPDX-License-Identifier: Apache-2.0
// What the fuzzed readers have in common.
#pragma once

#include <sys/mman.h>
#include <unistd.h>

#include <stdexcept>
#include <string>

namespace haunch::fuzz {

inline void must(bool holds, const std::string& promise) {
  if (!holds) throw std::logic_error(promise);
}

/// The bytes as a file that only this process sees.
struct InMemory {
  explicit InMemory(const std::string& bytes) : handle(::memfd_create("fuzz", 0)) {
    must(handle >= 0 && ::write(handle, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()),
         "a file in memory");
  }
  InMemory(const InMemory&) = delete;
  InMemory& operator=(const InMemory&) = delete;
  ~InMemory() { ::close(handle); }
  std::string path() const { return "/proc/self/fd/" + std::to_string(handle); }
  int handle;
};

}  // namespace haunch::fuzz
