// SPDX-License-Identifier: Apache-2.0
// An observation by pointer alone: one question at a time. The clock is drawn on the wall: dial.cpp.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "window/card.hpp"

namespace haunch::window {
namespace {

/// A choice as a full-width line: words first, the letter small at the end.
bool choice_line(const std::string& words, const std::string& letter, bool chosen) {
  const auto& p = palette();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float text_width = width - em(2.6F);
  const ImVec2 size = ImGui::CalcTextSize(words.c_str(), nullptr, false, text_width);
  const float height = size.y + em(0.3F);
  const bool pressed = ImGui::InvisibleButton((words + "##" + letter).c_str(), {width, height});
  auto& list = *ImGui::GetWindowDrawList();
  if (chosen)
    list.AddRectFilled(at, {at.x + width, at.y + height}, p.accent, em(0.3F));
  else if (ImGui::IsItemHovered())
    list.AddRectFilled(at, {at.x + width, at.y + height}, p.rule, em(0.3F));
  const ImU32 ink = chosen ? p.accent_ink : p.ink;
  list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), {at.x + em(0.4F), at.y + em(0.15F)}, ink,
               words.c_str(), nullptr, text_width);
  list.AddText({at.x + width - em(0.4F) - ImGui::CalcTextSize(letter.c_str()).x, at.y + em(0.15F)},
               chosen ? p.accent_ink : p.faint_ink, letter.c_str());
  return pressed;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

void choose_code_part(Session& session) {
  static std::size_t group = 0;
  const auto& all = groups();
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (i > 0) beside_if_it_fits(tr(all[i].name));
    if (quiet_button(tr(all[i].name), "", group == i)) group = i;
  }
  ImGui::Separator();
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {em(0.5F), em(0.1F)});
  for (const auto* entry : codes_in(all[group].id, session.codes())) {
    if (choice_line(entry->name, entry->code, false)) {
      choose_code(session.draft, entry->code);
      session.drawn.reset();
    }
  }
  ImGui::PopStyleVar();
}

void size_part(Session& session, int which) {
  const auto ask = size_ask(session.draft, which, session.codes());
  if (!ask || (which == 2 && session.draft.observation.q1.empty())) return;
  auto& number = which == 1 ? session.draft.observation.q1 : session.draft.observation.q2;
  ImGui::PushID(which);
  text_in(type().text, palette().soft_ink,
          ask->required ? capital(ask->meaning) : tr("{0} (if known)", {capital(ask->meaning)}));
  const auto step = [&](double by) {
    number = coding::Number(std::clamp(number.value.value_or(0) + by, 0.0, ask->most));
  };
  ImGui::PushButtonRepeat(true);
  if (ImGui::Button("-10")) step(-10 * ask->step);
  ImGui::SameLine();
  if (ImGui::Button(" - ")) step(-ask->step);
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  const std::string value = (number.empty() ? std::string("?") : number.show()) + " " + ask->unit;
  const float before = ImGui::GetCursorPosX();
  text_in(type().strong, palette().ink, value, false);
  ImGui::SameLine(before + em(4.2F));
  if (ImGui::Button(" + ")) step(ask->step);
  ImGui::SameLine();
  if (ImGui::Button("+10")) step(10 * ask->step);
  ImGui::PopButtonRepeat();
  // About how much is soon said; the steps above make it finer.
  for (std::size_t i = 0; i < ask->usual.size(); ++i) {
    const std::string size = base::show_number(ask->usual[i]);
    if (i > 0) beside_if_it_fits(size);
    if (quiet_button(size + "##usual", "", number.value == ask->usual[i]))
      number = coding::Number(ask->usual[i]);
  }
  ImGui::PopID();
}

std::string clock_words(const coding::Observation& o) {
  if (!o.clock_from) return tr("not given");
  if (!o.clock_to) return tr("{0} o'clock", {std::to_string(*o.clock_from)});
  if (*o.clock_from == 12 && *o.clock_to == 12) return tr("all round");
  return tr("{0} to {1} o'clock", {std::to_string(*o.clock_from), std::to_string(*o.clock_to)});
}

void clock_part(Session& session) {
  if (!asks_clock(session.draft, session.codes())) return;
  auto& o = session.draft.observation;
  text_in(type().text, palette().soft_ink,
          tr("Clock: drag the mark to the bottom of the pipe, then draw along the ring"));
  ImGui::AlignTextToFramePadding();
  text_in(type().strong, palette().ink, clock_words(o), false);
  ImGui::SameLine();
  if (quiet_button(tr("All round"), "")) {
    session.drawn = base::ClockArc{12, 12, true};
    set_clock(session.draft, *session.drawn, session.codes());
  }
  ImGui::SameLine();
  if (quiet_button(tr("None"), "")) {
    session.drawn.reset();
    o.clock_from.reset();
    o.clock_to.reset();
  }
}

void build_part(Session& session) {
  auto& draft = session.draft;
  const auto* entry = session.codes().find(draft.observation.code);
  if (entry == nullptr) return;
  ImGui::AlignTextToFramePadding();
  text_in(type().strong, palette().ink, entry->name);
  ImGui::SameLine();
  if (quiet_button(tr("Another"), tr("choose another code"))) {
    draft = {};
    session.drawn.reset();
    return;
  }
  for (const auto& [letter, meaning] : first_choices(draft, session.codes())) {
    // Once chosen, only the choice stays, so that the next question has the room.
    if (!draft.observation.ch1.empty() && draft.observation.ch1 != letter) continue;
    const bool chosen = draft.observation.ch1 == letter;
    if (choice_line(capital(meaning), letter, chosen))
      choose_first(draft, chosen ? "" : letter, session.codes());
  }
  for (const auto& [letter, meaning] : second_choices(draft, session.codes())) {
    if (!draft.observation.ch2.empty() && draft.observation.ch2 != letter) continue;
    const bool chosen = draft.observation.ch2 == letter;
    if (choice_line(capital(meaning), letter + " ", chosen)) draft.observation.ch2 = chosen ? "" : letter;
  }
  const bool kinds_done = (entry->ch1.empty() || !draft.observation.ch1.empty());
  if (!kinds_done) return;
  size_part(session, 1);
  size_part(session, 2);
  clock_part(session);
  if (entry->joint != coding::JointRule::no)
    ImGui::Checkbox(tr("at a joint").c_str(), &draft.observation.at_joint);
  if (may_go_on(draft, session.codes())) ImGui::Checkbox(tr("goes on from here").c_str(), &draft.goes_on);
  const auto needed = still_needed(draft, session.codes());
  if (needed.empty()) {
    if (filled_button(tr("Log   Enter"), ImGui::GetContentRegionAvail().x)) session.log_draft();
  }
}

}  // namespace

void draw_code_menu(Session& session) {
  if (!session.menu_open) return;
  const auto& io = ImGui::GetIO();
  const float margin = em(0.6F);
  const float width = std::min(em(18), io.DisplaySize.x - 2 * margin);
  const float most = std::max(em(6), room_above_words() - top_edge(session));
  ImGui::SetNextWindowPos({io.DisplaySize.x - margin, top_edge(session)}, ImGuiCond_Always, {1, 0});
  ImGui::SetNextWindowSizeConstraints({width, 0}, {width, most});
  if (ImGui::Begin("menu", nullptr, card | ImGuiWindowFlags_AlwaysAutoResize)) {
    if (session.draft.observation.code.empty())
      choose_code_part(session);
    else
      build_part(session);
  }
  ImGui::End();
}

}  // namespace haunch::window
