// SPDX-License-Identifier: Apache-2.0
// Bodies to build solids of, and how they come to lie in a bore. Coordinates here are the bore's own: x right
// and y up from its axis, z downstream from the fault's place; metres. Inside this room.
#pragma once

#include <functional>
#include <vector>

#include "base/random.hpp"
#include "matter/solid.hpp"

namespace haunch::matter {

/// A turn, as where the axes go.
struct Turn {
  scene::Vec3 x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};
  scene::Vec3 operator()(const scene::Vec3& p) const { return p.x * x + p.y * y + p.z * z; }
};
/// First about z (roll, clockwise looking downstream), then about x (pitch, z rises), then about y (yaw, z to
/// the right). Radians.
Turn turned(double roll, double pitch, double yaw);
/// Its y goes along `up`, its z as near `ahead` as may be.
Turn along_y(const scene::Vec3& up, const scene::Vec3& ahead);

void move(Solid& solid, const Turn& turn, const scene::Vec3& by);
void add(Solid& solid, Solid more);

/// How rough a face is: `out_m` the height of its bumps, `size_m` how far apart they are.
struct Rough {
  double out_m = 0, size_m = 0.01;
  std::uint32_t seed = 0;
};
/// A block with worn edges; its two ends along z may be broken off roughly. Its points lie step_m apart.
Solid block(const scene::Vec3& half, double edge_m, const Rough& faces, const Rough& ends, Stuff stuff,
            std::uint32_t tint, double step_m = 0.0025);
/// A body of revolution about z: (z, radius) from one end to the other.
Solid turned_body(const std::vector<scene::Vec2>& profile, int around, const Rough& rough, Stuff stuff,
                  std::uint32_t tint);
/// A round thing along a line, closed at both ends; radius by share of the way.
Solid rod(const std::vector<scene::Vec3>& line, const std::function<double(double)>& radius, int around,
          const Rough& rough, Stuff stuff, std::uint32_t tint);
/// Points evenly along a smooth curve through a few.
std::vector<scene::Vec3> smooth_line(const std::vector<scene::Vec3>& through, int count);

/// A pebble, or with `angular` a broken stone.
Solid pebble(const scene::Vec3& half, std::uint32_t seed, bool angular, Stuff stuff, std::uint32_t tint);
/// A shard of pipe, hollow up, its middle at the origin; `half` its half angle.
Solid shard(double pipe_radius, double wall_m, double half, double length, std::uint32_t seed);
/// Loose matter heaped on the invert: as high as `high_m` above it in the middle, dying out over `long_m`
/// each way, leaning against the side it came from.
Solid mound(double radius_m, double high_m, double long_m, double from_clock_h, double bumps_m, Stuff stuff,
            std::uint32_t seed);

/// What lies in a bore: things are let down on the wall and on what lies there already.
class Heap {
 public:
  explicit Heap(double radius_m);
  /// Straight down until it touches; then it belongs to the heap. Sunk by `sunk_m`.
  void let_down(Solid& solid, double sunk_m = 0.0006);
  /// At the lowest of a few places: what is loose rolls down.
  void let_roll(Solid& solid, const std::vector<scene::Vec3>& places, double sunk_m);
  /// It lies there already.
  void take(const Solid& solid);

 private:
  double& top(double x, double z);
  /// How far to move it aside and up.
  scene::Vec2 way_down(const Solid& solid, const scene::Vec3& by);
  static constexpr double cell_ = 0.005;
  static constexpr int side_ = 240;
  double radius_;
  std::vector<double> top_;
};

/// The arc of wall that points within `near_m` of it span.
base::ClockArc arc_on_wall(const Solid& solid, double radius_m, double near_m);
/// From a clock hour's place on the wall, `out_m` outside it, in the bore's coordinates.
scene::Vec3 on_wall(double radius_m, double clock_h, double out_m, double z);
/// The wall round the place where something comes through it: flaked, with a dark seam.
Solid collar(double radius_m, const scene::Vec3& place, double inner_m, double outer_m, Stuff stuff,
             std::uint32_t seed);

/// Makes a thing of a size k at which it hides the wanted share (0 .. 1) of a bore of that radius, k within
/// the two given; nearest where none fits.
Solid of_share(const std::function<Solid(double)>& made, double low, double high, double share,
               double radius_m);
double share_hidden(const Solid& solid, double radius_m);
/// Which cells of a square of 2 half_m, side x side, row by row from the least x and y, a solid hides seen
/// along z.
std::vector<bool> hidden_cells(const Solid& solid, double half_m, int side);
/// From the bore's coordinates at z to the scene's.
Solid into_scene(const scene::Scene& scene, double z, Solid solid);

}  // namespace haunch::matter
