// SPDX-License-Identifier: Apache-2.0
// A scenario laid out in space: straight pieces of bore, joints, water. Both the picture and the
// truth read this and nothing else.
#pragma once

#include <vector>

#include "scene/bore.hpp"
#include "scene/scenario.hpp"
#include "scene/vector.hpp"
#include "scene/water.hpp"

namespace haunch::scene {

/// A straight piece of bore: a sheared cylinder whose sections stand upright in planes of constant z,
/// centred on the line from from_centre to to_centre; circles, what they are pressed to, eggs or boxes,
/// passing evenly from from_bore to to_bore. Pieces follow one another without a hole in z; at a joint their
/// ends may differ (an offset).
struct Piece {
  double from_m = 0, to_m = 0;
  Vec2 from_centre, to_centre;  ///< of the bore, m
  double radius_m = 0;          ///< of the round pipe; half the width of any other
  int section = 0;              ///< index into Scenario::sections
  int unit = 0;                 ///< pipe unit number from 0; each unit has its own look
  Bore from_bore, to_bore;
  bool curved = false;  ///< runs on into its neighbours without an edge
  double lined_m = 0;   ///< thickness of a short lining within it: water flows on that
  bool round() const { return from_bore.round() && to_bore.round(); }
};
Vec2 centre_at(const Piece& piece, double z_m);
Bore bore_at(const Piece& piece, double z_m);

/// Between two units. at_m is the middle of the gap.
struct Joint {
  double at_m = 0;
  double gap_m = 0;   ///< clear gap between the units; an ordinary closed joint has a small one
  bool open = false;  ///< a JointGap fault made it
  Vec2 step;          ///< centre after minus centre before, m
  double bend_deg = 0;
  double bend_clock_h = 12;
  bool material_change = false;
  int before = 0, after = 0;  ///< piece indices
  std::vector<int> faults;    ///< numbers of the faults that made it so (1-based)
};

struct Scene {
  Scenario scenario;
  std::vector<Piece> pieces;
  std::vector<Joint> joints;
  Water water;
  double length_m() const { return scenario.length_m; }
};

Scene build_scene(Scenario scenario);

/// Index of the piece at z (the downstream one at a boundary); z is clamped to the run.
int piece_at(const Scene& scene, double z_m);
Vec2 centre_at(const Scene& scene, double z_m);
Bore bore_at(const Scene& scene, double z_m);
double radius_at(const Scene& scene, double z_m);  ///< of the round pipe; half the width of any other
double invert_at(const Scene& scene, double z_m);  ///< elevation of the invert, m
double crown_at(const Scene& scene, double z_m);   ///< of the crown
/// Point on the wall at a chainage and clock.
Vec3 wall_point(const Scene& scene, double z_m, double clock_h);

/// Where a place of the round bore (from its middle) goes when the bore is pressed out of round at z: along
/// its own direction, in step with the wall. What covers a share of the round bore covers it still.
Vec2 pressed(const Scene& scene, double z_m, Vec2 place);

/// Scene chainage (m from the upstream end) to the inspector's distance and back.
double distance_of(const Scenario& scenario, double z_m);
double chainage_of(const Scenario& scenario, double distance_m);
/// +1 when the camera travels downstream, -1 upstream.
int travel(const Scenario& scenario);

}  // namespace haunch::scene
