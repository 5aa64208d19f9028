// SPDX-License-Identifier: Apache-2.0
// A line of the truth before it has a distance, a direction and a stretch number. Inside the room.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "coding/code_list.hpp"
#include "coding/observation.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {

struct Finding {
  coding::Observation line;     ///< codes, numbers, remark and reason; clocks as seen looking downstream
  int fault = 0;                ///< 1-based number in the scenario, 0 for what is not a fault
  double from_m = 0, to_m = 0;  ///< scene chainage
  bool continuous = false;
  std::string hidden;  ///< why no careful drive could show it; empty when it could
  int note = 0;        ///< 1-based number among the scenario's notes, 0 for what is none
};

/// The codes of one fault; none when it is too small to record.
std::vector<Finding> findings_of_fault(const scene::Scene& scene, int number, const Rules& rules,
                                       base::LengthUnit words);

/// Water level, changes of material and bore: what is there whatever is wrong.
std::vector<Finding> findings_of_water(const scene::Scene& scene, const Rules& rules, base::LengthUnit words);
std::vector<Finding> findings_of_changes(const scene::Scene& scene, const Rules& rules);
/// What no picture shows.
std::vector<Finding> findings_of_notes(const scene::Scene& scene);

/// Lens positions, from_m <= to_m, from which nothing can be made out: `fault` takes the sight, or (0) the
/// head is wholly under water.
struct Blind {
  double from_m = 0, to_m = 0;
  int fault = 0;
};
/// In order; they may touch.
std::vector<Blind> blind_stretches(const scene::Scene& scene, const Rules& rules);
std::vector<Finding> findings_of_blindness(const scene::Scene& scene, const std::vector<Blind>& blind,
                                           const Rules& rules, base::LengthUnit words);
/// "in steam", "with the camera wholly under water": how a blind stretch is passed.
std::string passed_how(const scene::Scene& scene, const Blind& blind);
/// The first place on the camera's way where it can go no farther, or where nobody would drive on.
std::optional<Stop> stop_of(const scene::Scene& scene, const std::vector<Blind>& blind,
                            const Rules& rules, base::LengthUnit words);
/// What is written down there instead of the finish node.
Finding abandoned(const Stop& stop);
/// What lies beyond is not seen, and stretches that go on end there.
void end_at(const Stop& stop, const scene::Scene& scene, std::vector<Finding>& findings, const Rules& rules);


/// Why a fault cannot be seen by any careful drive, or empty.
std::string why_hidden(const scene::Scene& scene, int number, const std::vector<Blind>& blind,
                       const Rules& rules);

/// "under the grease along its whole length" where matter on the wall or the invert lies over all of
/// it, `reach` its stretch; else empty.
std::string why_covered(const scene::Scene& scene, int number, const scene::Stretch& reach,
                        const Rules& rules);

/// Is it of the pipe's own wall or joints, and all behind a lining? `arc` of the wall: nothing where it goes
/// the whole way round.
bool behind_lining(const scene::Scene& scene, const scene::Fault& fault, const scene::Stretch& reach,
                   const std::optional<base::ClockArc>& arc, const Rules& rules);

/// Do the strands of a root mass stand before all of a fault, from wherever a lens could look at it?
bool behind_strands(const scene::Scene& scene, int number, int mass, const scene::Stretch& reach,
                    const Rules& rules);

/// EN 13508-2 letters.
std::string material_code(scene::Material material);
std::string shape_code(scene::PipeShape shape);
std::string node_code(scene::NodeKind kind);

// Every measure is rounded as it is written down, and only then compared with a rule and said: number,
// letter and words can then not contradict each other.

/// A stretch's length between its ends as they are written down.
double length_written(double from_m, double to_m);
/// Numbers in sentences: to a tenth.
std::string show(double value);
/// Rounded percents in sentences: "12", or "less than 1" for what would be 0.
std::string show_percent(double percent);
/// Lengths in sentences: to a hundredth of the unit.
std::string show_length(double metres, base::LengthUnit unit);

}  // namespace haunch::truth
