// SPDX-License-Identifier: Apache-2.0
// Asks the X server itself; apart from the rest because its header defines everyday words as macros.
#include "window/display.hpp"

#include <X11/Xlib.h>

#include <cstdlib>

namespace haunch::window {

std::string why_no_display() {
  const char* name = std::getenv("DISPLAY");
  if (name == nullptr || *name == '\0') return "There is no display here (DISPLAY is not set).";
  Display* display = XOpenDisplay(name);
  if (display == nullptr) return std::string("The display \"") + name + "\" cannot be reached.";
  XCloseDisplay(display);
  return {};
}

}  // namespace haunch::window
