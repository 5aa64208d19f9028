// SPDX-License-Identifier: Apache-2.0
// Events in, triangles out.
#include "window/glue.hpp"

#include <backends/imgui_impl_opengl2.h>
#include <imgui.h>

#include <SFML/System/String.hpp>
#include <SFML/Window/Clipboard.hpp>
#include <stdexcept>
#include <string>

#include "window/look.hpp"

namespace haunch::window {

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
    case K::F10:
      return Key::f10;
    case K::F11:
      return Key::f11;
    default:
      return Key::none;
  }
}

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

void Glue::event(const sf::Event& event, Session& session) {
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
    case sf::Event::LostFocus:
      return session.release_all();
    case sf::Event::KeyReleased:
      return session.release(key_from(event.key.code));
    case sf::Event::KeyPressed: {
      ctrl_ = event.key.control;
      const Press press{key_from(event.key.code), event.key.control, event.key.shift};
      if (press.key == Key::none) return;
      if (command_for(press) == Command::paste) {
        const auto text = sf::Clipboard::getString().toUtf8();
        return session.paste(std::string(text.begin(), text.end()));
      }
      return session.press(press);
    }
    case sf::Event::TextEntered: {
      const auto code = event.text.unicode;
      if (code < 0x20 || code == 0x7F || ctrl_) return;
      const auto utf8 = sf::String(static_cast<sf::Uint32>(code)).toUtf8();
      return session.type(std::string(utf8.begin(), utf8.end()));
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

}  // namespace haunch::window
