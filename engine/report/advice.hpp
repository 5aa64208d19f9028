// SPDX-License-Identifier: Apache-2.0
// What a record calls for, finding by finding and for the whole pipe, most urgent first. The order of its
// rows changes nothing, and one finding more never makes the advice less careful.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "marking/mark.hpp"
#include "report/meanings.hpp"

namespace haunch::report {

/// One finding of a record, which it points into.
struct RankedFinding {
  int number = 0;  ///< 1 is the most urgent of the record; 0 for parts and notes
  const coding::Observation* seen = nullptr;
  std::vector<std::size_t> rows;  ///< of the record: all rows of a stretch
  const Meaning* meaning = nullptr;
  std::size_t next = 0;  ///< index into Meanings::next()
  std::string cause;     ///< why it calls for care, by the marking rules; else empty
  std::optional<double> from_m, to_m, q1, q2;
  bool continuous = false;
  std::optional<int> worst_class;  ///< over the goals of the scheme
  std::optional<double> max_number;
  bool provisional = false;
  bool by_size = false;  ///< asked about for its size alone (Meaning::ask_from_q1)
  std::string hidden;    ///< why it could not be seen; truths only
};

/// Findings that mean the same and call for the same, the most urgent first.
struct FindingGroup {
  const Meaning* meaning = nullptr;
  std::size_t next = 0;
  std::vector<RankedFinding> findings;
};

struct Advice {
  std::size_t next = 0;  ///< for the whole pipe: the most careful of all
  bool no_jet = false;   ///< nothing in this pipe is cleaned by a jet
  std::vector<std::string> about_material;
  std::vector<FindingGroup> groups;         ///< most urgent first
  std::vector<RankedFinding> parts, notes;  ///< along the pipe
  std::size_t finding_count = 0;

  const RankedFinding* most_urgent() const;
};

/// `grade` is the record's own.
Advice advice_for(const coding::Record& record, const grading::Grade& grade,
                  const Meanings& meanings = Meanings::shipped(),
                  const marking::Rules& rules = marking::Rules::shipped());

/// The action that a step holds: the last one at or before it in the list.
coding::Action action_of(std::size_t next, const Meanings& meanings);

}  // namespace haunch::report
