// SPDX-License-Identifier: Apache-2.0
#include "window/home_screen.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <future>

#include "base/files.hpp"
#include "guide/plates.hpp"
#include "scenario/read.hpp"
#include "scene/camera.hpp"
#include "window/card.hpp"
#include "window/stage.hpp"

namespace haunch::window {

namespace {
constexpr double stands_at_m = 1.9;  // a connection and clean joints ahead
}

/// What is shown beside the page: a pipe to look into while one chooses, or the picture that a lesson speaks
/// of. Made beside the page: it never holds it up, and a page without it is as good.
struct HomeScreen::Backdrop {
  struct Made {
    scene::Scene scene;
    scene::CameraPose pose;
    std::unique_ptr<Picture> picture;
  };
  using Wanted = std::optional<courses::LessonPicture>;

  static std::unique_ptr<Made> make(const Wanted& wanted, int threads) {
    auto fresh = std::make_unique<Made>();
    if (wanted) {
      auto plate = guide::read_plate(guide::shipped_plates(), wanted->code, wanted->material);
      if (!plate) return nullptr;
      fresh->scene = std::move(plate->scene);
      fresh->pose = plate->pose;
    } else {
      auto scenario = scenario::read_scenario(base::content_dir() / "scenarios" / "first-drive.json");
      if (!scenario) return nullptr;
      fresh->scene = scene::build_scene(std::move(scenario).value());
      fresh->pose = scene::pose_at(fresh->scene, stands_at_m);
    }
    fresh->picture = std::make_unique<Picture>(fresh->scene, threads);
    return fresh;
  }
  /// The newest that is there; begins another where another is wanted.
  Made* ready(const Wanted& wanted, int threads) {
    if (coming.valid() && coming.wait_for(std::chrono::seconds(0)) == std::future_status::ready) {
      if (auto fresh = coming.get()) {
        made = std::move(fresh);
        shown = begun;
      }
    }
    if (!coming.valid() && (!begun_once || begun != wanted)) {
      begun = wanted;
      begun_once = true;
      coming = std::async(std::launch::async, [wanted, threads] { return make(wanted, threads); });
    }
    return made.get();
  }
  std::future<std::unique_ptr<Made>> coming;
  std::unique_ptr<Made> made;
  Wanted begun, shown;
  bool begun_once = false;
  Picture::Image image;
  std::unique_ptr<PictureTexture> texture = std::make_unique<PictureTexture>();
};

namespace {

constexpr float dimmed = 0.25F;  // so that the page is what is looked at first

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
  const bool open = row.why_not.empty();
  text_in(type().strong, open ? p.ink : p.faint_ink, row.title);
  if (on && !row.words.empty()) text_in(type().text, p.soft_ink, row.words);
  const std::string state = open ? row.state : row.why_not;
  if (!state.empty()) text_in(type().text, on ? p.accent : row.done ? p.soft_ink : p.faint_ink, state);
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

/// Title and, behind the start page, the way back.
void head_part(Home& home) {
  const auto& p = palette();
  if (home.page().kind == Page::Kind::start) {
    text_in(type().large, p.ink, "Haunch", false);
    name_line(home);
    return;
  }
  if (quiet_button(tr("Back"), "Esc")) home.back();
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  text_in(type().strong, p.ink, home.shown().title, false);
}

void rows_part(Home& home, bool moved) {
  const auto& p = palette();
  for (const std::string& words : home.shown().text) text_in(type().text, p.ink, words);
  int index = 0;
  // A copy: taking a row makes the page anew.
  const auto sections = home.shown().sections;
  const Page page = home.page();
  for (const HomeSection& section : sections) {
    ImGui::Dummy({0, em(0.3F)});
    text_in(type().text, p.faint_ink, section.title);
    for (std::size_t i = 0; i < section.rows.size(); ++i) {
      row_line(home, index++, moved);
      if (!(home.page() == page) || home.rows() < index) return;
    }
  }
}

void draw_home(Home& home, bool moved, const std::string& said) {
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float width = page_width();
  ImGui::SetNextWindowPos({em(0.6F), em(0.6F)});
  ImGui::SetNextWindowSize({width, io.DisplaySize.y - em(1.2F)});
  if (ImGui::Begin("home", nullptr, card)) {
    head_part(home);
    for (const std::string& words : {home.message(), said})
      if (!words.empty()) text_in(type().strong, p.accent, words);
    static float foot = 0;  // as high as it came out last time, however many lines its buttons take
    ImGui::PushID(static_cast<int>(home.page().kind));
    ImGui::BeginChild("rows", {0, -std::max(foot, em(2.6F))});
    rows_part(home, moved);
    ImGui::EndChild();
    ImGui::PopID();
    const float foot_from = ImGui::GetCursorPosY();
    ImGui::Separator();
    if (filled_button(tr("Open   Enter"))) home.asking_name ? home.name_given() : home.take();
    ImGui::SameLine();
    if (ImGui::Button(tr("Settings   F1").c_str(), {0, em(2)})) home.command(Command::help);
    if (home.settings_open) settings_line(home);
    foot = ImGui::GetCursorPosY() - foot_from + ImGui::GetStyle().ItemSpacing.y;
  }
  ImGui::End();
}

/// What to see in the picture beside a lesson.
void caption(const courses::LessonPicture& picture) {
  const auto& io = ImGui::GetIO();
  const float left = page_left();
  if (left <= 0) return;
  ImGui::SetNextWindowPos({left + em(0.6F), io.DisplaySize.y - em(0.6F)}, ImGuiCond_Always, {0, 1});
  const float width = std::min(em(28), io.DisplaySize.x - left - em(1.2F));
  ImGui::SetNextWindowSizeConstraints({width, 0}, {width, em(14)});
  if (ImGui::Begin("caption", nullptr,
                   card | ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoInputs)) {
    text_in(type().strong, palette().ink, picture.code, false);
    text_in(type().text, palette().ink, picture.words);
  }
  ImGui::End();
}

}  // namespace

HomeScreen::HomeScreen(Stage& stage, int threads)
    : stage_(stage), threads_(threads), backdrop_(std::make_unique<Backdrop>()) {}
HomeScreen::~HomeScreen() = default;

Chosen HomeScreen::choose(std::string& who, const std::string& said) {
  stage_.title("Haunch");
  Home home(who, settings_of(who), page_);
  home.choose(row_);
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
    page_ = home.page();
    row_ = home.row();
    if (home.chosen) return *home.chosen;
    if (stage_.glue().busy()) stage_.pace.stir();
    bool fresh = false;
    if (auto* made = backdrop_->ready(home.picture(), threads_)) {
      const auto& io = ImGui::GetIO();
      const float wide = std::max(io.DisplaySize.x - page_left(), io.DisplaySize.y * 4 / 3);
      const Size size = picture_size(static_cast<int>(wide), static_cast<int>(io.DisplaySize.y));
      Look look;
      look.pose = made->pose;
      if (size.width > 16) made->picture->want(look, size.width, size.height);
      fresh = made->picture->take(backdrop_->image);
    }
    if (!fresh && !stage_.pace.due(false)) {
      Pace::rest();
      continue;
    }
    if (fresh) backdrop_->texture->update(backdrop_->image);
    stage_.begin_frame(home.settings);
    if (backdrop_->image.width > 0) draw_picture(backdrop_->texture->id(), backdrop_->image, page_left(), {});
    if (!backdrop_->shown) shade(dimmed);
    draw_home(home, shown_row != home.row(), said);
    if (backdrop_->shown) caption(*backdrop_->shown);
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
