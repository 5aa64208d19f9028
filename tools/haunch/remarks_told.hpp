// SPDX-License-Identifier: Apache-2.0
// Remarks of the check of a file: few are told one by one, a flood by kind, so that it never fills a
// terminal.
#pragma once

#include <iosfwd>
#include <map>
#include <string>

#include "base/result.hpp"

namespace haunch::cli {

class RemarksTold {
 public:
  explicit RemarksTold(std::string file) : file_(std::move(file)) {}
  void add(const base::Problems& problems);
  /// Those that were added: each, or from `most_lines` on counted by kind with the command that tells all.
  void print(std::ostream& stream) const;

  static constexpr std::size_t most_lines = 20;

 private:
  std::string file_;
  base::Problems first_;  ///< at most one more than are told
  struct Kind {
    std::size_t times = 0;
    std::string example;  ///< the first one's line
  };
  std::map<std::string, Kind> kinds_;
  std::size_t all_ = 0, beyond_ = 0;
};

/// A problem's words without what differs from place to place: quoted words and numbers.
std::string kind_of_problem(const base::Problem& problem);

}  // namespace haunch::cli
