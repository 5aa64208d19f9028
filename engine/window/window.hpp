// SPDX-License-Identifier: Apache-2.0
// The program's window: opens, runs until it is closed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "window/session.hpp"

namespace haunch::window {

struct Options {
  int width = 1280, height = 720;
  std::string trainee;  ///< empty: who was here last, or it is asked
  play::Mode mode = play::Mode::practice;
  std::optional<base::LengthUnit> unit;              ///< else as last set
  std::optional<std::vector<play::TimedInput>> log;  ///< an earlier exercise to replay
  double replay_speed = 1;                           ///< times real time
  std::string sitting{};                             ///< of an exam that the run belongs to
  int threads = 0;                                   ///< for drawing the picture; 0 as many as there are
};

/// The picture is drawn at most this large and scaled to the window.
inline constexpr int most_picture_width = 1280, most_picture_height = 720;

/// Size of the picture for a window: its shape, no larger than the most.
struct Size {
  int width = 0, height = 0;
  bool operator==(const Size&) const = default;
};
Size picture_size(int window_width, int window_height);

/// Is there a display at all? SFML itself would end the program. Why a window cannot be opened, in
/// words; empty when it can.
std::string why_no_display();

/// Pixels of the screen as the display itself says, 0 x 0 when there is none.
struct ScreenSize {
  int width = 0, height = 0;
};
ScreenSize screen_size();

/// Begins with the run that is given, else on the start page. Throws std::runtime_error, in words, when the
/// work cannot go on.
void run(std::optional<scene::Scene> first, const Options& options);

}  // namespace haunch::window
