// SPDX-License-Identifier: Apache-2.0
// The owner's summary in words: what was found, what to do next, how sure that is.
#pragma once

#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "grading/grade.hpp"
#include "report/advice.hpp"
#include "report/measure.hpp"

namespace haunch::report {

/// What the check of the record had to say, by severity.
struct RemarkCount {
  std::size_t errors = 0, warnings = 0, notes = 0;
  bool operator==(const RemarkCount&) const = default;
};

struct OwnerStep {
  std::size_t next = 0;  ///< index into Meanings::next()
  std::string heading, text;
  std::vector<int> numbers;  ///< of the findings that call for it
  bool waits = false;        ///< cleaning that a jet would do, where the pipe may not bear it
};
/// At least one; the first is the headline. Cleaning is held back where a jet may do harm, and the rest of a
/// pipe that was not wholly seen is asked for.
std::vector<OwnerStep> next_steps(const coding::Record& record, const Advice& advice,
                                  const grading::Grade& grade, const Measure& measure,
                                  const Meanings& meanings);

/// The same for a screen, wrapped, the most careful first.
std::string steps_text(const std::vector<OwnerStep>& steps);

/// Where nothing needs doing: remarks that nobody judged are to be read first.
std::string nothing_heading(bool remarks, const Meanings& meanings);

/// Cleaning that is held back, because something else says that a jet may do harm.
bool waits(std::size_t next, const Advice& advice, const Meanings& meanings);

/// A step in a few words; cleaning is held back where a jet may do harm.
std::string step_heading(std::size_t next, const Advice& advice, const Meanings& meanings);

/// What usually comes next for a group: what it would lead to is held back where the pipe may not bear it,
/// and never says more than its step.
std::string then_words(const FindingGroup& group, const Advice& advice, const Meanings& meanings,
                       const coding::CodeList& list);

std::vector<std::string> found_sentences(const coding::Record& record, const Advice& advice,
                                         const grading::Grade& grade, const Measure& measure);
std::vector<std::string> sure_sentences(const coding::Record& record, const grading::Grade& grade,
                                        const RemarkCount& remarks, const Measure& measure);
/// What the drain carries, without the trade's words; empty when not recorded.
std::string carries_words(const coding::Record& record, const coding::CodeList& list);

/// "Pipe from 2925 to 6", "Pipe 12", "Pipe".
std::string pipe_title(const coding::Record& record);
/// "at the top", "all round", "from the right to the bottom": round the pipe as the camera looks.
std::string round_the_pipe(const coding::Observation& seen);
/// "5 mm wide", "12 %"; empty where none is recorded.
std::string size_words(const RankedFinding& finding, const coding::CodeList& list, base::LengthUnit unit);
/// "3.40 m", "3.40 m to 5.10 m", "no distance".
std::string where_words(const RankedFinding& finding, const Measure& measure);
/// "The wall" in the middle of a sentence.
std::string small_first(std::string text);
/// "1, 2, 5 to 9".
std::string number_list(const std::vector<int>& numbers);

}  // namespace haunch::report
