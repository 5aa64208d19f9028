// SPDX-License-Identifier: Apache-2.0
// The line at the foot: the distance, what is typed, and the few controls that drive and open.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "window/language.hpp"
#include "window/look.hpp"

namespace haunch::window {
namespace {

constexpr ImGuiWindowFlags bare = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                  ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                                  ImGuiWindowFlags_NoFocusOnAppearing;

float echo_pixels = 0;  ///< height of the words above the foot, as they were drawn last

/// With large text on a narrow window the controls stand below the line rather than squeeze it.
bool two_rows() { return ImGui::GetIO().DisplaySize.x < em(50); }

/// Controls fade while the pointer rests, so that the picture has the eye.
float pointer_presence(bool still) {
  if (still) return 1;
  static double last_moved = -100;
  const auto& io = ImGui::GetIO();
  if (io.MouseDelta.x != 0 || io.MouseDelta.y != 0) last_moved = ImGui::GetTime();
  const auto rested = static_cast<float>(ImGui::GetTime() - last_moved);
  return std::clamp(1.6F - rested * 0.4F, 0.62F, 1.0F);
}

void draw_line(Session& session, float width) {
  const auto& p = palette();
  auto& list = *ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = ImGui::GetFrameHeight();
  ImGui::InvisibleButton("line", {width, height});
  const ImVec2 end{at.x + width, at.y + height};
  list.AddRectFilled(at, end, p.field, em(0.3F));
  const float pad = em(0.5F), top = at.y + (height - ImGui::GetFontSize()) / 2;
  list.PushClipRect({at.x + pad / 2, at.y}, {end.x - pad / 2, end.y}, true);
  const std::string& text = session.line.text;
  const std::string before = text.substr(0, session.line.caret);
  const float caret_x = ImGui::CalcTextSize(before.c_str()).x;
  const float room = width - 2 * pad - em(1);
  const float shift = std::max(0.0F, caret_x - room);  // a long line keeps its caret in view
  const float x = at.x + pad - shift;
  if (text.empty()) {
    const double speed = std::abs(session.exercise().speed_m_s()) * 60;
    const bool feet = session.settings.unit == base::LengthUnit::feet;
    const std::string pace =
        base::show_number(std::round(10 * speed / (feet ? base::metres_per_foot : 1)) / 10) +
        (feet ? " ft" : " m");
    std::string hint = tr("type what you see, or a code");
    const auto& rows = session.exercise().record().observations;
    if (const auto open = open_stretches(session.exercise().record()); !open.empty())
      for (const coding::Observation& row : rows)
        if (row.stretch == "A" + open.back())
          hint = tr("{0} is open since {1}: end closes it",
                    {coding::show_code(row),
                     base::show_distance(row.distance_m.value.value_or(0), session.settings.unit)});
    if (speed > 0) hint = tr("driving, {0} a minute", {pace}) + "   " + hint;
    list.AddText({x + em(0.3F), top}, p.faint_ink, hint.c_str());
  } else {
    list.AddText({x, top}, p.ink, text.c_str());
    const std::string ghost = session.ghost();
    const std::string meaning = session.ghost_meaning();
    if (!ghost.empty()) {
      const float typed = ImGui::CalcTextSize(text.c_str()).x;
      list.AddText({x + typed, top}, p.faint_ink,
                   (ghost + "   Tab" + (meaning.empty() ? "" : ": " + meaning)).c_str());
    }
  }
  list.AddRectFilled({x + caret_x, top - 1},
                     {x + caret_x + std::max(2.0F, em(0.1F)), top + ImGui::GetFontSize() + 1}, p.accent);
  list.PopClipRect();
}

void hold_button(Session& session, const char* label, int direction, const std::string& words) {
  const bool moving = session.driving() == direction;
  if (moving) ImGui::PushStyleColor(ImGuiCol_Text, palette().accent);
  ImGui::Button(label);
  if (moving) ImGui::PopStyleColor();
  if (ImGui::IsItemActivated()) session.hold(direction);
  if (ImGui::IsItemDeactivated()) session.hold(0);
  tip(words);
}

/// The echo of what is typed: sentence, what is missing, what was not understood; else a message.
void draw_echo(Session& session) {
  const auto& p = palette();
  const auto echo = session.echo();
  const std::string message = session.message();
  echo_pixels = 0;
  if (session.help_open) return;  // nothing is typed meanwhile, and the card covers half of it
  if (echo.sentence.empty() && echo.missing.empty() && echo.not_understood.empty() && message.empty()) return;
  const auto& io = ImGui::GetIO();
  ImGui::SetNextWindowPos({0, io.DisplaySize.y - foot_height()}, ImGuiCond_Always, {0, 1});
  ImGui::SetNextWindowSize({io.DisplaySize.x, 0});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, IM_COL32(8, 10, 13, 190));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {em(0.8F), em(0.4F)});
  // Never over a panel: it lies below them all, and they end above it.
  if (ImGui::Begin("echo", nullptr,
                   bare | ImGuiWindowFlags_NoInputs | ImGuiWindowFlags_NoBringToFrontOnFocus)) {
    if (!message.empty()) text_in(type().strong, p.accent, message);
    if (!echo.sentence.empty()) text_in(type().text, p.ink, echo.sentence);
    // Why a line was not logged is part of that message.
    const bool refused = !message.empty() && message.back() == ':';
    const ImU32 ink = refused ? p.accent : p.soft_ink;
    if (!echo.missing.empty()) text_in(type().text, ink, tr("Still needed: {0}", {echo.missing}));
    if (!echo.not_understood.empty())
      text_in(type().text, ink, tr("Not understood: {0}", {echo.not_understood}));
    echo_pixels = ImGui::GetWindowHeight();
  }
  ImGui::End();
  ImGui::PopStyleVar(2);
  ImGui::PopStyleColor();
}

}  // namespace

