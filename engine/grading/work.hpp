// SPDX-License-Identifier: Apache-2.0
// One Record on its way through a scheme: what classes are read from, and what comes of it. Inside this room.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "grading/along.hpp"
#include "grading/scheme_inside.hpp"

namespace haunch::grading {

/// A finding as a scheme sees it: a point, or a run with the larger of the sizes along it.
struct Finding {
  const coding::Observation* seen = nullptr;  ///< a run's begin
  std::optional<double> q1, q2;
  std::optional<double> from_m, to_m;  ///< not known where the record gives no distance
  bool continuous = false;
  PipeHere pipe;
  double extent_m() const;  ///< 0 for a point
};

struct Work {
  const coding::Record& record;
  const Scheme::Inside& scheme;
  const Site& site;
  const coding::CodeList& list;
  bool words = true;                ///< false: no reasons are written
  bool counts_down = false;         ///< distances run backwards
  std::vector<Finding> findings{};  ///< beside `grade.observations`
  Grade grade{};                    ///< with the classes of all goals, and why the pipe was not wholly seen
  /// A site condition that is not known; once each.
  void missing(const std::string& what);
};

/// "not wholly inspected (..): no class can be given for what was not seen", or empty.
std::string unseen_words(const Grade& grade);

}  // namespace haunch::grading
