// SPDX-License-Identifier: Apache-2.0
// SFML's events go to Dear ImGui and to whoever listens, and ImGui draws on SFML's window.
#include "window/stage.hpp"

#include <backends/imgui_impl_opengl2.h>
#include <imgui.h>

#include <SFML/System/Err.hpp>
#include <SFML/System/String.hpp>
#include <SFML/Window/Clipboard.hpp>
#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>

#include "base/words.hpp"

namespace haunch::window {
namespace {

Key key_from(sf::Keyboard::Key key) {
  using K = sf::Keyboard;
  switch (key) {
    case K::Up:
      return Key::up;
    case K::Down:
      return Key::down;
    case K::Left:
      return Key::left;
    case K::Right:
      return Key::right;
    case K::Home:
      return Key::home;
    case K::End:
      return Key::end;
    case K::PageUp:
      return Key::page_up;
    case K::PageDown:
      return Key::page_down;
    case K::Enter:
      return Key::enter;
    case K::Escape:
      return Key::escape;
    case K::Tab:
      return Key::tab;
    case K::Backspace:
      return Key::backspace;
    case K::Delete:
      return Key::del;
    case K::Add:
    case K::Equal:
      return Key::plus;
    case K::Subtract:
    case K::Hyphen:
      return Key::minus;
    case K::E:
      return Key::letter_e;
    case K::H:
      return Key::letter_h;
    case K::P:
      return Key::letter_p;
    case K::Y:
      return Key::letter_y;
    case K::Q:
      return Key::letter_q;
    case K::V:
      return Key::letter_v;
    case K::Z:
      return Key::letter_z;
    case K::F1:
      return Key::f1;
    case K::F2:
      return Key::f2;
    case K::F3:
      return Key::f3;
    case K::F4:
      return Key::f4;
    case K::F5:
      return Key::f5;
    case K::F6:
      return Key::f6;
    case K::F7:
      return Key::f7;
    case K::F8:
      return Key::f8;
    case K::F9:
      return Key::f9;
    case K::F10:
      return Key::f10;
    case K::F11:
      return Key::f11;
    case K::F12:
      return Key::f12;
    default:
      return Key::none;
  }
}

}  // namespace

Glue::Glue(sf::RenderWindow& window, const Settings& settings) : window_(window) {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  auto& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.BackendPlatformName = "haunch";
  if (!window_.setActive(true) || !ImGui_ImplOpenGL2_Init())
    throw std::runtime_error("OpenGL cannot be used here.");
  remake_fonts(settings);
}

Glue::~Glue() {
  ImGui_ImplOpenGL2_Shutdown();
  ImGui::DestroyContext();
}

void Glue::remake_fonts(const Settings& settings) {
  const int height = static_cast<int>(window_.getSize().y);
  made_for_pixels_ = text_pixels(settings, height);
  make_type(settings, height);
  ImGui_ImplOpenGL2_DestroyFontsTexture();
  ImGui_ImplOpenGL2_CreateFontsTexture();
}

void Glue::event(const sf::Event& event, Listener& listener) {
  auto& io = ImGui::GetIO();
  switch (event.type) {
    case sf::Event::MouseMoved:
      io.MousePos = {static_cast<float>(event.mouseMove.x), static_cast<float>(event.mouseMove.y)};
      return;
    case sf::Event::MouseButtonPressed:
    case sf::Event::MouseButtonReleased: {
      const std::size_t button = event.mouseButton.button == sf::Mouse::Left    ? 0
                                 : event.mouseButton.button == sf::Mouse::Right ? 1
                                                                                : 2;
      io.MousePos = {static_cast<float>(event.mouseButton.x), static_cast<float>(event.mouseButton.y)};
      down_[button] = event.type == sf::Event::MouseButtonPressed;
      if (down_[button]) pressed_[button] = true;
      return;
    }
    case sf::Event::MouseWheelScrolled:
      if (event.mouseWheelScroll.wheel == sf::Mouse::VerticalWheel)
        io.MouseWheel += event.mouseWheelScroll.delta;
      return;
    case sf::Event::MouseLeft:
      io.MousePos = {-1e6F, -1e6F};
      return;
    case sf::Event::JoystickMoved: {
      using Axis = sf::Joystick::Axis;
      if (event.joystickMove.axis != Axis::Y && event.joystickMove.axis != Axis::PovY) return;
      // A stick pushed away counts down, a cross pressed up counts up.
      const float up =
          event.joystickMove.axis == Axis::Y ? -event.joystickMove.position : event.joystickMove.position;
      constexpr float pushed = 40;
      return listener.hold(up > pushed ? 1 : up < -pushed ? -1 : 0);
    }
    case sf::Event::JoystickButtonPressed:
      if (const auto wanted = command_for_pad(event.joystickButton.button)) listener.command(*wanted);
      return;
    case sf::Event::JoystickButtonReleased:
      return listener.button_up();
    case sf::Event::LostFocus:
      held_.clear();
      return listener.release_all();
    case sf::Event::KeyReleased:
      // A held key is repeated as let go and pressed again, and where the machine is busy the two come apart
      // and the first looks like a real one. The keyboard itself knows.
      if (held_.contains(event.key.code) && sf::Keyboard::isKeyPressed(event.key.code)) return;
      held_.erase(event.key.code);
      return listener.release(key_from(event.key.code));
    case sf::Event::KeyPressed: {
      ctrl_ = event.key.control;
      // A key without a name shares its number with others.
      repeated_ = event.key.code != sf::Keyboard::Unknown && !held_.insert(event.key.code).second;
      const Press press{key_from(event.key.code), event.key.control, event.key.shift};
      if (press.key == Key::none) return;
      if (command_for(press) == Command::paste) {
        if (repeated_) return;
        const auto text = sf::Clipboard::getString().toUtf8();
        return listener.paste(std::string(text.begin(), text.end()));
      }
      return listener.press(press, repeated_);
    }
    case sf::Event::TextEntered: {
      const auto code = event.text.unicode;
      if (code < 0x20 || code == 0x7F || ctrl_) return;
      const auto utf8 = sf::String(static_cast<sf::Uint32>(code)).toUtf8();
      return listener.type(std::string(utf8.begin(), utf8.end()), repeated_);
    }
    default:
      return;
  }
}

void Glue::begin_frame(const Settings& settings, float seconds) {
  const auto size = window_.getSize();
  if (text_pixels(settings, static_cast<int>(size.y)) != made_for_pixels_) remake_fonts(settings);
  apply_style(settings);
  auto& io = ImGui::GetIO();
  io.DisplaySize = {static_cast<float>(size.x), static_cast<float>(size.y)};
  io.DeltaTime = seconds > 0 ? seconds : 1.0F / 60;
  // A press and its release within one frame still count as a click: the release comes a frame later.
  for (std::size_t i = 0; i < down_.size(); ++i) {
    io.MouseDown[i] = down_[i] || pressed_[i];
    pressed_[i] = false;
  }
  ImGui_ImplOpenGL2_NewFrame();
  ImGui::NewFrame();
}

void Glue::draw() {
  ImGui::Render();
  ImGui_ImplOpenGL2_RenderDrawData(ImGui::GetDrawData());
}

namespace {

/// What SFML says on the side while a window opens is kept until it matters.
class Aside {
 public:
  Aside() : before_(sf::err().rdbuf(said_.rdbuf())) {}
  ~Aside() { sf::err().rdbuf(before_); }
  Aside(const Aside&) = delete;
  Aside& operator=(const Aside&) = delete;
  std::string said() const { return base::trim(said_.str()); }

