// SPDX-License-Identifier: Apache-2.0
// The open window, the toolkit that draws on it, and the pace at which they are served: shared by all that
// the program shows. Inside this room.
#pragma once

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/Graphics/Texture.hpp>
#include <SFML/System/Clock.hpp>
#include <SFML/System/Sleep.hpp>
#include <SFML/Window/Event.hpp>
#include <array>
#include <functional>
#include <memory>
#include <set>
#include <string>

#include "window/listener.hpp"
#include "window/look.hpp"
#include "window/window.hpp"

namespace haunch::window {

/// How often the panels are drawn, and how long the program sleeps between two looks at its events.
/// After anything a person did the panels follow at once and for a while (a click takes two pictures, a
/// panel two to find its size); then they are only kept fresh, for words that come and go by the clock.
class Pace {
 public:
  void stir() { stirred_s_ = clock_.getElapsedTime().asSeconds(); }
  /// `pictures_follow`: a fresh picture, which brings its own screen, is on its way. Screens between two of
  /// them would only hold it up where the graphics are done by the same processors.
  bool due(bool pictures_follow) const {
    const float now = clock_.getElapsedTime().asSeconds();
    const float since = now - drawn_s_;
    return (now - stirred_s_ < 0.3F && since >= (pictures_follow ? 2 : 1) * shortest_s) || since >= 0.25F;
  }
  void drawn() { drawn_s_ = clock_.getElapsedTime().asSeconds(); }
  /// Short, so that neither a key nor a picture that is done waits for long; a screen is drawn no oftener
  /// than sixty times a second, but for a fresh picture.
  static void rest() { sf::sleep(sf::milliseconds(2)); }

 private:
  static constexpr float shortest_s = 1.0F / 60;
  sf::Clock clock_;
  float stirred_s_ = 0, drawn_s_ = -1;
};

/// One for the program: ImGui's context with the OpenGL drawing that Debian's package carries.
class Glue {
 public:
  Glue(sf::RenderWindow& window, const Settings& settings);
  ~Glue();
  Glue(const Glue&) = delete;
  Glue& operator=(const Glue&) = delete;

  /// Pointer to ImGui, keys and text to whoever listens: a key never belongs to both.
  void event(const sf::Event& event, Listener& listener);
  void begin_frame(const Settings& settings, float seconds);
  /// A mouse button is held: what it holds may repeat by itself.
  bool busy() const { return down_[0] || down_[1] || down_[2]; }
  void draw();

 private:
  void remake_fonts(const Settings& settings);
  sf::RenderWindow& window_;
  float made_for_pixels_ = 0;
  bool ctrl_ = false;      ///< with the last key pressed: such a key types nothing
  bool repeated_ = false;  ///< the last key pressed was held already: SFML does not say so itself
  std::set<sf::Keyboard::Key> held_;
  std::array<bool, 3> down_{}, pressed_{};
};

class Stage {
 public:
  /// Throws std::runtime_error, in words, where no window can be opened.
  Stage(const Options& options, const std::string& title, const Settings& settings);

  sf::RenderWindow window;
  Pace pace;

  bool open() const { return window.isOpen(); }
  Glue& glue() { return *glue_; }
  /// Everything that came in since last time goes to `listener`; `seen` is told of each event first.
  void pump(Listener& listener, const std::function<void(const sf::Event&)>& seen = {});
  /// Since the last call.
  float seconds() { return clock_.restart().asSeconds(); }
  void begin_frame(const Settings& settings);
  void end_frame();
  void full_screen(bool wanted);
  bool is_full_screen() const { return full_screen_; }
  void title(const std::string& text);

 private:
  Options options_;
  std::string title_;
  bool full_screen_ = false;
  std::unique_ptr<Glue> glue_;
  sf::Clock clock_, frame_clock_;
};

/// A picture as a texture of the toolkit's.
class PictureTexture {
 public:
  PictureTexture() { texture_.setSmooth(true); }
  void update(const Picture::Image& image);
  ImTextureID id() const {
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture_.getNativeHandle()));
  }

 private:
  sf::Texture texture_;
};

}  // namespace haunch::window
