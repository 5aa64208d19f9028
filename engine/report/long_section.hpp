// SPDX-License-Identifier: Apache-2.0
// The run drawn from the side: fall and bore (heights exaggerated), materials, joints, water; what
// is there above it, what was logged below it. Marks differ by shape and by a label, not by colour.
#pragma once

#include <string>
#include <vector>

#include "base/units.hpp"
#include "report/standing.hpp"
#include "scene/scene.hpp"

namespace haunch::report {

struct SectionMark {
  std::string label;            ///< "3" or "c"
  double from_m = 0, to_m = 0;  ///< distances as the inspection counts
  Came came = Came::found;
  std::string title;       ///< said on hovering and to screen readers
  std::string leads_to{};  ///< id on the page of what tells of it; or empty
};

struct LongSection {
  const scene::Scene* scene = nullptr;  ///< null: a bare line between the outermost marks
  std::vector<SectionMark> truth, attempt;
  base::LengthUnit unit = base::LengthUnit::metres;
};

/// One <svg> element; the page's style sheet gives its classes their look.
std::string long_section_svg(const LongSection& section);

/// The mark alone, as a small <svg>, for tables and the legend.
std::string mark_svg(Came came);

}  // namespace haunch::report
