// SPDX-License-Identifier: Apache-2.0
#include "window/home_screen.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <future>

#include "base/files.hpp"
#include "scenario/read.hpp"
#include "scene/camera.hpp"
#include "window/card.hpp"
#include "window/stage.hpp"

namespace haunch::window {

/// A pipe to look into while one chooses. Made beside the page: it never holds it up, and a page without it
/// is as good.
struct HomeScreen::Backdrop {
  struct Made {
    scene::Scene scene;
    std::unique_ptr<Picture> picture;
  };
  explicit Backdrop(int threads) {
    coming = std::async(std::launch::async, [threads]() -> std::unique_ptr<Made> {
      auto scenario = scenario::read_scenario(base::content_dir() / "scenarios" / "first-drive.json");
      if (!scenario) return nullptr;
      auto fresh = std::make_unique<Made>();
      fresh->scene = scene::build_scene(std::move(scenario).value());
      fresh->picture = std::make_unique<Picture>(fresh->scene, threads);
      return fresh;
    });
  }
  Picture* ready() {
    if (coming.valid() && coming.wait_for(std::chrono::seconds(0)) == std::future_status::ready)
      made = coming.get();
    return made ? made->picture.get() : nullptr;
  }
  std::future<std::unique_ptr<Made>> coming;
  std::unique_ptr<Made> made;
  Picture::Image image;
  std::unique_ptr<PictureTexture> texture;
};

namespace {

constexpr double stands_at_m = 1.9;  // a connection and clean joints ahead
constexpr float dimmed = 0.25F;      // so that the page is what is looked at first

void shade(float share) {
  const auto& io = ImGui::GetIO();
  ImVec4 dark = ImGui::ColorConvertU32ToFloat4(palette().ground);
  dark.w = share;
  ImGui::GetBackgroundDrawList()->AddRectFilled({0, 0}, io.DisplaySize, ImGui::ColorConvertFloat4ToU32(dark));
}

float page_width() {
  const float whole = ImGui::GetIO().DisplaySize.x;
  return std::min(whole - em(1.2F), std::max(em(30), whole * 0.5F));
}

/// What the pipe has to itself; nothing where the page takes the window.
float page_left() {
  const float whole = ImGui::GetIO().DisplaySize.x, left = page_width() + em(1.2F);
  return whole - left < 0.2F * whole ? 0 : left;
}

/// One line of the list: all of it can be clicked.
void row_line(Home& home, int index, bool moved) {
  const HomeRow& row = home.row_at(index);
  const auto& p = palette();
  const bool on = home.row() == index;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, pad = em(0.5F);
  auto& list = *ImGui::GetWindowDrawList();
  list.ChannelsSplit(2);
  list.ChannelsSetCurrent(1);
  ImGui::BeginGroup();
  ImGui::Dummy({0, em(0.1F)});
  ImGui::Indent(pad);
  text_in(type().strong, p.ink, row.title);
  if (on && !row.words.empty()) text_in(type().text, p.soft_ink, row.words);
  if (!row.state.empty()) text_in(type().text, on ? p.accent : p.faint_ink, row.state);
  ImGui::Unindent(pad);
  ImGui::Dummy({0, em(0.1F)});
  ImGui::EndGroup();
  const float height = ImGui::GetItemRectSize().y;
  list.ChannelsSetCurrent(0);
  if (on) {
    list.AddRectFilled(at, {at.x + width, at.y + height}, p.field, em(0.3F));
    list.AddRectFilled(at, {at.x + em(0.18F), at.y + height}, p.accent);
  }
  list.ChannelsMerge();
  if (on && moved) ImGui::SetScrollHereY(0.5F);
  const ImVec2 after = ImGui::GetCursorScreenPos();
  ImGui::SetCursorScreenPos(at);
  ImGui::PushID(index);
  if (ImGui::InvisibleButton("row", {width, height})) {
    home.choose(index);
    home.take();
  }
  if (ImGui::IsItemHovered() && !on) list.AddRect(at, {at.x + width, at.y + height}, p.rule, em(0.3F));
  ImGui::PopID();
  ImGui::SetCursorScreenPos(after);
}

void name_line(Home& home) {
  const auto& p = palette();
  if (!home.asking_name) {
    ImGui::AlignTextToFramePadding();
    text_in(type().text, p.soft_ink, tr("Scores are kept under {0}.", {home.who}), false);
    ImGui::SameLine();
    if (quiet_button(tr("Somebody else"), tr("asks for another name or code"))) {
      home.asking_name = true;
      home.name.set("");
    }
    return;
  }
  text_in(type().strong, p.ink, tr("Your name, or a code such as coder-07"));
  typed_field(home.name.text, 16);
  ImGui::SameLine();
  if (quiet_button(tr("That is me"), "Enter")) home.name_given();
  text_in(type().text, p.soft_ink, tr("Scores are kept under it on this machine, and nowhere else."));
}

void settings_line(Home& home) {
  const auto& now = home.settings;
  const struct {
    std::string label;
    Command command;
    bool on;
  } controls[] = {{tr("Text smaller"), Command::smaller, false},
                  {tr("Text larger"), Command::larger, false},
                  {tr("Strong contrast"), Command::contrast, now.strong_contrast},
                  {tr("Feet"), Command::units, now.unit == base::LengthUnit::feet},
                  {tr("Whole screen"), Command::full_screen, home.full_screen_wanted},
                  {tr("Leave the program"), Command::quit, false}};
  for (const auto& one : controls) {
    if (&one != controls) beside_if_it_fits(one.label);
    if (quiet_button(one.label, key_of(one.command), one.on)) home.command(one.command);
  }
}

void draw_home(Home& home, bool moved, const std::string& said) {
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float width = page_width();
  ImGui::SetNextWindowPos({em(0.6F), em(0.6F)});
  ImGui::SetNextWindowSize({width, io.DisplaySize.y - em(1.2F)});
  if (ImGui::Begin("home", nullptr, card)) {
    text_in(type().large, p.ink, "Haunch", false);
    name_line(home);
    for (const std::string& words : {home.message(), said})
      if (!words.empty()) text_in(type().strong, p.accent, words);
    static float foot = 0;  // as high as it came out last time, however many lines its buttons take
    ImGui::BeginChild("rows", {0, -std::max(foot, em(2.6F))});
    int index = 0;
    for (const HomeSection& section : home.sections()) {
      ImGui::Dummy({0, em(0.3F)});
      text_in(type().text, p.faint_ink, section.title);
      for (std::size_t i = 0; i < section.rows.size(); ++i) row_line(home, index++, moved);
    }
    ImGui::EndChild();
    const float foot_from = ImGui::GetCursorPosY();
    ImGui::Separator();
    if (filled_button(tr("Open   Enter"))) home.asking_name ? home.name_given() : home.take();
    settings_line(home);
    foot = ImGui::GetCursorPosY() - foot_from + ImGui::GetStyle().ItemSpacing.y;
  }
  ImGui::End();
}

}  // namespace

HomeScreen::HomeScreen(Stage& stage, int threads)
    : stage_(stage), backdrop_(std::make_unique<Backdrop>(threads)) {
  backdrop_->texture = std::make_unique<PictureTexture>();
}
HomeScreen::~HomeScreen() = default;

Chosen HomeScreen::choose(std::string& who, const std::string& said) {
  stage_.title("Haunch");
  Home home(who, settings_of(who));
  home.on_name = [&](const std::string& name) {
    who = name;
    remember_person(name);
    home.settings = settings_of(name);
    speak(home.settings.language);
  };
  home.full_screen_wanted = stage_.is_full_screen();
  Settings written = home.settings;
  int shown_row = -1;
  while (stage_.open()) {
    stage_.pump(home);
    if (home.chosen) return *home.chosen;
    if (stage_.glue().busy()) stage_.pace.stir();
    bool fresh = false;
    if (Picture* picture = backdrop_->ready()) {
      const auto& io = ImGui::GetIO();
      const float wide = std::max(io.DisplaySize.x - page_left(), io.DisplaySize.y * 4 / 3);
      const Size size = picture_size(static_cast<int>(wide), static_cast<int>(io.DisplaySize.y));
      Look look;
      look.pose = scene::pose_at(backdrop_->made->scene, stands_at_m);
      if (size.width > 16) picture->want(look, size.width, size.height);
      fresh = picture->take(backdrop_->image);
    }
    if (!fresh && !stage_.pace.due(false)) {
      Pace::rest();
      continue;
    }
    if (fresh) backdrop_->texture->update(backdrop_->image);
    stage_.begin_frame(home.settings);
    if (backdrop_->image.width > 0) draw_picture(backdrop_->texture->id(), backdrop_->image, page_left(), {});
    shade(dimmed);
    draw_home(home, shown_row != home.row(), said);
    shown_row = home.row();
    stage_.end_frame();
    stage_.full_screen(home.full_screen_wanted);
    if (!(home.settings == written)) {
      write_settings(settings_file(who), home.settings);
      written = home.settings;
    }
  }
  return Leave{};
}

}  // namespace haunch::window
