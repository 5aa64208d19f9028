// SPDX-License-Identifier: Apache-2.0
// Damage and openings on the unrolled wall: crack paths, hole outlines, where branches come in.
// A place on the wall is (chainage, angle clockwise from the crown looking downstream, radians).
#pragma once

#include <cstdint>
#include <vector>

#include "base/random.hpp"
#include "scene/fault.hpp"
#include "scene/vector.hpp"

namespace haunch::matter {

struct CrackNode {
  double z_m = 0;
  double angle = 0;    ///< not wrapped, so that a line is continuous
  double width_m = 0;  ///< opening here; the widest place of the crack has the stated width
};
struct CrackLine {
  std::vector<CrackNode> nodes;
  double faintness = 0;  ///< 0 the main line .. 1 a twig that hardly shows
};
/// The first line is the main one; a branching crack has more.
struct CrackShape {
  std::vector<CrackLine> lines;
};
CrackShape crack_shape(const scene::Crack& crack, double radius_m, std::uint64_t seed);
double length_m(const CrackLine& line, double radius_m);

/// A closed broken edge on the wall. Corners are metres from the centre: x along the pipe
/// (downstream), y round the wall (clockwise), on the curve.
struct WallOutline {
  double z_m = 0, angle = 0;
  std::vector<scene::Vec2> corners;
};
/// Its extents are exactly the stated length and width.
WallOutline hole_outline(const scene::Hole& hole, double radius_m, std::uint64_t seed);
double area_m2(const WallOutline& outline);
/// Metres to the edge: negative inside.
double edge_distance_m(const WallOutline& outline, scene::Vec2 from_centre);

/// A closed broken edge of that length and width about its middle: straight breaks between uneven corners,
/// each a little rough.
std::vector<scene::Vec2> broken_polygon(base::Random& random, double length_m, double width_m,
                                        double unevenness, int breaks);

}  // namespace haunch::matter
