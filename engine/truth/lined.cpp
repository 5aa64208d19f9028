// SPDX-License-Identifier: Apache-2.0
// What a lining hides of the pipe behind it.
#include <algorithm>

#include "truth/finding.hpp"

namespace haunch::truth {
namespace {

/// Does a defect of the lining leave the pipe behind it bare over part of a fault?
bool bared(const scene::Scene& scene, const scene::Stretch& reach, const std::optional<base::ClockArc>& arc,
           const Rules& rules) {
  const double least_m = rules.found_from_mm / 1000;
  return std::any_of(scene.scenario.faults.begin(), scene.scenario.faults.end(), [&](const scene::Fault& f) {
    const auto* defect = std::get_if<scene::LiningDefect>(&f.kind);
    if (!defect || (defect->form != scene::LiningForm::holed && defect->form != scene::LiningForm::poor_end))
      return false;
    const double from = std::max(defect->from_m, reach.from_m), to = std::min(defect->to_m, reach.to_m);
    const bool meets = reach.to_m - reach.from_m < least_m ? to >= from : to - from >= least_m;
    if (!meets) return false;
    if (!arc) return true;
    return base::arc_width_h(*arc) == 0 ? base::arc_contains(defect->arc, arc->from_h)
                                        : base::arc_overlap_h(*arc, defect->arc) > 0;
  });
}

}  // namespace

// A step or a bend of the line shows through a lining.
bool behind_lining(const scene::Scene& scene, const scene::Fault& fault, const scene::Stretch& reach,
                   const std::optional<base::ClockArc>& arc, const Rules& rules) {
  const bool of_wall = std::holds_alternative<scene::JointGap>(fault.kind) ||
                       std::holds_alternative<scene::Crack>(fault.kind) ||
                       std::holds_alternative<scene::Hole>(fault.kind) ||
                       std::holds_alternative<scene::SurfaceDamage>(fault.kind) ||
                       std::holds_alternative<scene::MissingMortar>(fault.kind) ||
                       std::holds_alternative<scene::PorousWall>(fault.kind) ||
                       std::holds_alternative<scene::FailedWeld>(fault.kind) ||
                       std::holds_alternative<scene::SweatingWall>(fault.kind);
  if (!of_wall) return false;
  const int from = scene::lining_at(scene.scenario, reach.from_m),
            to = scene::lining_at(scene.scenario, reach.to_m);
  return from >= 0 && from == to && !bared(scene, reach, arc, rules);
}

}  // namespace haunch::truth
