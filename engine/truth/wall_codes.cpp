// SPDX-License-Identifier: Apache-2.0
// What is wrong with the wall itself.
#include <cmath>
#include <numbers>

#include "truth/codes.hpp"

namespace haunch::truth {

void Codes::code(const scene::Crack& crack) {
  // Tenths: a crack of 0.6 mm is not one of 1 mm.
  const double width = std::round(crack.width_mm * 10.0) / 10.0;
  const bool open = width >= rules_.fracture_from_mm;
  const bool hairline = width < rules_.crack_opens_mm;
  std::string reason;
  if (hairline)
    reason = "opens " + show(width) + " mm, under " + show(rules_.crack_opens_mm) + " mm: a hairline -> A";
  else if (open)
    reason = "open " + show(width) + " mm: from " + show(rules_.fracture_from_mm) + " mm an open gap -> C";
  else
    reason = "open " + show(width) + " mm: from " + show(rules_.crack_opens_mm) + " mm and under " +
             show(rules_.fracture_from_mm) + " mm its lines are visible -> B";
  const char* form = "A";
  switch (crack.form) {
    case scene::CrackForm::along:
      reason += "; runs along the pipe -> A";
      break;
    case scene::CrackForm::around:
      form = "B";
      reason += "; runs round the pipe -> B";
      break;
    case scene::CrackForm::branching:
      form = "C";
      reason += "; branches in several directions -> C";
      break;
  }
  auto made = line("BAB", hairline ? "A" : (open ? "C" : "B"), form);
  if (!hairline) made.q1 = width;
  set_arc(made, crack.arc);
  made.at_joint = near_joint((reach_.from_m + reach_.to_m) / 2.0) &&
                  length_written(reach_.from_m, reach_.to_m) <= rules_.point_up_to_m + 1e-9;
  add_long(made, reason);
}

void Codes::code(const scene::Hole& hole) {
  const double bore_mm = 2000.0 * scene::radius_at(scene_, hole.at_m);
  const double half_h = hole.width_mm / (std::numbers::pi * bore_mm) * 6.0;
  auto made = line("BAC", "B");
  made.q1 = whole(hole.length_mm);
  set_span(made, hole.clock_h, half_h);
  made.at_joint = near_joint(hole.at_m);
  // A hole is a point at its centre; its length is its size.
  reach_ = {hole.at_m, hole.at_m};
  add(made, "a piece of the wall " + show(whole(hole.length_mm)) + " mm long and " +
                show(whole(hole.width_mm)) + " mm round the wall is missing -> BAC B");
  auto behind = line("BAO", "");
  behind.clock_from = made.clock_from;
  behind.clock_to = made.clock_to;
  behind.at_joint = made.at_joint;
  add(behind, hole.behind == scene::Behind::soil
                  ? std::string("soil shows through the hole -> BAO")
                  : std::string("bedding stone shows through the hole; it counts as soil visible -> BAO"));
}

}  // namespace haunch::truth
