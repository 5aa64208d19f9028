// SPDX-License-Identifier: Apache-2.0
// Draws what a camera sees. Same scene, view and seed: the same pixels on any number of threads.
#pragma once

#include <atomic>
#include <limits>
#include <memory>

#include "render/frame.hpp"
#include "scene/camera.hpp"
#include "scene/scene.hpp"

namespace haunch::render {

enum class Lens {
  camera,    ///< perspective by the pose's field
  parallel,  ///< test camera: parallel rays along the axis, the picture's height spans parallel_height_m
};

/// Drops have run off a window after this time (ours).
inline constexpr double runs_off_s = 10;

struct View {
  scene::CameraPose pose;
  int width = 1280, height = 720;
  Lens lens = Lens::camera;
  double parallel_height_m = 0.12;
  double time_s = 0;      ///< drives drips, ripples and sensor noise
  double exposure = 0;    ///< the gain to use; 0: what this picture wants, or on the way there
  double eased_from = 0;  ///< the gain of the picture before (AutoExposure); 0: there at once
  double eased_s = 0;     ///< how long ago that was taken
  /// How long ago the window was last under water or dripped on, s: drops run off it.
  double wet_ago_s = std::numeric_limits<double>::infinity();
  double speed_m_s = 0;     ///< along travel while the shutter is open; 0 and no turning: nothing blurs
  double roll_deg_s = 0;    ///< clockwise seen along travel
  double shutter_s = 0.02;  ///< how long it is open (common practice, no source)
  bool analogue =
      false;  ///< soft colour, uneven lines, two half pictures; also where the camera is such a one
  int highlight_fault = 0;  ///< review: this fault is lit and outlined
  /// false: the same pipe and seed without any fault's own matter, open joints closed. Joints out of line or
  /// at an angle stay, and so do sags and the water: the rest of the run follows from where they lead.
  bool faults = true;
  bool lens_effects = true;  ///< droplets, fog, dirt, vignette, distortion, and the analogue look
  bool noise = true;
  bool every_pixel = false;  ///< each pixel by a ray of its own, also where its neighbours tell; slower
  /// Once true the picture is wanted no more: it is given up within a few milliseconds.
  const std::atomic<bool>* stop = nullptr;
};

/// One step of a gain towards what is wanted, some seconds long; from nothing (0) it is there at once.
double eased_exposure(double now, double wanted, double seconds);

class Renderer {
 public:
  /// threads 0: as many as the machine has.
  explicit Renderer(const scene::Scene& scene, int threads = 0);
  /// For a scene of the same seed and the same sections, faults apart: shares the textures, which take
  /// longest.
  Renderer(const scene::Scene& scene, const Renderer& like, int threads);
  ~Renderer();
  Renderer(Renderer&&) noexcept;
  Renderer& operator=(Renderer&&) noexcept;

  Frame draw(const View& view);
  /// Into a frame that is reused; buffers keep their memory.
  /// False when it was given up: then the frame holds nothing, and exposures are those of the picture before.
  bool draw(const View& view, Frame& frame);
  double wanted_exposure() const;  ///< the gain the last picture wanted
  double exposure() const;         ///< the gain it got

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::render
