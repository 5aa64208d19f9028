// SPDX-License-Identifier: Apache-2.0
// Faults where units meet: how a file says them, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/layout.hpp"
#include "scene/materials.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

std::optional<FaultKind> joint_fault(const std::string& kind, const Json& in) {
  if (kind == "joint gap") return JointGap{number(in, "at_m"), number(in, "gap_mm")};
  if (kind == "joint shift")
    return JointShift{number(in, "at_m"), number(in, "offset_mm"), number(in, "toward_clock")};
  if (kind == "joint bend")
    return JointBend{number(in, "at_m"), number(in, "angle_deg"), number(in, "toward_clock")};
  if (kind == "sealing ring")
    return SealingRing{number(in, "at_m"), arc(in), number(in, "hangs_mm"), flag(in, "torn")};
  return std::nullopt;
}

void Sense::joint(double at_m) {
  inside(at_ + "/at_m", "the joint", at_m);
  if (!sections_known_ || !on_run(at_m)) return;
  const auto near = nearest_joint(joints_, at_m);
  const Section* section = section_of(at_m);
  if (section && !has_joints(section->material) && !(near && std::abs(near->at_m - at_m) <= joint_reach_m)) {
    say(at_ + "/at_m", scene::show(section->material) + " has no joints", "a place where units meet");
    return;
  }
  if (!near) {
    say(at_ + "/at_m", "there is no joint in this pipe", "a pipe of more than one unit");
    return;
  }
  if (std::abs(near->at_m - at_m) > joint_reach_m) {
    say(at_ + "/at_m", "there is no joint at " + metres(at_m),
        "a joint; the nearest is at " + metres(near->at_m));
    return;
  }
  if (!joint_faults_.insert({near->at_m, fault().kind.index()}).second)
    say(at_, "there is a " + kind_word(fault()) + " at the joint at " + metres(near->at_m) + " already",
        "one of each kind at a joint");
}

void Sense::check(const JointGap& gap) { joint(gap.at_m); }
void Sense::check(const JointShift& shift) {
  joint(shift.at_m);
  const Section* section = section_of(shift.at_m);
  if (section && shift.offset_mm >= section->bore_mm)
    say(at_ + "/offset_mm", "an offset of " + show(shift.offset_mm) + " mm leaves no opening",
        "less than the bore, " + show(section->bore_mm) + " mm");
}
void Sense::check(const JointBend& bend) { joint(bend.at_m); }

void Sense::check(const SealingRing& ring) {
  joint(ring.at_m);
  if (ring.arc.whole || base::arc_width_h(ring.arc) < 1)
    say(at_ + (ring.arc.whole ? "" : "/clock"), "the ring hangs between two places on the wall",
        "clock: [from, to], an hour or more");
  if (ring.torn && !(ring.hangs_mm > 0)) say(at_ + "/hangs_mm", "a torn ring hangs in", "more than 0 mm");
  const Section* section = section_of(ring.at_m);
  if (section && ring.hangs_mm > 0.95 * section->bore_mm)
    say(at_ + "/hangs_mm", "the ring would hang through the other side",
        "at most " + show(std::floor(0.95 * section->bore_mm)) + " mm in this bore");
}

}  // namespace haunch::scenario
