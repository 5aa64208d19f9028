// SPDX-License-Identifier: Apache-2.0
// The main loop: events, time, picture, panels. SFML's events go to Dear ImGui and to the session, and
// ImGui draws on SFML's window.
#include "window/window.hpp"

#include <backends/imgui_impl_opengl2.h>
#include <imgui.h>

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/Graphics/Texture.hpp>
#include <SFML/System/Clock.hpp>
#include <SFML/System/Err.hpp>
#include <SFML/System/Sleep.hpp>
#include <SFML/System/String.hpp>
#include <SFML/Window/Clipboard.hpp>
#include <SFML/Window/Event.hpp>
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <set>
#include <sstream>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "render/frame.hpp"
#include "window/keeping.hpp"
#include "window/language.hpp"
#include "window/look.hpp"
#include "window/looking_back.hpp"
#include "window/picture.hpp"
#include "window/quality.hpp"

namespace haunch::window {
namespace {

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
    case sf::Event::JoystickMoved: {
      using Axis = sf::Joystick::Axis;
      if (event.joystickMove.axis != Axis::Y && event.joystickMove.axis != Axis::PovY) return;
      // A stick pushed away counts down, a cross pressed up counts up.
      const float up =
          event.joystickMove.axis == Axis::Y ? -event.joystickMove.position : event.joystickMove.position;
      constexpr float pushed = 40;
      return session.hold(up > pushed ? 1 : up < -pushed ? -1 : 0);
    }
    case sf::Event::JoystickButtonPressed:
      if (const auto wanted = command_for_pad(event.joystickButton.button)) session.command(*wanted);
      return;
    case sf::Event::JoystickButtonReleased:
      return session.plumb_set();
    case sf::Event::LostFocus:
      held_.clear();
      return session.release_all();
    case sf::Event::KeyReleased:
      // A held key is repeated as let go and pressed again, and where the machine is busy the two come apart
      // and the first looks like a real one. The keyboard itself knows.
      if (held_.contains(event.key.code) && sf::Keyboard::isKeyPressed(event.key.code)) return;
      held_.erase(event.key.code);
      return session.release(key_from(event.key.code));
    case sf::Event::KeyPressed: {
      ctrl_ = event.key.control;
      // A key without a name shares its number with others.
      repeated_ = event.key.code != sf::Keyboard::Unknown && !held_.insert(event.key.code).second;
      const Press press{key_from(event.key.code), event.key.control, event.key.shift};
      if (press.key == Key::none) return;
      if (command_for(press) == Command::paste) {
        if (repeated_) return;
        const auto text = sf::Clipboard::getString().toUtf8();
        return session.paste(std::string(text.begin(), text.end()));
      }
      return session.press(press, repeated_);
    }
    case sf::Event::TextEntered: {
      const auto code = event.text.unicode;
      if (code < 0x20 || code == 0x7F || ctrl_) return;
      const auto utf8 = sf::String(static_cast<sf::Uint32>(code)).toUtf8();
      return session.type(std::string(utf8.begin(), utf8.end()), repeated_);
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

void draw_panels(Session& session) {
  switch (session.screen) {
    case Screen::start:
      draw_start_card(session);
      return;
    case Screen::driving:
      session.narrow = ImGui::GetIO().DisplaySize.x < em(26 + 18 + 1.8F);  // their widths and margins
      draw_dial(session);
      draw_coach(session);
      draw_foot(session);
      draw_log_list(session);
      draw_code_menu(session);
      draw_guide(session);
      break;
    case Screen::judging:
      draw_judging(session);
      draw_coach(session);
      break;
    case Screen::review:
      draw_review(session);
      break;
  }
  draw_long_section(session);
  draw_help(session);
}

/// The counter's ring; in the review the hours of the chosen find: solid what is there, dashed what was
/// logged, a little nearer.
WallLines lines_on_wall(const Session& session, const Picture::Image& image) {
  const scene::Scene& scene = session.exercise().scene();
  WallLines lines{ring_in_picture(scene, image.look, image.width, image.height), {}};
  if (session.screen != Screen::review || session.item() < 0) return lines;
  const ReviewItem& item = session.items()[static_cast<std::size_t>(session.item())];
  const double nearer = -0.12 * scene::travel(scene.scenario) * scene::radius_at(scene, item.clock_z_m);
  const auto add = [&](const std::optional<base::ClockArc>& hours, double z_m, bool dashed) {
    if (!hours) return;
    for (auto& stroke :
         hours_in_picture(scene, image.look.pose, image.width, image.height, z_m, *hours, dashed))
      lines.hours.push_back(std::move(stroke));
  };
  add(item.clock_there, item.clock_z_m, false);
  add(item.clock_given, item.clock_z_m + nearer, true);
  return lines;
}

/// The right button on the picture turns the head: what is dragged comes along, as a hand would pull it.
void drag_picture(Session& session) {
  const auto& io = ImGui::GetIO();
  if (session.screen != Screen::driving || !io.MouseDown[1] || ImGui::IsAnyItemActive()) return;
  if (io.MouseDelta.x == 0 && io.MouseDelta.y == 0) return;
  const double deg_a_pixel = session.look().pose.field_deg / std::max(1.0F, io.DisplaySize.x);
  session.turn_by(-deg_a_pixel * io.MouseDelta.x, deg_a_pixel * io.MouseDelta.y);
}

/// The picture as a file; that it could not be written is said.
void keep_image(const Picture::Image& image, const std::filesystem::path& file, Session& session) {
  render::Frame frame;
  frame.width = image.width;
  frame.height = image.height;
  frame.rgb.resize(image.rgba.size() / 4 * 3);
  for (std::size_t i = 0; i < image.rgba.size() / 4; ++i)
    for (std::size_t c = 0; c < 3; ++c) frame.rgb[3 * i + c] = image.rgba[4 * i + c];
  std::error_code none;
  std::filesystem::create_directories(file.parent_path(), none);
  const base::Problems problems = base::write_file(file, render::colour_png(frame), base::Overwrite::yes);
  if (!problems.empty()) session.say(tr("The picture could not be kept: {0}", {problems.front().what}), 8);
}

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

/// For the bench: how long it takes from a key to the next screen, and to the first picture that was wished
/// for after it. Written where HAUNCH_LATENCY names a file; else it does nothing.
class Latency {
 public:
  Latency() {
    if (const char* file = std::getenv("HAUNCH_LATENCY")) out_.open(file);
  }
  /// `drives`: it sets the camera going, so that another picture has to follow.
  void key(double exercise_s, bool drives) {
    if (!out_.is_open()) return;
    if (!screen_since_) screen_since_ = Clock::now();
    if (drives && !picture_since_) picture_since_ = Clock::now(), wished_after_s_ = exercise_s;
  }
  void shown(bool fresh, double picture_of_s) {
    if (!out_.is_open()) return;
    tell("screen", screen_since_);
    if (fresh && picture_of_s > wished_after_s_) tell("picture", picture_since_);
  }

 private:
  using Clock = std::chrono::steady_clock;
  void tell(const char* what, std::optional<Clock::time_point>& since) {
    if (since)
      out_ << what << ' ' << std::chrono::duration<double>(Clock::now() - *since).count() << std::endl;
    since.reset();
  }
  std::ofstream out_;
  std::optional<Clock::time_point> screen_since_, picture_since_;
  double wished_after_s_ = 0;
};

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

void run(scene::Scene scene, const Options& options) {
  const std::string title = scene.scenario.title + " - Haunch";
  const std::string who = options.trainee.empty() ? last_person() : options.trainee;
  Settings settings = settings_of(who);
  if (options.unit) settings.unit = *options.unit;
  speak(settings.language);
  Keeper keeper(who);
  Session session(
      std::move(scene), settings, [&](const play::Exercise& exercise) { return keeper.keep(exercise); },
      [&](const play::Exercise& exercise) { keeper.journal(exercise); });
  if (options.log) session.replay(*options.log);
  session.mode = options.mode;
  session.who = who;
  session.asking_name = who.empty() && !options.log;
  if (!who.empty()) remember_person(who);
  session.on_name = [&](const std::string& name) {
    keeper.kept_under(name);
    remember_person(name);
    session.settings = settings_of(name);
    speak(session.settings.language);
  };
  if (!who.empty() && !options.log)
    session.unfinished = keeper.unfinished(session.exercise().scene().scenario.hash);
  session.on_unfinished = [&](bool taken_up) {
    if (taken_up)
      keeper.take_up(*session.unfinished);
    else
      Keeper::put_aside(*session.unfinished);
  };
  session.replay_speed = options.replay_speed;

  sf::RenderWindow window;
  open_window(window, options, title, false);
  Glue glue(window, settings);
  Picture picture(session.exercise().scene(), options.threads);
  Picture::Image image;
  std::optional<LookingBack> looking_back;
  std::optional<CarefulLook> careful;
  // A replay may judge, go back and finish between two pictures.
  const auto careful_now = [&]() -> CarefulLook& {
    if (!careful || !careful->is_for(session.exercise())) careful.emplace(session.exercise());
    return *careful;
  };
  session.careful_look = [&] { return careful_now().take(); };
  session.careful_look_ready = [&] { return careful_now().ready(); };
  sf::Texture texture;
  texture.setSmooth(true);
  Settings written = settings;
  Quality quality;
  bool full_screen = false;
  sf::Clock clock;
  float since_drawn_s = 0;
  Size size;
  const auto want_picture = [&] {
    const double share = quality.share(static_cast<long>(size.width) * size.height,
                                       session.moving() && !session.picture_wanted, session.settings.picture);
    picture.want(session.look(), static_cast<int>(std::lround(share * size.width)),
                 static_cast<int>(std::lround(share * size.height)));
  };
  Pace pace;
  Latency latency;
  while (window.isOpen()) {
    sf::Event event{};
    while (window.pollEvent(event)) {
      pace.stir();
      if (event.type == sf::Event::KeyPressed)
        latency.key(session.exercise().time_s(), event.key.code == sf::Keyboard::Up && !session.moving());
      if (event.type == sf::Event::Closed)
        window.close();
      else
        glue.event(event, session);
    }
    if (session.quit_wanted) window.close();
    if (!window.isOpen()) break;
    const float seconds = clock.restart().asSeconds();
    session.tick(seconds);
    since_drawn_s += seconds;

    if (session.screen == Screen::judging) careful_now();
    if (session.screen == Screen::driving) careful.reset();
    if (session.screen == Screen::review && !looking_back) {
      looking_back.emplace(session.exercise());
      session.looking_back = true;
    }
    if (looking_back && session.looking_back && looking_back->done()) {
      if (auto found = looking_back->take()) session.was_in_view(std::move(*found));
      session.looking_back = false;
      pace.stir();
    }
    const bool fresh = picture.take(image);
    if (session.moving() || glue.busy()) pace.stir();
    // Before the screen is drawn, so that the drawing of what moves never waits for it.
    if (session.moving() && size.width > 0) want_picture();
    if (!fresh && !pace.due(session.moving())) {
      Pace::rest();
      continue;
    }
    if (fresh) {
      quality.drawn(static_cast<long>(image.width) * image.height, image.seconds);
      const sf::Vector2u wanted(static_cast<unsigned>(image.width), static_cast<unsigned>(image.height));
      if (texture.getSize() != wanted && !texture.create(wanted.x, wanted.y)) {
        throw std::runtime_error("The graphics driver cannot hold the picture.");
      }
      texture.update(image.rgba.data());
    }

    pace.drawn();  // counted from its beginning, or drawing itself would be added to the wait
    glue.begin_frame(session.settings, since_drawn_s);
    since_drawn_s = 0;
    const float left = picture_left(session);
    const auto& io = ImGui::GetIO();
    // Beside a panel the room is tall; a tall picture would show the dark rim of the lens.
    const float wide = std::max(io.DisplaySize.x - left, io.DisplaySize.y * 4 / 3);
    size = picture_size(static_cast<int>(wide), static_cast<int>(io.DisplaySize.y));
    want_picture();
    // Kept whole: one that was drawn smaller to keep up is waited past.
    if (image.width == size.width && session.picture_wanted) {
      keep_image(image, keeper.picture_file(*session.picture_wanted), session);
      session.picture_wanted.reset();
    }
    if (image.width > 0) {
      const auto id = static_cast<std::uintptr_t>(texture.getNativeHandle());
      draw_picture(reinterpret_cast<ImTextureID>(id), image, left, lines_on_wall(session, image));
    }
    drag_picture(session);
    draw_panels(session);
    window.clear();
    glue.draw();
    window.display();
    latency.shown(fresh, image.look.time_s);

    if (session.full_screen_wanted != full_screen) {
      full_screen = session.full_screen_wanted;
      open_window(window, options, title, full_screen);
    }
    if (!(session.settings == written)) {
      write_settings(settings_file(session.who),
                     session.settings);  // a setting that cannot be kept is no reason to stop
      written = session.settings;
    }
  }
}

}  // namespace haunch::window
