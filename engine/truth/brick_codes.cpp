// SPDX-License-Identifier: Apache-2.0
// What is wrong with brickwork.
#include <cmath>

#include "matter/brick_damage.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {

void Codes::code(const scene::BrickDamage& damage) {
  const matter::BrickArea area = matter::bricks_of(scene_, damage);
  const std::string count =
      area.bricks.size() == 1 ? "a brick" : show(static_cast<double>(area.bricks.size())) + " bricks";
  // As far as whole bricks are out of place, wherever the author's stretch ends.
  reach_ = {std::max(0.0, area.from_m), std::min(scene_.length_m(), area.to_m)};
  auto made = line("BAD", "");
  set_arc(made, area.arc);
  std::string reason;
  switch (damage.form) {
    case scene::BrickForm::displaced:
      made.ch1 = "A";
      reason = count + (area.bricks.size() == 1 ? " stands" : " stand") + " out of place, up to " +
               show(whole(damage.moved_mm)) + " mm -> A";
      break;
    case scene::BrickForm::missing:
      made.ch1 = "B";
      made.ch2 = damage.behind == scene::BehindBricks::course ? "A" : "B";
      reason = count + (area.bricks.size() == 1 ? " is" : " are") + " missing -> B; " +
               (damage.behind == scene::BehindBricks::course ? "another course shows behind -> A"
                                                             : "nothing shows behind -> B: nobody jets here");
      break;
    case scene::BrickForm::invert_dropped:
      made.ch1 = "C";
      made.q1 = whole(damage.moved_mm);
      reason = "the bricks of the invert have dropped by " + show(whole(damage.moved_mm)) + " mm -> C";
      break;
    case scene::BrickForm::collapsed:
      made.ch1 = "D";
      reason = "the brickwork has come down and takes " + show_percent(damage.takes_percent) +
               " % of the bore's area -> D: nobody jets here";
      break;
  }
  add_long(made, reason);
  if (damage.form != scene::BrickForm::collapsed) return;
  auto behind = line("BAO", "");
  behind.clock_from = made.clock_from;
  behind.clock_to = made.clock_to;
  add_long(behind, "soil shows where the bricks were -> BAO");
}

}  // namespace haunch::truth
