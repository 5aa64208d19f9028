// SPDX-License-Identifier: Apache-2.0
// The run from the side as its record alone tells it, with numbered findings above it. Marks differ by
// shape and weight, never by colour, so that a grey print says the same.
#pragma once

#include <string>
#include <vector>

#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "report/advice.hpp"
#include "report/measure.hpp"

namespace haunch::report {

struct OwnerSection {
  const coding::Record* record = nullptr;
  const Advice* advice = nullptr;
  const Measure* measure = nullptr;
  const coding::CodeList* list = nullptr;
  std::string pattern_prefix;  ///< keeps the ids of several drawings on one page apart
};

struct DrawnSection {
  std::string svg;
  std::size_t unnumbered = 0;  ///< findings drawn as a tick alone, because their place is crowded
  std::size_t unplaced = 0;    ///< findings without a distance, which are not drawn
};
DrawnSection draw_owner_section(const OwnerSection& section);

/// What the drawing cannot say for itself: fall, depths, water, in plain sentences.
std::vector<std::string> section_notes(const coding::Record& record, const Measure& measure);

/// The mark of a finding that calls for a step, alone, for legend and lists; `label` may be empty.
std::string step_mark_svg(std::size_t next, const std::string& label);

}  // namespace haunch::report
