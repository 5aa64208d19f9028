// SPDX-License-Identifier: Apache-2.0
// A camera's automatic exposure: from picture to picture the gain follows what the pictures want, with a lag.
// Coming out of the dark a picture is too bright at first and settles. One for each camera that is followed.
#pragma once

#include "render/renderer.hpp"

namespace haunch::render {

/// Time in which the gain covers two thirds of its way (ours: small cameras settle in one to two seconds).
inline constexpr double exposure_lag_s = 0.4;

class AutoExposure {
 public:
  /// Exposes a picture taken `seconds` (0 or more) after the last; the first is exposed for itself.
  void expose(View& view, double seconds) const {
    view.exposure = 0;
    view.eased_from = gain_;
    view.eased_s = seconds;
  }
  /// What the picture just drawn got.
  void took(const Renderer& renderer) {
    gain_ = renderer.exposure();
    wanted_ = renderer.wanted_exposure();
  }
  double gain() const { return gain_; }
  /// Nobody would see the rest of the way.
  bool settled() const;

 private:
  double gain_ = 0, wanted_ = 0;
};

}  // namespace haunch::render
