// SPDX-License-Identifier: Apache-2.0
// The clear section of a pipe across its line: a circle, an egg, a rectangle, the ellipse a flexible pipe is
// squashed to, or the four quarters a rigid pipe breaks into, hinged on one another. Lengths in m.
#pragma once

#include "scene/vector.hpp"

namespace haunch::scene {

enum class BoreForm {
  oval,    ///< an ellipse; a circle where width and height are one
  hinged,  ///< the quarters of a circle, each still as round as it was, hinged at crown, invert and
           ///< springings
  egg,     ///< the standard egg, half as high again as wide, its narrow end down
  box,     ///< a rectangle
};

/// Measured from the middle of its height and width; upright, and the same left and right.
struct Bore {
  double half_width_m = 0, half_height_m = 0;
  BoreForm form = BoreForm::oval;
  bool round() const { return form == BoreForm::oval && half_width_m == half_height_m; }
  bool operator==(const Bore&) const = default;
};

/// The egg of a width 2 r: crown of radius r, sides of 3 r, invert of r / 2, each running on into the next
/// without an edge; height 3 r (from memory: the classic profile of width to height 2 : 3).
struct EggArcs {
  double spring_m = 0;       ///< the crown's and the sides' centres lie so far over the middle
  double side_m = 0;         ///< and the sides' so far beyond it, each on the other side
  double invert_m = 0;       ///< the invert's centre lies so far under the middle
  double invert_from_m = 0;  ///< the invert's arc ends so far under the middle
  double crown_radius_m = 0, side_radius_m = 0, invert_radius_m = 0;
};
EggArcs egg_arcs(const Bore& egg);

/// An ellipse's perimeter: S. Ramanujan's second approximation (from memory; a test holds it against
/// integration).
double perimeter_m(const Bore& ellipse);
/// The squashed flexible pipe: one half axis shortened by a share, the other as long as leaves the
/// perimeter what it was: plastic bends long before it stretches (ours).
double other_half_axis_m(double radius_m, double shortened_by);
/// The same of a rigid pipe: the quarters keep their chords, so half height and half width are the
/// legs over one hypotenuse (geometry).
double other_hinged_half_m(double radius_m, double shortened_by);
/// How far each quarter has turned about its hinges, radians, never negative.
double hinge_turn(const Bore& hinged);
/// How far the centre of each quarter's circle lies from the middle, outwards to the side and as much
/// the other way up or down; 0 for a circle, negative where the width is the smaller.
double quarter_shift_m(const Bore& hinged);
double quarter_radius_m(const Bore& hinged);

/// From the middle to the wall in a direction (unit vector).
double radius_toward(const Bore& bore, Vec2 direction);
/// Does a place, measured from the middle, lie in the clear?
bool inside(const Bore& bore, Vec2 place, double slack_m = 0);
/// Height of the wall over the middle, at x from it to the side; 0 beyond the springings.
double height_above(const Bore& bore, double x_m);
/// How far under the middle the wall lies, at x from it to the side; as above where it is widest.
double depth_below(const Bore& bore, double x_m);
/// The radius of the circle of the same area.
double mean_radius_m(const Bore& bore);

// Filled to a depth above the invert (kept between empty and full).
double width_m(const Bore& bore, double depth_m);   ///< of the surface
double area_m2(const Bore& bore, double depth_m);   ///< below it
double wetted_m(const Bore& bore, double depth_m);  ///< of wall below it

}  // namespace haunch::scene
