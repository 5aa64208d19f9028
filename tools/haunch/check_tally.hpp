// SPDX-License-Identifier: Apache-2.0
// Counts problems by kind and keeps the first of each, so that a file of any size is told in a page.
#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <unordered_map>
#include <vector>

#include "base/result.hpp"
#include "coding/validate.hpp"

namespace haunch::cli {

/// A problem and the inspection it is in, from 1; 0: the file as a whole.
struct Told {
  base::Problem problem;
  int inspection = 0;
};

/// Problems that say the same of different places.
struct ProblemKind {
  base::Severity severity = base::Severity::error;
  std::string rule;  ///< "size-missing"; empty for what a reader tells
  std::string says;  ///< "BCA: a size is missing"
  std::size_t count = 0, inspections = 0;
  std::vector<Told> first;  ///< the first of them, as many as are kept

  int last_inspection = -1;  ///< for counting
};

class Tally {
 public:
  /// Ours: enough to tell where some of a kind are.
  static constexpr std::size_t few = 20;
  static constexpr std::size_t all = std::numeric_limits<std::size_t>::max();
  /// How many of each kind are kept.
  explicit Tally(std::size_t keep) : keep_(keep) {}

  void add(base::Problem problem, int inspection);
  void add(const base::Problems& problems, int inspection);
  void add(coding::Remark remark, int inspection);

  std::size_t count(base::Severity severity) const { return counts_[static_cast<std::size_t>(severity)]; }
  std::size_t total() const { return counts_[0] + counts_[1] + counts_[2]; }
  bool has_errors() const { return count(base::Severity::error) > 0; }
  /// Errors first, then warnings and notes; of each the most frequent first.
  std::vector<const ProblemKind*> kinds() const;
  /// All that is kept, down the file.
  base::Problems by_line() const;

 private:
  void add(base::Problem&& problem, int inspection, std::string_view rule, const std::string& says,
           std::string key);

  std::size_t keep_;
  std::size_t counts_[3] = {};
  std::vector<ProblemKind> kinds_;
  std::unordered_map<std::string, std::size_t> index_;
};

}  // namespace haunch::cli
