// SPDX-License-Identifier: Apache-2.0
// The picture, drawn on a thread of its own so that keys are never late: the newest wish wins, and
// exposure follows what the picture wants with a lag, as a camera's does. And where things show in it.
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

#include "render/renderer.hpp"
#include "window/session.hpp"

namespace haunch::window {

/// How often ripples are drawn anew while the camera stands, s.
inline constexpr double ripple_s = 0.24;

/// Pixels of a picture: x right, y down, the middle of the first is 0.5.
struct Place {
  double x = 0, y = 0;
};
/// Where a point shows in a picture as the camera lens makes it; nothing when it is not ahead.
std::optional<Place> place_in_picture(const scene::CameraPose& pose, scene::Vec3 point, int width,
                                      int height);
/// The ring on the wall where the counter reads, as strokes; what lies under water is left out.
std::vector<std::vector<Place>> ring_in_picture(const scene::Scene& scene, const Look& look, int width,
                                                int height);

/// Hours on the wall at a chainage, as the camera looks: one hour as a short stroke. `dashed`: in pieces.
std::vector<std::vector<Place>> hours_in_picture(const scene::Scene& scene, const scene::CameraPose& pose,
                                                 int width, int height, double z_m, base::ClockArc hours,
                                                 bool dashed);

class Picture {
 public:
  /// The scene must outlive the picture.
  Picture(const scene::Scene& scene, int threads);
  ~Picture();
  Picture(const Picture&) = delete;
  Picture& operator=(const Picture&) = delete;

  /// Draws when there is something new to see: another place, size or fault lit, exposure that has not
  /// settled yet; where water stands or runs, its ripples a few times a second. False when it need not.
  bool want(const Look& look, int width, int height);

  struct Image {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba;
    Look look;           ///< that it was drawn for
    double seconds = 0;  ///< that drawing it took
  };
  /// Swaps in the newest finished picture; false when there is none since the last call. Passes on
  /// an exception of the drawing thread.
  bool take(Image& image);

 private:
  struct Wish {
    Look look;
    int width = 0, height = 0;
  };
  void run();

  render::Renderer renderer_;
  std::mutex guard_;
  std::condition_variable wished_;
  std::optional<Wish> wish_;
  std::optional<Wish> last_;  ///< wished last, whether drawn yet or not
  bool wet_ = false;          ///< ripples move by themselves
  bool settled_ = false;      ///< the exposure is what the last picture wants
  Image finished_;
  bool fresh_ = false;
  bool stop_ = false;
  std::optional<Wish> drawing_;
  std::atomic<bool> give_up_ = false;  ///< what is being drawn is no longer wanted
  std::exception_ptr failure_;
  std::thread thread_;  // last: it uses all of the above
};

}  // namespace haunch::window
