// SPDX-License-Identifier: Apache-2.0
// How bricks lie in a bore: courses run along the pipe, their beds point at its axis, and each course lies
// half a brick on from the next. The picture and what is wrong with single bricks go by the same grid.
#pragma once

namespace haunch::scene {

/// Between the middles of two joints along a course, m. Ours, between the modular brick of 190 mm and the old
/// one of 9 in; with whole bricks in the length of a tile of texture.
inline constexpr double brick_pitch_m = 0.200;
/// Of the joints, m: 10 mm is common practice, no source.
inline constexpr double brick_joint_m = 0.010;
/// A ring is half a brick thick, m: half of 8 1/2 in, from memory.
inline constexpr double brick_ring_m = 0.103;

/// How many courses go round: an even number, each about 75 mm wide on the wall's face.
int brick_courses(double bore_mm);

/// One brick of the face: course from 0 clockwise from the crown looking downstream, row along the pipe.
struct Brick {
  int course = 0, row = 0;
};
/// Middle of a brick's face and its size with the joints about it.
struct BrickPlace {
  double z_m = 0, angle = 0;  ///< radians clockwise from the crown
  double length_m = 0, width_m = 0;
};
Brick brick_at(double bore_mm, double z_m, double angle);
BrickPlace place_of(double bore_mm, const Brick& brick);

}  // namespace haunch::scene
