// SPDX-License-Identifier: Apache-2.0
// SFML's events for Dear ImGui and for the session, and ImGui's drawing on SFML's window.
#pragma once

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/Window/Event.hpp>
#include <array>

#include "window/session.hpp"
#include "window/settings.hpp"

namespace haunch::window {

/// One for the program: ImGui's context with the OpenGL drawing that Debian's package carries.
class Glue {
 public:
  explicit Glue(sf::RenderWindow& window, const Settings& settings);
  ~Glue();
  Glue(const Glue&) = delete;
  Glue& operator=(const Glue&) = delete;

  /// Pointer to ImGui, keys and text to the session: a key never belongs to both.
  void event(const sf::Event& event, Session& session);
  void begin_frame(const Settings& settings, float seconds);
  void draw();

 private:
  void remake_fonts(const Settings& settings);
  sf::RenderWindow& window_;
  float made_for_pixels_ = 0;
  bool ctrl_ = false;  ///< with the last key pressed: such a key types nothing
  std::array<bool, 3> down_{}, pressed_{};
};

Key key_from(sf::Keyboard::Key key);

}  // namespace haunch::window
