// SPDX-License-Identifier: Apache-2.0
// What coats are built of. Inside this room.
#pragma once

#include <functional>

#include "matter/coat.hpp"

namespace haunch::matter {

CoatSheet empty_sheet(int rows, int columns);
/// Sets how much light reaches each point of a sheet, from how high it stands against what is about it.
void shade_hollows(CoatSheet& sheet, const std::vector<float>& high_m, int reach, float relief_m);

/// The wall under a coat: it bridges steps in it and never lies behind it.
class CoatedWall {
 public:
  CoatedWall(const scene::Scene& scene, double from_m, double to_m, double bridges_m);
  /// Chainage, angle clockwise from the crown, metres from the wall into the bore.
  scene::Vec3 at(double z_m, double angle, double into_m) const;

 private:
  double radius_at(double z_m, const scene::Vec2& axis, const scene::Vec2& toward) const;
  const scene::Scene& scene_;
  double bridges_m_;
  std::vector<double> steps_;  ///< chainages
};

/// How far a coat's face stands into the bore at a chainage and angle, m.
using FaceAt = std::function<double(double z_m, double angle)>;

/// A crack in a coat: a dark gap as wide as stated, with crazed lips.
void add_crack(Coat& coat, const CoatedWall& wall, const FaceAt& face, const CrackShape& shape,
               std::uint16_t fault, Skin lip = Skin::split);
/// The rim of a hole through a coat, down to the wall.
void add_hole(Coat& coat, const CoatedWall& wall, const FaceAt& face, const WallOutline& outline,
              std::uint16_t fault, double foot_m = -0.0003, Skin rim = Skin::split);

}  // namespace haunch::matter