float room_above_words() {
  // A line's room is kept while nothing is said, so that panels seldom jump.
  return ImGui::GetIO().DisplaySize.y - foot_height() - std::max(em(3.4F), echo_pixels + em(0.3F));
}

float foot_height() { return std::floor(em(two_rows() ? 4.5F : 2.5F)); }

void draw_foot(Session& session) {
  draw_echo(session);
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  ImGui::SetNextWindowPos({0, io.DisplaySize.y}, ImGuiCond_Always, {0, 1});
  ImGui::SetNextWindowSize({io.DisplaySize.x, foot_height()});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, IM_COL32(8, 10, 13, 215));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {em(0.8F), em(0.45F)});
  if (ImGui::Begin("foot", nullptr, bare | ImGuiWindowFlags_NoBringToFrontOnFocus)) {
    const std::string distance = session.distance_text();
    ImGui::AlignTextToFramePadding();
    text_in(type().strong, p.ink, distance, false);
    if (ImGui::IsItemClicked()) session.command(Command::units);
    tip(tr("metres or feet  F2"));
    // Room for the longest distance, so that the line does not jump as the counter runs.
    ImGui::SameLine(em(0.8F) + std::max(em(5.2F), ImGui::CalcTextSize(distance.c_str()).x + em(1.2F)));

    const std::string logged =
        tr("Logged {0}", {std::to_string(session.exercise().record().observations.size())});
    const std::string codes = tr("Codes"), finish = tr("Finish"), ahead = tr("Ahead");
    const auto& style = ImGui::GetStyle();
    float words = 0, count = 0;
    std::vector<const char*> labels = {"\xE2\x96\xBC", "\xE2\x96\xA0", "\xE2\x96\xB2", "\xE2\x97\x8B",
                                       codes.c_str(),  logged.c_str(), finish.c_str(), "?"};
    if (session.exercise().turned()) labels.push_back(ahead.c_str());
    for (const char* label : labels) {
      words += ImGui::CalcTextSize(label).x;
      ++count;
    }
    float controls = words + count * (2 * style.FramePadding.x + style.ItemSpacing.x);
    // With very large text they stand closer: the last of them opens help and settings.
    const float most = ImGui::GetContentRegionMax().x - em(0.8F);
    const float squeeze =
        controls > most ? std::clamp((most - words) / (controls - words), 0.1F, 1.0F) : 1.0F;
    controls = std::min(controls, most);
    const float line_width = std::max(em(8), ImGui::GetContentRegionAvail().x - controls);
    draw_line(session, two_rows() ? ImGui::GetContentRegionAvail().x : line_width);

    ImGui::PushStyleVar(ImGuiStyleVar_Alpha, pointer_presence(session.settings.still));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {style.FramePadding.x * squeeze, style.FramePadding.y});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {style.ItemSpacing.x * squeeze, style.ItemSpacing.y});
    ImGui::PushStyleColor(ImGuiCol_Button, IM_COL32_BLACK_TRANS);
    if (two_rows())
      ImGui::SetCursorPosX(std::max(em(0.8F), ImGui::GetContentRegionMax().x - controls));
    else
      ImGui::SameLine();
    hold_button(session, "\xE2\x96\xBC", -1, tr("back while held  Down"));
    ImGui::SameLine();
    if (quiet_button("\xE2\x96\xA0", tr("stop  Space"))) session.command(Command::stop);
    ImGui::SameLine();
    hold_button(session, "\xE2\x96\xB2", 1, tr("forward while held  Up"));
    ImGui::SameLine();
    if (session.exercise().turned()) {
      if (quiet_button(ahead, tr("look along the pipe again  F8"))) session.command(Command::look_ahead);
      ImGui::SameLine();
    }
    if (session.settings.ring) ImGui::PushStyleColor(ImGuiCol_Text, p.accent);
    const bool ring = ImGui::Button("\xE2\x97\x8B");
    if (session.settings.ring) ImGui::PopStyleColor();
    tip(tr("ring on the wall where the distance is read  F7"));
    if (ring) session.command(Command::ring);
    ImGui::SameLine();
    if (quiet_button(codes, tr("build it with the mouse  F4"), session.menu_open))
      session.command(Command::code_menu);
    ImGui::SameLine();
    if (quiet_button(logged + "###logged", tr("what you logged  F3"), session.list_open)) {
      session.command(Command::log_list);
    }
    ImGui::SameLine();
    if (quiet_button(finish, tr("finish and give classes  F10"))) session.command(Command::finish);
    ImGui::SameLine();
    if (quiet_button("?", tr("all keys and settings  F1"), session.help_open)) session.command(Command::help);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(3);
  }
  ImGui::End();
  ImGui::PopStyleVar(2);
  ImGui::PopStyleColor();
}

}  // namespace haunch::window
