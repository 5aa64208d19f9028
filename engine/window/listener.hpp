// SPDX-License-Identifier: Apache-2.0
// Whoever has the keyboard at the moment: a run, a drill, the start page.
#pragma once

#include <string>

#include "window/keys.hpp"

namespace haunch::window {

class Listener {
 public:
  Listener() = default;
  Listener(const Listener&) = default;
  Listener& operator=(const Listener&) = default;
  Listener(Listener&&) = default;
  Listener& operator=(Listener&&) = default;
  virtual ~Listener() = default;

  /// `repeated`: the keyboard says it again because the key is held.
  virtual void press(const Press& press, bool repeated = false) = 0;
  virtual void release(Key /*key*/) {}
  virtual void release_all() {}  ///< the window lost the keyboard
  virtual void type(const std::string& /*utf8*/, bool /*repeated*/ = false) {}
  virtual void paste(const std::string& /*text*/) {}
  virtual void command(Command /*command*/) {}  ///< a visible control, or a gamepad's button
  /// A drive button, a stick: held (+1, -1) or let go (0).
  virtual void hold(int /*direction*/) {}
  virtual void button_up() {}  ///< a gamepad's button was let go
};

}  // namespace haunch::window
