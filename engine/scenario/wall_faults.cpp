// SPDX-License-Identifier: Apache-2.0
// Faults of the wall: how a file says them, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <tuple>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

Crack crack(const Json& in) {
  Crack out;
  std::tie(out.from_m, out.to_m) = extent(in);
  out.arc = arc(in);
  const CrackForm usual = in.contains("at_m") ? CrackForm::around : CrackForm::along;
  out.form =
      pick(text(in, "form"),
           {{"along", CrackForm::along}, {"around", CrackForm::around}, {"branching", CrackForm::branching}},
           usual);
  out.width_mm = number(in, "width_mm");
  return out;
}

Hole hole(const Json& in) {
  return {number(in, "at_m"), number(in, "clock"), number(in, "length_mm"), number(in, "width_mm"),
          text(in, "behind") == "stone" ? Behind::stone : Behind::soil};
}

}  // namespace

std::optional<FaultKind> wall_fault(const std::string& kind, const Json& in) {
  if (kind == "crack") return crack(in);
  if (kind == "hole") return hole(in);
  return std::nullopt;
}

void Sense::check(const Crack& crack) {
  point_or_stretch("crack", crack.from_m, crack.to_m);
  if (crack.form == CrackForm::along && crack.from_m == crack.to_m)
    say(at_, "a crack along the pipe needs a length", "from_m and to_m");
  if (crack.form == CrackForm::along && base::arc_width_h(crack.arc) > 3)
    say(at_ + "/clock", "a crack along the pipe does not go round it",
        "an hour, or an arc of at most 3 hours");
  if (crack.form == CrackForm::around && !crack.arc.whole && base::arc_width_h(crack.arc) == 0)
    say(at_ + "/clock", "a crack around the pipe needs an arc",
        "[from, to], or [12, 12] for the whole way round");
}

void Sense::check(const Hole& hole) {
  const double half = hole.length_mm / 2000.0;
  inside(at_ + "/at_m", "the hole", hole.at_m);
  if (!on_run(hole.at_m)) return;
  if (hole.at_m - half < 0 || hole.at_m + half > scenario_.length_m)
    say(at_ + "/length_mm", "the hole reaches past the end of the pipe",
        "at most " + show(2000.0 * std::min(hole.at_m, scenario_.length_m - hole.at_m)) + " mm here");
  const Section* section = section_of(hole.at_m);
  if (section && hole.width_mm > std::numbers::pi * section->bore_mm / 2.0)
    say(at_ + "/width_mm", "a hole " + show(hole.width_mm) + " mm wide leaves less than half the wall",
        "at most " + show(std::floor(std::numbers::pi * section->bore_mm / 2.0)) + " mm in this bore");
  clear_of_joints("hole", hole.at_m, half);
}

}  // namespace haunch::scenario
