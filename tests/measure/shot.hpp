// SPDX-License-Identifier: Apache-2.0
// A picture of one fault and the same picture without it, and what can be measured in them.
#pragma once

#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "measure/pipe.hpp"
#include "render/renderer.hpp"

namespace haunch::measure {

/// One pixel each; row after row.
using Mask = std::vector<char>;

struct Shot {
  const scene::Scene& scene;  // with the fault, which is its only one
  Camera camera;
  render::View view;
  render::Frame with, without;

  int width() const { return with.width; }
  int height() const { return with.height; }
  std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(with.width) + static_cast<std::size_t>(x);
  }
  Ray ray(int x, int y) const { return camera.through(x + 0.5, y + 0.5); }
  /// What the pixel shows, by its depth.
  scene::Vec3 point(int x, int y) const {
    const Ray r = ray(x, y);
    return r.from + static_cast<double>(with.depth_m[index(x, y)]) * r.way;
  }
  const scene::FaultKind& fault() const { return scene.scenario.faults.front().kind; }

  Mask numbered() const;              ///< pixels that carry the fault's number
  Mask off_wall() const;              ///< .. and see farther or less far than the bare bore there
  Mask changed(int by_of_255) const;  ///< pixels whose colour differs from the picture without
};
/// `parallel_height_m` above 0 looks along the pipe with rays side by side. `sound` is the same run without
/// the fault; both renderers are used as they are.
Shot take(const scene::Scene& scene, render::Renderer& faulty, render::Renderer& sound,
          const scene::CameraPose& pose, int width, int height, double parallel_height_m = 0);

/// One size: what the scene says, what the picture says, and what a pixel there is worth in that measure.
struct Measured {
  std::string what;
  double stated = 0, measured = 0, pixel = 0;
  double slack = 0;  ///< allowed besides a pixel or two per cent; the table says why
  double whole = 0;  ///< what two per cent are taken of; 0: of what is stated
  double tolerance() const;
};

/// Coordinates on the bare bore: m along the pipe; m round it from `angle`, clockwise.
enum class Along { pipe, round };
/// First and last place of a mask along one of them, each against what is stated (both ends, m).
std::vector<Measured> ends(const Shot& shot, const Mask& mask, Along along, double middle_angle, double low,
                           double high, const std::string& what, double slack = 0);

/// Share of the bore that a mask covers in a picture taken along the pipe, per cent.
double percent_of_bore(const Shot& shot, const Mask& mask);

/// The circle through a slice of depths: what carries `fault` (or anything: -1) between two chainages, less
/// than `most_m` off the wall.
struct Circle {
  double x = 0, y = 0, radius = 0;
  int points = 0;
};
Circle circle_through(const Shot& shot, double from_z, double to_z, int fault);

inline constexpr double tau = 2 * std::numbers::pi;

}  // namespace haunch::measure
