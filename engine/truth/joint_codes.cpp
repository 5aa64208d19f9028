// SPDX-License-Identifier: Apache-2.0
// What is wrong where units meet.
#include <algorithm>
#include <cmath>

#include "matter/solid.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {

void Codes::code(const scene::JointGap& gap) {
  const double apart = whole(gap.gap_mm);
  if (apart < rules_.joint_gap_from_mm) return;
  auto made = line("BAJ", "A");
  made.q1 = apart;
  add_joint(made, "the units stand " + show(apart) + " mm apart, at least " + show(rules_.joint_gap_from_mm) +
                      " mm: displaced joint, lengthways -> BAJ A");
}

void Codes::code(const scene::JointShift& shift) {
  const double offset = whole(shift.offset_mm);
  if (offset < rules_.joint_shift_from_mm) return;
  auto made = line("BAJ", "B");
  made.q1 = offset;
  // The clock says to which side the further unit stands, which is what the picture shows: the step beyond
  // the joint. Looking upstream the further unit is the upstream one, and it stands to the other side.
  const bool downstream = scene::travel(scene_.scenario) > 0;
  made.clock_from =
      base::nearest_hour(downstream ? shift.toward_clock_h : base::wrap_hours(shift.toward_clock_h + 6));
  add_joint(made, "the unit ahead stands " + show(offset) + " mm out of line, at least " +
                      show(rules_.joint_shift_from_mm) +
                      " mm: displaced joint, radial -> BAJ B; its clock is where the unit ahead stands");
}

void Codes::code(const scene::JointBend& bend) {
  const double angle = whole(bend.angle_deg);
  if (angle < rules_.joint_bend_from_deg) return;
  auto made = line("BAJ", "C");
  made.q1 = angle;
  made.clock_from = base::nearest_hour(bend.toward_clock_h);
  add_joint(made, "the line bends by " + show(angle) + " degrees at the joint, at least " +
                      show(rules_.joint_bend_from_deg) + ": displaced joint, angular -> BAJ C");
}

void Codes::code(const scene::SealingRing& ring) {
  const matter::Solid solid = matter::solid_of(scene_, number_);
  const double lowest_mm = std::round(1000.0 * matter::lowest_above_axis_m(scene_, solid));
  const bool reaches_in = ring.hangs_mm > 0;
  const char* form = !reaches_in ? "A" : ring.torn ? "D" : lowest_mm >= 0 ? "B" : "C";
  auto made = line("BAI", "A", form);
  const double percent = 100.0 * matter::share_of_bore(scene_, solid);
  if (reaches_in) made.q1 = whole(percent);
  set_arc(made, ring.arc);
  reach_.from_m = reach_.to_m = matter::joint_near_m(scene_, ring.at_m);
  std::string reason = "a sealing ring shows out of its place -> BAI A; ";
  if (!reaches_in)
    reason += "it does not reach in -> A";
  else
    reason += std::string(ring.torn        ? "it hangs in, torn -> D"
                          : lowest_mm >= 0 ? "it hangs in whole, its lowest point above mid-height -> B"
                                           : "it hangs in whole, its lowest point below mid-height -> C") +
              "; takes " + show_percent(percent) + " % of the bore's area";
  add_joint(made, reason);
}

}  // namespace haunch::truth
