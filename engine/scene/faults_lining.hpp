// SPDX-License-Identifier: Apache-2.0
// Linings put into a pipe that lies in the ground, and what is wrong with them. Measures and clocks as
// fault.hpp has them.
#pragma once

#include <optional>

#include "base/clock.hpp"

namespace haunch::scene {

enum class LiningFinish {
  felt,  ///< felt soaked in resin, its inside a smooth film
  glass  ///< woven glass, its weave shows through the resin
};
/// A stretch of lining that has set in place inside the pipe: a mended length, no lining of the whole run.
struct ShortLining {
  double from_m = 0, to_m = 0;
  double thickness_mm = 4;  ///< 1 .. 30
  LiningFinish finish = LiningFinish::felt;
};

enum class LiningForm {
  come_away,  ///< off the pipe, hanging in
  discoloured,
  poor_end,  ///< ragged and frayed where it ends
  wrinkled,
  bulging_in,
  bulging_out,
  film_off,  ///< its innermost film peels
  seam_off,  ///< the strip over its seam hangs off
  cracked,
  holed,
  poor_joint,  ///< where one piece of lining meets the next
  soft,        ///< has not set
  resin_missing,
  end_open  ///< stands off the pipe where it ends
};
enum class FoldWay { along, around, several, spiral };
struct LiningDefect {
  double from_m = 0, to_m = 0;
  base::ClockArc arc;
  LiningForm form = LiningForm::wrinkled;
  FoldWay way = FoldWay::along;  ///< of wrinkles and cracks
  double percent = 0;   ///< of the lined bore's area lost where it is worst: come away, wrinkled, bulging in
  double width_mm = 0;  ///< of the opening: cracked, end open; how far out: bulging out (0 as is usual)
};
/// Those that cost cross-section.
inline bool takes_area(LiningForm form) {
  return form == LiningForm::come_away || form == LiningForm::wrinkled || form == LiningForm::bulging_in;
}
/// Those that are a matter of where the lining ends.
inline bool is_at_end(LiningForm form) {
  return form == LiningForm::poor_end || form == LiningForm::end_open;
}

struct Scenario;
/// Index in Scenario::faults of the short lining that is at z, or -1.
int lining_at(const Scenario& scenario, double z_m);
/// How much it narrows the bore all round at z, m; 0 where there is none.
double lined_m(const Scenario& scenario, double z_m);

/// What lines the pipe over a stretch: a short lining in it, or the liner that its section is lined with from
/// end to end.
struct Lined {
  double from_m = 0, to_m = 0;
  double thickness_mm = 0;
  LiningFinish finish = LiningFinish::felt;
  int section = -1;  ///< where the section itself is a liner: index in Scenario::sections
  /// The wall drawn there is the liner's own face.
  bool is_the_wall() const { return section >= 0; }
};
/// A short lining before the section's own liner; nothing where neither is.
std::optional<Lined> lining_over(const Scenario& scenario, double z_m);
/// The angle from the crown, clockwise looking downstream, at which the sheet of a section's liner closes:
/// where a seam of it is said to come off, or by chance.
double liner_seam_angle(const Scenario& scenario, int section);

}  // namespace haunch::scene
