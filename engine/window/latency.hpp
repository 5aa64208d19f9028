// SPDX-License-Identifier: Apache-2.0
// How long a key takes to the screen, for the bench. Inside this room.
#pragma once

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <optional>

namespace haunch::window {

/// For the bench: how long it takes from a key to the next screen, and to the first picture that was wished
/// for after it. Written where HAUNCH_LATENCY names a file; else it does nothing.
class Latency {
 public:
  Latency() {
    if (const char* file = std::getenv("HAUNCH_LATENCY")) out_.open(file);
  }
  /// `drives`: it sets the camera going, so that another picture has to follow.
  void key(double exercise_s, bool drives) {
    if (!out_.is_open()) return;
    if (!screen_since_) screen_since_ = Clock::now();
    if (drives && !picture_since_) picture_since_ = Clock::now(), wished_after_s_ = exercise_s;
  }
  void shown(bool fresh, double picture_of_s) {
    if (!out_.is_open()) return;
    tell("screen", screen_since_);
    if (fresh && picture_of_s > wished_after_s_) tell("picture", picture_since_);
  }

 private:
  using Clock = std::chrono::steady_clock;
  void tell(const char* what, std::optional<Clock::time_point>& since) {
    if (since)
      out_ << what << ' ' << std::chrono::duration<double>(Clock::now() - *since).count() << std::endl;
    since.reset();
  }
  std::ofstream out_;
  std::optional<Clock::time_point> screen_since_, picture_since_;
  double wished_after_s_ = 0;
};

}  // namespace haunch::window
