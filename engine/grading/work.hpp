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
  bool ended = true;                      ///< false: a run whose end is not recorded
  bool end_placed = true;                 ///< false: nobody knows where a run ends; `to_m` is its begin
  bool q1_gaps = false, q2_gaps = false;  ///< a row of a run lacks the size that another row has
  std::optional<double> q1_below_0{}, q2_below_0{};  ///< written so, which cannot be: no size
  PipeHere pipe;
  double extent_m() const;  ///< 0 for a point, and where it is not known
  bool extent_known() const;
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
  /// What is not known, once each, with what follows from that: "no repair index (RI)".
  void missing(const std::string& what, const std::string& follows);
  /// "Not known: .., so ..", for the notes; empty where nothing is missing.
  std::string missing_words() const;
  std::vector<std::vector<std::string>> follows{};  ///< beside `Grade::missing`
  /// Writes down what is not known, in words only where words are wanted.
  void leave_open(const std::string& observation, const std::string& goal, bool classed,
                  const std::string& what);
  /// Findings that have no class for the goal, or none at all; "": for any goal.
  std::size_t unclassed(const std::string& goal = {}) const;
};

/// "3 to 5": from the least to the most that the class of the pipe might be.
std::string span_words(const Grade& grade);

/// "BAJ B (row BAJ/B: .. is not known); 2 of BAM A (..)": the first few of `Grade::open`; empty where there
/// are none.
std::string open_words(const Work& work);

/// "not wholly inspected (..): no class can be given for what was not seen", or empty.
std::string unseen_words(const Grade& grade);

}  // namespace haunch::grading
