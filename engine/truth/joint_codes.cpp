// SPDX-License-Identifier: Apache-2.0
// What is wrong where units meet.
#include <algorithm>

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
  made.clock_from = base::nearest_hour(shift.toward_clock_h);
  // The clock is that of the downstream unit whichever way one looks, so that both directions
  // agree on the same joint (ours); looking upstream that is the pipe the camera is still in.
  const bool ahead = scene::travel(scene_.scenario) > 0;
  add_joint(made, std::string(ahead ? "the unit ahead stands " : "the unit the camera is in stands ") +
                      show(offset) + " mm out of line, at least " + show(rules_.joint_shift_from_mm) +
                      " mm: displaced joint, radial -> BAJ B; its clock is the downstream unit's" +
                      (ahead ? ", the one ahead" : ", so the unit ahead looks moved the other way"));
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

}  // namespace haunch::truth
