// SPDX-License-Identifier: Apache-2.0
// Asks the X server itself; apart from the rest because its header defines everyday words as macros.
#include <cstdlib>

#include "window/window.hpp"

// Last: it defines everyday words as macros.
#include <X11/Xlib.h>

namespace haunch::window {
namespace {

// Kept open to the end: a virtual server starts afresh when its last caller leaves, and would not
// answer the window that is opened a moment later.
Display* connection() {
  static Display* const display = XOpenDisplay(nullptr);
  return display;
}

}  // namespace

std::string why_no_display() {
  const char* name = std::getenv("DISPLAY");
  if (name == nullptr || *name == '\0') return "There is no display here (DISPLAY is not set).";
  if (connection() == nullptr) return std::string("The display \"") + name + "\" cannot be reached.";
  return {};
}

ScreenSize screen_size() {
  Display* display = connection();
  if (display == nullptr) return {};
  const int screen = XDefaultScreen(display);
  return {XDisplayWidth(display, screen), XDisplayHeight(display, screen)};
}

}  // namespace haunch::window
