// SPDX-License-Identifier: Apache-2.0
// Draws what a camera sees. Same scene, view and seed: the same pixels on any number of threads.
#pragma once

#include <memory>

#include "render/frame.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

enum class Lens {
  camera,    ///< perspective by the pose's field
  parallel,  ///< test camera: parallel rays along the axis, the picture's height spans parallel_height_m
};

struct View {
  scene::CameraPose pose;
  int width = 1280, height = 720;
  Lens lens = Lens::camera;
  double parallel_height_m = 0.12;
  double time_s = 0;         ///< drives drips, ripples and sensor noise
  double exposure = 0;       ///< 0: exposed for this picture alone; else the gain to use
  int highlight_fault = 0;   ///< review: this fault is lit and outlined
  /// false: the same pipe and seed without any fault's own matter, open joints closed. Joints out of line or
  /// at an angle stay, and so do sags and the water: the rest of the run follows from where they lead.
  bool faults = true;
  bool lens_effects = true;  ///< droplets, fog, vignette, distortion
  bool noise = true;
  bool every_pixel = false;  ///< each pixel by a ray of its own, also where its neighbours tell; slower
};

class Renderer {
 public:
  /// threads 0: as many as the machine has.
  explicit Renderer(const scene::Scene& scene, int threads = 0);
  /// For a scene of the same seed and the same sections, faults apart: shares the textures, which take longest.
  Renderer(const scene::Scene& scene, const Renderer& like, int threads);
  ~Renderer();
  Renderer(Renderer&&) noexcept;
  Renderer& operator=(Renderer&&) noexcept;

  Frame draw(const View& view);
  /// Into a frame that is reused; buffers keep their memory.
  void draw(const View& view, Frame& frame);
  /// The gain the last picture wanted: the window eases towards it (auto-exposure with its lag).
  double wanted_exposure() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::render
