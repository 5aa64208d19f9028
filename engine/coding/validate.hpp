// SPDX-License-Identifier: Apache-2.0
// Is a Record well formed? Never what it means for the pipe.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "coding/rules.hpp"

namespace haunch::coding {

/// Where the parts of a Record stand in their file, when it came from one; each list may be empty.
struct RecordPlaces {
  std::vector<base::Place> observations;
  std::vector<base::Place> classes;      ///< entries of the judgement, at the name of the observation
  std::vector<base::Place> not_visible;  ///< entries, at the name of the observation
  std::vector<base::Place> header = {};  ///< values of `Record::header`, or one place for all of them
  bool operator==(const RecordPlaces&) const = default;
};

/// Ours: no run of pipe between two nodes is as long, and no bore as wide.
inline constexpr double longest_pipe_m = 10000, widest_pipe_mm = 20000;

/// A problem of a Record and the rule that it breaks.
struct Remark {
  base::Problem problem;
  Rule rule = Rule::count;
  std::string kind;  ///< what all problems of its kind say: "BCA: a size is missing"
  /// Index of the observation that it is of; `none` where it is of no single one.
  std::size_t observation = none;
  int quantification = 0;  ///< 1 or 2, where the rule looks at one of them

  static constexpr std::size_t none = static_cast<std::size_t>(-1);
};

/// Every problem of the Record, by line. Errors: what cannot be read or cannot be. Warnings: whatever rests
/// on a rule known only from memory, or makes little sense for the pipe. Notes: harmless oddities. rules.hpp
/// lists the rules; `checks` leaves some out.
std::vector<Remark> remarks_on(const Record& record, const CodeList& list, const std::string& file_name,
                               const RecordPlaces& places = {}, const Checks& checks = {});
/// The same, problems alone.
base::Problems validate(const Record& record, const CodeList& list, const std::string& file_name,
                        const RecordPlaces& places = {}, const Checks& checks = {});

}  // namespace haunch::coding
