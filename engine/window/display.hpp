// SPDX-License-Identifier: Apache-2.0
// Is there a display at all? SFML itself would end the program.
#pragma once

#include <string>

namespace haunch::window {

/// Why a window cannot be opened, in words; empty when it can.
std::string why_no_display();

/// Pixels of the screen as the display itself says, 0 x 0 when there is none.
struct ScreenSize {
  int width = 0, height = 0;
};
ScreenSize screen_size();

}  // namespace haunch::window
