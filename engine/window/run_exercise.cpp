// SPDX-License-Identifier: Apache-2.0
#include "window/run_exercise.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/files.hpp"
#include "base/words.hpp"
#include "render/frame.hpp"
#include "window/keeping.hpp"
#include "window/language.hpp"
#include "window/latency.hpp"
#include "window/look.hpp"
#include "window/looking_back.hpp"
#include "window/picture.hpp"
#include "window/quality.hpp"

namespace haunch::window {
namespace {

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

constexpr float often_s = 1.0F / 75;

/// What it takes to have one run on the screen.
class OnScreen {
 public:
  OnScreen(Stage& stage, scene::Scene scene, const Options& options, std::string& who);
  After run();

 private:
  void connect();
  void want_picture();
  void look_back();
  void draw(bool fresh);
  CarefulLook& careful_now();

  Stage& stage_;
  std::string& who_;
  Settings settings_;
  Keeper keeper_;
  Session session_;
  Picture picture_;
  Picture::Image image_;
  std::optional<LookingBack> looking_back_;
  std::optional<CarefulLook> careful_;
  PictureTexture texture_;
  Settings written_;
  Quality quality_;
  Size size_;
  std::optional<sf::Clock> wished_;  ///< for a picture while it moves
  Latency latency_;
};

Settings settings_at_first(const std::string& who, const Options& options) {
  Settings settings = settings_of(who);
  if (options.unit) settings.unit = *options.unit;
  return settings;
}

OnScreen::OnScreen(Stage& stage, scene::Scene scene, const Options& options, std::string& who)
    : stage_(stage),
      who_(who),
      settings_(settings_at_first(who, options)),
      keeper_(who),
      session_(
          std::move(scene), settings_,
          [this](const play::Exercise& exercise) { return keeper_.keep(exercise); },
          [this](const play::Exercise& exercise) { keeper_.journal(exercise); }),
      picture_(session_.exercise().scene(), options.threads),
      written_(settings_) {
  speak(settings_.language);
  if (options.log) session_.replay(*options.log);
  session_.mode = options.mode;
  session_.replay_speed = options.replay_speed;
  session_.full_screen_wanted = stage.is_full_screen();
  session_.asking_name = who.empty() && !options.log;
  if (!who.empty() && !options.log)
    session_.unfinished = keeper_.unfinished(session_.exercise().scene().scenario.hash);
  keeper_.belongs_to(options.sitting);
  connect();
}

void OnScreen::connect() {
  session_.who = who_;
  if (!who_.empty()) remember_person(who_);
  session_.on_name = [this](const std::string& name) {
    who_ = name;
    keeper_.kept_under(name);
    remember_person(name);
    session_.settings = settings_of(name);
    speak(session_.settings.language);
  };
  session_.on_unfinished = [this](bool taken_up) {
    if (taken_up)
      keeper_.take_up(*session_.unfinished);
    else
      Keeper::put_aside(*session_.unfinished);
  };
  session_.careful_look = [this] { return careful_now().take(); };
  session_.careful_look_ready = [this] { return careful_now().ready(); };
}

/// A replay may judge, go back and finish between two pictures.
CarefulLook& OnScreen::careful_now() {
  if (!careful_ || !careful_->is_for(session_.exercise())) careful_.emplace(session_.exercise());
  return *careful_;
}

void OnScreen::want_picture() {
  const double share =
      quality_.share(static_cast<long>(size_.width) * size_.height,
                     session_.moving() && !session_.picture_wanted, session_.settings.picture);
  picture_.want(session_.look(), static_cast<int>(std::lround(share * size_.width)),
                static_cast<int>(std::lround(share * size_.height)));
}

void OnScreen::look_back() {
  if (session_.screen == Screen::judging) careful_now();
  if (session_.screen == Screen::driving) careful_.reset();
  if (session_.screen == Screen::review && !looking_back_) {
    looking_back_.emplace(session_.exercise());
    session_.looking_back = true;
  }
  if (looking_back_ && session_.looking_back && looking_back_->done()) {
    if (auto found = looking_back_->take()) session_.was_in_view(std::move(*found));
    session_.looking_back = false;
    stage_.pace.stir();
  }
}

void OnScreen::draw(bool fresh) {
  stage_.begin_frame(session_.settings);
  const float left = picture_left(session_);
  const auto& io = ImGui::GetIO();
  // Beside a panel the room is tall; a tall picture would show the dark rim of the lens.
  const float wide = std::max(io.DisplaySize.x - left, io.DisplaySize.y * 4 / 3);
  size_ = picture_size(static_cast<int>(wide), static_cast<int>(io.DisplaySize.y));
  want_picture();
  // Kept whole: one that was drawn smaller to keep up is waited past.
  if (image_.width == size_.width && session_.picture_wanted) {
    keep_image(image_, keeper_.picture_file(*session_.picture_wanted), session_);
    session_.picture_wanted.reset();
  }
  if (image_.width > 0) draw_picture(texture_.id(), image_, left, lines_on_wall(session_, image_));
  drag_picture(session_);
  draw_panels(session_);
  stage_.end_frame();
  latency_.shown(fresh, image_.look.time_s);
}

After OnScreen::run() {
  stage_.seconds();
  while (stage_.open()) {
    stage_.pump(session_, [this](const sf::Event& event) {
      if (event.type == sf::Event::KeyPressed)
        latency_.key(session_.look().time_s, event.key.code == sf::Keyboard::Up && !session_.moving());
    });
    if (session_.quit_wanted || !stage_.open()) break;
    if (session_.start_page_wanted) return After::start_page;
    session_.tick(stage_.seconds());
    look_back();

    const bool fresh = picture_.take(image_);
    if (session_.moving() || stage_.glue().busy()) stage_.pace.stir();
    // Before the screen is drawn, so that the drawing of what moves never waits for it; at once when it sets
    // off, then no oftener than a screen shows.
    if (!session_.moving()) wished_.reset();
    if (session_.moving() && size_.width > 0 &&
        (!wished_ || wished_->getElapsedTime().asSeconds() >= often_s)) {
      wished_.emplace();
      want_picture();
    }
    if (!fresh && !stage_.pace.due(session_.moving())) {
      Pace::rest();
      continue;
    }
    if (fresh) {
      quality_.drawn(static_cast<long>(image_.width) * image_.height, image_.seconds);
      texture_.update(image_);
    }
    draw(fresh);
    stage_.full_screen(session_.full_screen_wanted);
    if (!(session_.settings == written_)) {
      // A setting that cannot be kept is no reason to stop.
      write_settings(settings_file(session_.who), session_.settings);
      written_ = session_.settings;
    }
  }
  return After::leave;
}

}  // namespace

After run_exercise(Stage& stage, scene::Scene scene, const Options& options, std::string& who) {
  stage.title(scene.scenario.title + " - Haunch");
  return OnScreen(stage, std::move(scene), options, who).run();
}

}  // namespace haunch::window