 private:
  std::ostringstream said_;
  std::streambuf* before_;
};

void open_window(sf::RenderWindow& window, const Options& options, const std::string& title,
                 bool full_screen) {
  // Displays without vertical sync (a virtual one) would have that told to the person each time.
  const Aside aside;
  const sf::ContextSettings context(0, 0, 0, 2, 1);
  if (full_screen) {
    window.create(sf::VideoMode::getDesktopMode(), title, sf::Style::Fullscreen, context);
  } else {
    window.create(sf::VideoMode(static_cast<unsigned>(options.width), static_cast<unsigned>(options.height)),
                  title, sf::Style::Default, context);
  }
  if (!window.isOpen()) throw std::runtime_error("The window could not be opened. " + aside.said());
  if (const ScreenSize screen = screen_size(); screen.width > 0 && !full_screen) {
    // SFML centres by a size that is wrong on some displays (a virtual one among them).
    window.setPosition(
        {std::max(0, (screen.width - options.width) / 2), std::max(0, (screen.height - options.height) / 2)});
  }
  window.setKeyRepeatEnabled(true);  // for editing the line; driving ignores repeats
}

}  // namespace

Size picture_size(int window_width, int window_height) {
  const double width = std::max(window_width, 1), height = std::max(window_height, 1);
  const double scale = std::min({1.0, most_picture_width / width, most_picture_height / height});
  return {std::max(16, static_cast<int>(std::lround(width * scale))),
          std::max(16, static_cast<int>(std::lround(height * scale)))};
}

Stage::Stage(const Options& options, const std::string& title, const Settings& settings)
    : options_(options), title_(title) {
  open_window(window, options_, title_, false);
  glue_ = std::make_unique<Glue>(window, settings);
}

void Stage::pump(Listener& listener, const std::function<void(const sf::Event&)>& seen) {
  sf::Event event{};
  while (window.pollEvent(event)) {
    pace.stir();
    if (seen) seen(event);
    if (event.type == sf::Event::Closed)
      window.close();
    else
      glue_->event(event, listener);
  }
}

void Stage::begin_frame(const Settings& settings) {
  pace.drawn();  // counted from its beginning, or drawing itself would be added to the wait
  glue_->begin_frame(settings, frame_clock_.restart().asSeconds());
}

void Stage::end_frame() {
  window.clear();
  glue_->draw();
  window.display();
}

void Stage::full_screen(bool wanted) {
  if (wanted == full_screen_) return;
  full_screen_ = wanted;
  open_window(window, options_, title_, full_screen_);
}

void Stage::title(const std::string& text) {
  title_ = text;
  window.setTitle(sf::String::fromUtf8(text.begin(), text.end()));
}

void PictureTexture::update(const Picture::Image& image) {
  const sf::Vector2u wanted(static_cast<unsigned>(image.width), static_cast<unsigned>(image.height));
  if (texture_.getSize() != wanted && !texture_.create(wanted.x, wanted.y))
    throw std::runtime_error("The graphics driver cannot hold the picture.");
  texture_.update(image.rgba.data());
}

}  // namespace haunch::window
