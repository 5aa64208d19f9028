// SPDX-License-Identifier: Apache-2.0
// What is wrong with the shape of the bore.
#include <cmath>

#include "matter/squashed.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {

void Codes::code(const scene::Squashed& squashed) {
  const double percent = whole(squashed.percent);
  const std::vector<scene::Crack> cracks = matter::cracks_of(scene_, squashed);
  if (percent >= rules_.deformed_from_percent) {
    auto made = line("BAA", squashed.vertical ? "A" : "B");
    made.q1 = percent;
    add_long(made, std::string("the ") + (squashed.vertical ? "height" : "width") + " is reduced by " +
                       show(percent) + " %, at least " + show(rules_.deformed_from_percent) +
                       " %: " + (squashed.vertical ? "squashed -> BAA A" : "squeezed -> BAA B") +
                       (cracks.empty() ? "; flexible pipe bends and does not break" : ""));
  }
  if (cracks.empty()) return;
  if (percent >= rules_.quarters_displaced_from_percent) {
    auto made = line("BAC", "A");
    made.clock_from = made.clock_to = 12;
    if (length_written(reach_.from_m, reach_.to_m) <= rules_.point_up_to_m + 1e-9)
      made.q1 = whole(1000.0 * (reach_.to_m - reach_.from_m));
    add_long(made, "a rigid pipe changes shape only when it breaks: out of round by " + show(percent) +
                       " %, at least " + show(rules_.quarters_displaced_from_percent) +
                       " %, its quarters stand displaced and none is missing -> BAC A");
    return;
  }
  for (const scene::Crack& crack : cracks) code(crack);
}

void Codes::code(const scene::Bend& bend) {
  const double angle = whole(bend.angle_deg);
  if (angle < rules_.bend_from_deg) return;
  // By the nearest whole hour: a direction it hardly takes has no letter. Looking upstream left and right
  // change places; what rises into the bend rises out of it too, so up and down stay.
  const int hour = base::nearest_hour(bend.toward_clock_h);
  const bool downstream = scene::travel(scene_.scenario) > 0;
  const bool clockwise = hour >= 1 && hour <= 5, against = hour >= 7 && hour <= 11;
  const bool left = downstream ? against : clockwise, right = downstream ? clockwise : against;
  const bool up = hour >= 10 || hour <= 2, down = hour >= 4 && hour <= 8;
  // Neither left nor right, or neither up nor down, is Y: only one of two published lists says how it is written.
  auto made = line("BCC", left ? "A" : right ? "B" : "Y", up ? "A" : down ? "B" : "Y");
  made.q1 = angle;
  std::string way = left ? "to the left -> A" : right ? "to the right -> B" : "";
  if (up || down) way += (way.empty() ? "" : ", ") + std::string(up ? "upwards -> A" : "downwards -> B");
  add_long(made, "the line swings by " + show(angle) + " degrees, at least " + show(rules_.bend_from_deg) +
                     ": bend of the sewer -> BCC; " + way);
}

}  // namespace haunch::truth
