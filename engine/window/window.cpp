// SPDX-License-Identifier: Apache-2.0
// The main loop: events, time, picture, panels.
#include "window/window.hpp"

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/Graphics/Texture.hpp>
#include <SFML/System/Clock.hpp>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "window/display.hpp"
#include "window/glue.hpp"
#include "window/keeping.hpp"
#include "window/look.hpp"
#include "window/panels.hpp"
#include "window/picture.hpp"

namespace haunch::window {
namespace {

/// The picture keeps its shape: it was made for the room it is shown in, or for the room before.
void draw_picture(const sf::Texture& texture, float left) {
  if (texture.getNativeHandle() == 0) return;
  const auto& io = ImGui::GetIO();
  const float room = std::max(1.0F, io.DisplaySize.x - left), height = std::max(1.0F, io.DisplaySize.y);
  const auto size = texture.getSize();
  const float scale = std::max(room / static_cast<float>(size.x), height / static_cast<float>(size.y));
  const float half_w = scale * static_cast<float>(size.x) / 2,
              half_h = scale * static_cast<float>(size.y) / 2;
  const float x = left + room / 2, y = height / 2;
  const auto id = static_cast<std::uintptr_t>(texture.getNativeHandle());
  auto* list = ImGui::GetBackgroundDrawList();
  list->PushClipRect({left, 0}, io.DisplaySize);
  list->AddImage(reinterpret_cast<ImTextureID>(id), {x - half_w, y - half_h}, {x + half_w, y + half_h});
  list->PopClipRect();
}

void draw_panels(Session& session) {
  switch (session.screen) {
    case Screen::start:
      draw_start_card(session);
      return;
    case Screen::driving:
      draw_dial(session);
      draw_foot(session);
      draw_log_list(session);
      draw_code_menu(session);
      break;
    case Screen::judging:
      draw_judging(session);
      break;
    case Screen::review:
      draw_review(session);
      break;
  }
  draw_long_section(session);
  draw_help(session);
}

void open_window(sf::RenderWindow& window, const Options& options, const std::string& title,
                 bool full_screen) {
  const sf::ContextSettings context(0, 0, 0, 2, 1);
  if (full_screen) {
    window.create(sf::VideoMode::getDesktopMode(), title, sf::Style::Fullscreen, context);
  } else {
    window.create(sf::VideoMode(static_cast<unsigned>(options.width), static_cast<unsigned>(options.height)),
                  title, sf::Style::Default, context);
  }
  if (!window.isOpen()) throw std::runtime_error("The window could not be opened.");
  if (const ScreenSize screen = screen_size(); screen.width > 0 && !full_screen) {
    // SFML centres by a size that is wrong on some displays (a virtual one among them).
    window.setPosition(
        {std::max(0, (screen.width - options.width) / 2), std::max(0, (screen.height - options.height) / 2)});
  }
  window.setKeyRepeatEnabled(true);  // for editing the line; driving ignores repeats
  window.setFramerateLimit(60);
}

}  // namespace

Size picture_size(int window_width, int window_height) {
  const double width = std::max(window_width, 1), height = std::max(window_height, 1);
  const double scale = std::min({1.0, most_picture_width / width, most_picture_height / height});
  return {std::max(16, static_cast<int>(std::lround(width * scale))),
          std::max(16, static_cast<int>(std::lround(height * scale)))};
}

void run(scene::Scene scene, const Options& options) {
  const std::string title = scene.scenario.title + " - Haunch";
  Settings settings = read_settings(settings_file());
  if (options.unit) settings.unit = *options.unit;
  Keeper keeper(options.trainee);
  Session session(
      std::move(scene), settings, [&](const play::Exercise& exercise) { return keeper.keep(exercise); },
      [&](const play::Exercise& exercise) { keeper.journal(exercise); });
  if (options.log) session.replay(*options.log);
  session.replay_speed = options.replay_speed;

  sf::RenderWindow window;
  open_window(window, options, title, false);
  Glue glue(window, settings);
  Picture picture(session.exercise().scene(), options.threads);
  Picture::Image image;
  sf::Texture texture;
  texture.setSmooth(true);
  Settings written = settings;
  bool full_screen = false;
  sf::Clock clock;
  while (window.isOpen()) {
    sf::Event event{};
    while (window.pollEvent(event)) {
      if (event.type == sf::Event::Closed)
        window.close();
      else
        glue.event(event, session);
    }
    if (session.quit_wanted) window.close();
    if (!window.isOpen()) break;
    const float seconds = clock.restart().asSeconds();
    session.tick(seconds);

    if (picture.take(image)) {
      const sf::Vector2u wanted(static_cast<unsigned>(image.width), static_cast<unsigned>(image.height));
      if (texture.getSize() != wanted && !texture.create(wanted.x, wanted.y)) {
        throw std::runtime_error("The graphics driver cannot hold the picture.");
      }
      texture.update(image.rgba.data());
    }

    glue.begin_frame(session.settings, seconds);
    const float left = picture_left(session);
    const auto& io = ImGui::GetIO();
    const Size size =
        picture_size(static_cast<int>(io.DisplaySize.x - left), static_cast<int>(io.DisplaySize.y));
    picture.want(session.look(), size.width, size.height);
    draw_picture(texture, left);
    draw_panels(session);
    window.clear();
    glue.draw();
    window.display();

    if (session.full_screen_wanted != full_screen) {
      full_screen = session.full_screen_wanted;
      open_window(window, options, title, full_screen);
    }
    if (!(session.settings == written)) {
      write_settings(settings_file(),
                     session.settings);  // a setting that cannot be kept is no reason to stop
      written = session.settings;
    }
  }
}

}  // namespace haunch::window
