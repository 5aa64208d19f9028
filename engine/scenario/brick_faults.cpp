// SPDX-License-Identifier: Apache-2.0
// Faults of brickwork: how a file says them, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/materials.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

std::optional<FaultKind> brick_fault(const std::string& kind, const Json& in) {
  if (kind != "bricks") return std::nullopt;
  BrickDamage out;
  out.form = pick(text(in, "form"),
                  {{"displaced", BrickForm::displaced},
                   {"missing", BrickForm::missing},
                   {"invert dropped", BrickForm::invert_dropped},
                   {"collapsed", BrickForm::collapsed}},
                  out.form);
  out.from_m = number(in, "from_m");
  out.to_m = number(in, "to_m");
  out.arc = arc(in);
  if (out.form == BrickForm::invert_dropped && !in.contains("clock")) out.arc = {5, 7, false};
  out.moved_mm = number(in, out.form == BrickForm::invert_dropped ? "dropped_mm" : "moved_mm", 0);
  out.behind = text(in, "behind") == "nothing" ? BehindBricks::nothing : BehindBricks::course;
  out.takes_percent = number(in, "takes_percent", 0);
  return out;
}

void Sense::check(const BrickDamage& damage) {
  stretch(at_, "damage of the brickwork", damage.from_m, damage.to_m);
  // Ours: with more of the ring gone the rest comes down with it.
  constexpr double most_hours = 7;
  const bool no_arc = damage.arc.whole || base::arc_width_h(damage.arc) == 0;
  if (no_arc || base::arc_width_h(damage.arc) > most_hours)
    say(no_arc ? at_ : at_ + "/clock", "bricks come out of an arc of the wall, the rest of it stands",
        "clock: [from, to], at most " + show(most_hours) + " hours");
  if (damage.form == BrickForm::invert_dropped && !no_arc &&
      (!base::arc_contains(damage.arc, 6) || base::arc_contains(damage.arc, 12)))
    say(at_ + "/clock", "the invert is at the bottom", "an arc about 6, or no clock");
  if (!sections_known_ || !on_run(damage.from_m) || !on_run(damage.to_m)) return;
  for (const Section& section : scenario_.sections) {
    if (section.to_m <= damage.from_m || section.from_m >= damage.to_m) continue;
    if (section.material != Material::brick) {
      say(at_, "there are no bricks in a wall of " + scene::show(section.material), "a stretch of brickwork");
      return;
    }
    if (damage.form == BrickForm::displaced && damage.moved_mm > section.bore_mm / 4)
      say(at_ + "/moved_mm", "bricks that stand so far in do not stay up",
          "at most " + show(section.bore_mm / 4) + " mm in this bore, or the form \"collapsed\"");
  }
}

}  // namespace haunch::scenario
