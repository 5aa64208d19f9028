// SPDX-License-Identifier: Apache-2.0
// Many attempts marked one after another: each against the truth it belongs to.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "cli.hpp"
#include "marking_job.hpp"

namespace haunch::cli {

/// What came of one attempt; `why_not` where it could not be marked.
struct OneMarked {
  std::filesystem::path attempt, truth;
  std::string title;  ///< of the truth
  marking::Marking marking;
  std::vector<std::string> why_not;
};

/// `truth` is one scenario or record, or a folder of them. Of a folder an input log goes to the scenario it
/// was recorded on, a record to the truth with the same reference (AAA) in its header. Attempts: files, and
/// folders with all that may be attempts in them, by name. What cannot be read is listed with why, and the
/// rest goes on.
std::vector<OneMarked> mark_all(const std::filesystem::path& truth, const std::vector<std::string>& attempts,
                                MarkingMeans& means, const GivenSite& site);

/// A line an attempt, best first, and what could not be marked after them.
std::string marked_text(const std::vector<OneMarked>& all);
/// Schema: markings.
std::string marked_json(const std::vector<OneMarked>& all);

}  // namespace haunch::cli
