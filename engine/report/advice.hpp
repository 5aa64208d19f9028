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
  std::string no_class;  ///< why it has no class though it may be worst; else empty
  std::string hidden;    ///< why it could not be seen; truths only
};

/// Findings that mean the same and call for the same, the most urgent first.
struct FindingGroup {
  const Meaning* meaning = nullptr;
  std::size_t next = 0;
  std::vector<RankedFinding> findings;
};

/// A remark with a sign of danger in it (Meanings::remark_signs).
struct RemarkFound {
  const RemarkSign* sign = nullptr;
  std::optional<double> at_m;  ///< none: about the whole inspection, or at no known place
  std::string words;           ///< the remark
};

struct Advice {
  std::size_t next = 0;  ///< for the whole pipe: the most careful of all
  /// The most careful action that anything in the record calls for by the words of the marking rules. Not the
  /// same as `next`: a repair is none of those, and is not done by a jet.
  coding::Action action = coding::Action::carry_on;
  bool no_jet = false;  ///< nothing in this pipe is cleaned by a jet
  std::vector<std::string> about_material;
  std::vector<RemarkFound> remarks;  ///< that speak of danger, the most careful first, then along the pipe
  std::size_t remark_count = 0;      ///< all that stand in the record in free words
  /// By the class of the whole pipe alone, why, and whether `next` is that because of it.
  std::size_t by_class = 0;
  std::string about_class;
  bool lifted_by_class = false;
  std::vector<FindingGroup> groups;         ///< most urgent first
  std::vector<RankedFinding> parts, notes;  ///< along the pipe
  std::size_t finding_count = 0;

  const RankedFinding* most_urgent() const;
  /// Title of what is most urgent: a finding, or a remark where that calls for more; null where nothing is.
  const std::string* most_urgent_title() const;
};

/// `grade` is the record's own.
Advice advice_for(const coding::Record& record, const grading::Grade& grade,
                  const Meanings& meanings = Meanings::shipped(),
                  const marking::Rules& rules = marking::Rules::shipped());

}  // namespace haunch::report
