// SPDX-License-Identifier: Apache-2.0
// From a scene to the Record a careful inspector would write, each line with its reason.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "coding/record.hpp"
#include "scene/scene.hpp"

namespace haunch::truth {

/// Sizes that decide between codes (content/coding/truth-rules.json); each says its source or `ours`.
struct Rules {
  double crack_opens_mm = 0.5;    ///< narrower: surface crack (A); from here: lines visible (B)
  double fracture_from_mm = 1.0;  ///< from here: open gap (C)
  double joint_gap_from_mm = 10;  ///< smaller displacements are not recorded
  double joint_shift_from_mm = 3;
  double joint_bend_from_deg = 1;
  double bore_change_from_percent = 5;          ///< of the bore the camera comes from
  double unit_length_change_from_percent = 10;  ///< of the unit length before
  double water_from_percent = 5;                ///< water whose deepest place is shallower is not recorded
  double point_up_to_m = 0.3;                   ///< shorter findings are points, longer ones continuous
  double at_joint_within_m = 0.1;               ///< a finding this near a joint is at the joint
  double mass_hides_from_percent = 30;  ///< a root mass that blocks this much hides what lies within it
  double sight_range_bores = 5;         ///< how far off a finding is known for what it is, in bores
  double found_from_mm = 15;            ///< less than this of a finding left bare by matter is not found
  double mortar_gone_from_mm = 5;       ///< a joint emptier than this has lost its mortar
  double cloudy_hides_from_mm = 20;     ///< shallower cloudy water lets the ground shine through
  double soil_shows_from_mm = 10;       ///< pieces of wall this far out of place let the ground show
  double deformed_from_percent = 3;     ///< less out of round than this is not recorded
  double quarters_displaced_from_percent = 10;  ///< a rigid pipe so far out of round is broken, not cracked
  double abandoned_under_water_from_m = 1;      ///< that long under water to the end: nobody drives on
  double bend_from_deg = 3;                     ///< a line that swings by less is not recorded
  double connection_low_within_h = 2;           ///< nearer the invert a connection is in the wrong place
  double connection_set_back_from_mm = 10;      ///< less far behind the wall it counts as flush
  double connection_gap_from_mm = 3;            ///< narrower gaps about it are not recorded
  double connection_broken_from_mm = 5;         ///< smaller pieces out of its rim are not recorded
  double connection_blocked_from_percent = 5;   ///< with less in it it counts as free
  double sight_lost_under_bores = 2;            ///< haze that lets one see less far than this takes the sight
  double lens_covered_from_percent = 50;        ///< what sticks to so much of the lens takes the sight
  bool operator==(const Rules&) const = default;
};
base::Result<Rules> read_rules(const std::filesystem::path& path);
const Rules& shipped_rules();

/// Where each observation of the Record came from.
struct Origin {
  int fault = 0;                    ///< 1-based number in the scenario, 0 for what is not a fault
  double from_z_m = 0, to_z_m = 0;  ///< scene chainage, from <= to
  int note = 0;                     ///< 1-based number among the scenario's notes, 0 for what is none
};

/// Where an inspection has to end before the run does.
struct Stop {
  double at_z_m = 0;    ///< of what stops it, m from the upstream end; the record ends here
  double lens_z_m = 0;  ///< the farthest that the lens comes
  int fault = 0;        ///< that stops it, 1-based number in the scenario; 0: water
  std::string why;
};

struct Truth {
  /// Observations in the order the camera meets them; what no careful drive could show is listed in
  /// record.not_visible.
  coding::Record record;
  std::vector<Origin> origins;  ///< one for each observation
  std::optional<Stop> stop;     ///< nothing where the camera comes to the end of the run
};

/// Lengths in the reasons are said in `words`; the record itself stays in metres.
Truth derive(const scene::Scene& scene, const coding::CodeList& list = coding::CodeList::shipped(),
             const Rules& rules = shipped_rules(), base::LengthUnit words = base::LengthUnit::metres);
Truth derive(const scene::Scene& scene, base::LengthUnit words);

/// What the trainee is told of a note where the camera comes to it; of air with what to do.
std::string told_of(const scene::Note& note);
/// Has a drive that came `furthest_m` far been told of a row? Of what pictures show nobody is told: yes.
bool is_told(const Origin& origin, const scene::Scenario& scenario, double furthest_m);
/// The Record that an attempt is held to, whose drive came `furthest_m` far from where the camera goes in (0:
/// only what is told before the drive). What it was not told of is listed as not visible.
coding::Record as_told(const Truth& truth, const scene::Scenario& scenario, double furthest_m);

}  // namespace haunch::truth
