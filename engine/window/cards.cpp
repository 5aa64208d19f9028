// SPDX-License-Identifier: Apache-2.0
// What a key opens over the picture: help with settings, and the list of what was logged. And what a guided
// run says.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "window/card.hpp"
#include "window/coach.hpp"
#include "window/look.hpp"

namespace haunch::window {

void draw_help(Session& session) {
  if (!session.help_open) return;
  const auto& p = palette();
  centre_card(34, 0.9F);
  if (ImGui::Begin("help", nullptr, card)) {
    const auto& now = session.settings;
    const struct {
      std::string label;
      Command command;
      bool on;
      std::string what{};
    } controls[] = {
        {tr("Text smaller"), Command::smaller, false},
        {tr("Text larger"), Command::larger, false},
        {tr("Strong contrast"), Command::contrast, now.strong_contrast},
        {tr("Ring on the wall"), Command::ring, now.ring},
        {tr("Feet"), Command::units, now.unit == base::LengthUnit::feet},
        {tr("Run from the side"), Command::long_section, session.section_open},
        {tr("Look up codes"), Command::guide, session.guide_open},
        {tr("Nothing moves by itself"), Command::still, now.still,
         tr("nothing fades, and driving blurs nothing")},
        {tr("Another accent"), Command::accent, now.accent > 0, tr("another colour for marks and buttons")},
        {now.picture == PictureSize::automatic ? tr("Picture: automatic")
         : now.picture == PictureSize::whole   ? tr("Picture: whole")
                                               : tr("Picture: half"),
         Command::picture_size, false},
        {tr("Language: {0}", {now.language}), Command::language, false},
        {tr("Whole screen"), Command::full_screen, session.full_screen_wanted},
        {tr("Start page"), Command::start_page, false},
        {tr("Leave the program"), Command::quit, false},
        {tr("Close"), Command::leave, false}};
    for (const auto& one : controls) {
      if (&one != controls) beside_if_it_fits(one.label);
      if (quiet_button(one.label, one.what.empty() ? key_of(one.command) : one.what, one.on))
        session.command(one.command);
    }
    ImGui::Dummy({0, em(0.2F)});
    ImGui::Separator();
    text_in(type().text, p.soft_ink,
            tr("In the line: a code or words, then sizes (14 mm, 30 %), hours (at 12, 10-2), at joint; @12.4 "
               "for another place "
               "than here; start and end for what goes on along the pipe; # and a remark. \"counter 0\" sets "
               "the counter, \"go 3.2\" takes the camera back there."));
    text_in(type().text, p.soft_ink,
            tr("With a gamepad: a stick or the cross drives, the first four buttons log, close, open the "
               "codes "
               "and "
               "keep a picture, the shoulders turn the plumb mark, Start finishes."));
    key_table("all keys", true);
    if (session.screen == Screen::judging) {
      text_in(
          type().text, p.soft_ink,
          tr("Here: arrows choose, digits give, Del takes a class back, F10 marks, F9 goes back to coding."));
    }
    if (session.screen == Screen::review) {
      text_in(type().text, p.soft_ink,
              tr("Here: Up and Down choose a line, Left and Right show marks of one kind, Enter shows the "
                 "picture alone, "
                 "Page Up and Page Down drive."));
    }
  }
  ImGui::End();
}

void draw_coach(const Session& session) {
  const std::string words = coach_words(session);
  if (words.empty() || session.help_open) return;
  // At the side, clear of the crown and of the panels that are open.
  const auto& io = ImGui::GetIO();
  const float left = picture_left(session), margin = em(0.6F);
  const float width = std::min(em(17), io.DisplaySize.x - left - 2 * margin);
  const bool right = session.list_open && session.screen == Screen::driving;
  const bool taken = right && (session.menu_open || session.guide_open);
  const float x = taken ? io.DisplaySize.x / 2 : right ? io.DisplaySize.x - margin : left + margin;
  ImGui::SetNextWindowPos({x, top_edge(session)}, ImGuiCond_Always, {taken ? 0.5F : right ? 1.0F : 0.0F, 0});
  ImGui::SetNextWindowSizeConstraints({width, 0}, {width, io.DisplaySize.y});
  ImGui::PushStyleColor(ImGuiCol_Border, palette().accent);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, std::max(1.5F, em(0.1F)));
  if (ImGui::Begin("coach", nullptr,
                   card | ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoInputs |
                       ImGuiWindowFlags_NoBringToFrontOnFocus))
    text_in(type().text, palette().ink, words);
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

void draw_log_list(Session& session) {
  if (!session.list_open) return;
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float margin = em(0.6F);
  const float width = std::min(em(26), io.DisplaySize.x - 2 * margin);
  ImGui::SetNextWindowPos({margin, top_edge(session)});
  ImGui::SetNextWindowSizeConstraints({width, 0},
                                      {width, std::max(em(6), room_above_words() - top_edge(session))});
  if (ImGui::Begin("logged", nullptr, card | ImGuiWindowFlags_AlwaysAutoResize)) {
    ImGui::AlignTextToFramePadding();
    text_in(type().strong, p.ink, tr("Logged"));
    ImGui::SameLine(ImGui::GetContentRegionMax().x - em(3.6F));
    if (quiet_button(tr("Close"), key_of(Command::log_list))) session.command(Command::log_list);
    for (const auto& told : session.exercise().told())
      text_in(
          type().text, p.soft_ink,
          tr("Told at {0}: {1}", {base::show_distance(told.distance_m, session.settings.unit), told.words}));
    const auto observations = session.exercise().record().observations;  // a copy: a line may remove itself
    if (observations.empty()) text_in(type().text, p.soft_ink, tr("Nothing yet."));
    const auto open = open_stretches(session.exercise().record());
    for (const auto& o : observations) {
      ImGui::PushID(o.id.c_str());
      ImGui::Separator();
      const double at = o.distance_m.value.value_or(0);
      std::string place = base::show_distance(at, session.settings.unit);
      const bool begins = !o.stretch.empty() && o.stretch[0] == 'A';
      const bool ends = !o.stretch.empty() && o.stretch[0] == 'B';
      if (begins) place += "  " + tr("begins");
      if (ends) place += "  " + tr("ends");
      ImGui::AlignTextToFramePadding();
      text_in(type().strong, p.ink, place, false);
      const bool is_open = begins && std::find(open.begin(), open.end(), o.stretch.substr(1)) != open.end();
      const float buttons = is_open ? em(19.0F) : em(11.0F);
      ImGui::SameLine(std::max(ImGui::GetCursorPosX() + em(4), ImGui::GetContentRegionMax().x - buttons));
      if (is_open) {
        if (quiet_button(tr("End it here"), tr("the continuous observation ends at the distance shown")))
          session.end_stretch(o.id);
        ImGui::SameLine();
      }
      if (quiet_button(tr("Go"), tr("take the camera back there"))) session.go_to(at);
      ImGui::SameLine();
      if (quiet_button(tr("Edit"), tr("back into the line, to be changed"), session.editing() == o.id))
        session.edit(o.id);
      ImGui::SameLine();
      if (quiet_button(tr("Remove"), "")) session.remove(o.id);
      text_in(type().text, p.soft_ink,
              coding::in_words(o, session.codes()) + (o.photo.empty() ? "" : "  (" + o.photo + ")"));
      ImGui::PopID();
    }
  }
  ImGui::End();
}

}  // namespace haunch::window
