// SPDX-License-Identifier: Apache-2.0
// Where the wall, the matter of faults and the water hand over to one another. A picture is drawn
// tile by tile; each tile makes one batch of rays from the lens, and the water makes further batches
// (mirrored and bent rays) that start anywhere in the bore. Every batch goes through
//   walk_wall, shade_wall -> FaultShapes::mark_wall -> meet_meshes -> meet_strands
// and only batches from the lens go on to the water.
// Room-internal header.
#pragma once

#include <cstdint>
#include <memory>

#include "render/samples.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

struct Marks;

/// The lens before any lens effect: straight rays.
struct RayCamera {
  scene::Vec3 lens;
  scene::Vec3 right, up, forward;  ///< unit, of the picture (roll, yaw and pitch are in them)
  int width = 0, height = 0;
  double half_width = 1, half_height = 1;  ///< tan of the half field; for the parallel lens metres
  bool parallel = false;
};
/// parallel_height_m > 0 asks for the parallel test lens.
RayCamera ray_camera(const scene::CameraPose& pose, int width, int height, double parallel_height_m = 0);
/// Direction and start of the ray through a place of the picture (pixels; x right, y down; the
/// middle of pixel 0 is 0.5).
struct Ray {
  scene::Vec3 from, direction;
};
Ray ray_through(const RayCamera& camera, double px, double py);
/// Where a point shows. False when it lies behind the lens (nearer than a tenth of a millimetre).
/// `distance_m` is along the ray; one pixel there is `pixel_m` wide.
bool project(const RayCamera& camera, scene::Vec3 point, double& px, double& py, double& distance_m,
             double& pixel_m);

/// What a batch of rays is for.
struct Batch {
  bool from_lens = true;  ///< false: mirrored or bent by the water; rays start anywhere
  /// From the lens: the pixels the rays go through (x1, y1 exclusive). Sub-rays of anti-aliasing
  /// lie inside these pixels too, in any order and number.
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  bool again = false;  ///< this thread's last batch from the lens was of the same pixels
};

/// The faults' own matter: marks on the wall, meshes, strands. Written in marks, meshes, strands.
/// All passes are const and are called from several threads at once; the same rays give the same
/// samples whatever the batch they come in.
class FaultShapes {
 public:
  explicit FaultShapes(const scene::Scene& scene);
  ~FaultShapes();
  FaultShapes(FaultShapes&&) noexcept;
  FaultShapes& operator=(FaultShapes&&) noexcept;

  /// Once for each picture, before its batches (bins strands by screen tile, moves drips).
  void begin_picture(const RayCamera& camera, double time_s);

  /// Repaints wall samples (piece >= 0) that show a crack; where the wall is missing sets their
  /// depth to nothing_hit and piece to -1, and meet_meshes finds what lies behind.
  void mark_wall(const Batch& batch, Samples& samples) const;
  /// What it repaints the wall by.
  const Marks& marks() const;
  /// Whatever is nearer than depth replaces the sample: depth, colour, fault, normal; piece = -1.
  void meet_meshes(const Batch& batch, Samples& samples) const;
  void meet_strands(const Batch& batch, Samples& samples) const;

  /// Is anything of it laid over by coverage (Samples::smooth)?
  bool any_strands() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::render
