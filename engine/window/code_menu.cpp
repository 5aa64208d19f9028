// SPDX-License-Identifier: Apache-2.0
// An observation by pointer alone: one question at a time, and the clock drawn on the picture.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "window/look.hpp"

namespace haunch::window {
namespace {

constexpr ImGuiWindowFlags card = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove |
                                  ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoSavedSettings |
                                  ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoCollapse;

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
    if (i > 0) beside_if_it_fits(all[i].name.c_str());
    if (quiet_button(all[i].name.c_str(), "", group == i)) group = i;
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
  text_in(type().text, palette().soft_ink, capital(ask->meaning) + (ask->required ? "" : " (if known)"));
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
  ImGui::PopID();
}

std::string clock_words(const coding::Observation& o) {
  if (!o.clock_from) return "not given";
  if (!o.clock_to) return std::to_string(*o.clock_from) + " o'clock";
  if (*o.clock_from == 12 && *o.clock_to == 12) return "all round";
  return std::to_string(*o.clock_from) + " to " + std::to_string(*o.clock_to) + " o'clock";
}

void clock_part(Session& session) {
  if (!asks_clock(session.draft, session.codes())) return;
  auto& o = session.draft.observation;
  text_in(type().text, palette().soft_ink,
          "Clock: drag the mark to the bottom of the pipe, then draw along the ring");
  ImGui::AlignTextToFramePadding();
  text_in(type().strong, palette().ink, clock_words(o), false);
  ImGui::SameLine();
  if (quiet_button("All round", "")) {
    session.drawn = base::ClockArc{12, 12, true};
    set_clock(session.draft, *session.drawn, session.codes());
  }
  ImGui::SameLine();
  if (quiet_button("None", "")) {
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
  if (quiet_button("Another", "choose another code")) {
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
  if (entry->joint != coding::JointRule::no) ImGui::Checkbox("at a joint", &draft.observation.at_joint);
  if (may_go_on(draft, session.codes())) ImGui::Checkbox("goes on from here", &draft.goes_on);
  const auto needed = still_needed(draft, session.codes());
  if (needed.empty()) {
    ImGui::PushStyleColor(ImGuiCol_Button, palette().accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, palette().accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, palette().accent);
    ImGui::PushStyleColor(ImGuiCol_Text, palette().accent_ink);
    if (ImGui::Button("Log   Enter", {ImGui::GetContentRegionAvail().x, em(1.9F)})) session.log_draft();
    ImGui::PopStyleColor(4);
  }
}

struct Ring {
  ImVec2 centre;
  float radius = 0;
  ImVec2 at(double hour, float scale = 1) const {
    const double angle = hour * 30 * 3.14159265358979323846 / 180;
    return {centre.x + scale * radius * static_cast<float>(std::sin(angle)),
            centre.y - scale * radius * static_cast<float>(std::cos(angle))};
  }
  double hour_of(ImVec2 point) const {
    const double angle = std::atan2(point.x - centre.x, centre.y - point.y);
    return base::wrap_hours(angle * 180 / 3.14159265358979323846 / 30);
  }
  float share_of(ImVec2 point) const { return std::hypot(point.x - centre.x, point.y - centre.y) / radius; }
};

void drag_ring(Session& session, const Ring& ring) {
  enum class Dragging { nothing, plumb, arc };
  static Dragging dragging = Dragging::nothing;
  static double began_h = 0, turned_h = 0, last_h = 0;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const double hour = ring.hour_of(mouse);
  if (ImGui::IsItemActivated()) {
    const float share = ring.share_of(mouse);
    const bool near_plumb = base::hours_apart(hour, session.plumb_h) < 0.8 && share > 0.45F && share < 0.82F;
    dragging = near_plumb                     ? Dragging::plumb
               : share > 0.8F && share < 1.4F ? Dragging::arc
                                              : Dragging::nothing;
    began_h = last_h = hour;
    turned_h = 0;
  }
  if (ImGui::IsItemActive() && dragging == Dragging::plumb) session.plumb_h = hour;
  if (ImGui::IsItemActive() && dragging == Dragging::arc) {
    double step = hour - last_h;
    if (step > 6) step -= 12;
    if (step < -6) step += 12;
    turned_h = std::clamp(turned_h + step, -12.0, 12.0);
    last_h = hour;
    const double begin = turned_h >= 0 ? began_h : began_h + turned_h;
    const double turned = std::abs(turned_h);
    session.drawn = base::ClockArc{base::wrap_hours(begin),
                                   base::wrap_hours(begin + (turned < 0.4 ? 0 : turned)), turned > 11.5};
  }
  if (dragging != Dragging::nothing && session.drawn && !session.drawn->whole) {
    set_clock(session.draft, true_arc(*session.drawn, session.plumb_h), session.codes());
  } else if (dragging == Dragging::arc && session.drawn) {
    set_clock(session.draft, *session.drawn, session.codes());
  }
  if (ImGui::IsItemDeactivated()) dragging = Dragging::nothing;
}

void draw_ring(const Session& session, const Ring& ring) {
  const auto& p = palette();
  auto& list = *ImGui::GetWindowDrawList();
  const float thin = std::max(1.5F, em(0.08F));
  list.AddCircle(ring.centre, ring.radius, IM_COL32(0, 0, 0, 120), 96, thin + 3);
  list.AddCircle(ring.centre, ring.radius, IM_COL32(255, 255, 255, 150), 96, thin);
  for (int h = 1; h <= 12; ++h) {
    const double on_screen = h + session.plumb_h - 6;
    list.AddLine(ring.at(on_screen, 0.97F), ring.at(on_screen, 1.03F), p.ink, thin);
    const std::string name = std::to_string(h);
    const ImVec2 size = ImGui::CalcTextSize(name.c_str());
    const ImVec2 at = ring.at(on_screen, 0.88F);
    list.AddText({at.x - size.x / 2 + 1, at.y - size.y / 2 + 1}, IM_COL32_BLACK, name.c_str());
    list.AddText({at.x - size.x / 2, at.y - size.y / 2}, p.ink, name.c_str());
  }
  if (session.drawn) {
    const double width = session.drawn->whole ? 12 : base::arc_width_h(*session.drawn);
    const int pieces = std::max(1, static_cast<int>(width * 8));
    for (int i = 0; i <= pieces; ++i) list.PathLineTo(ring.at(session.drawn->from_h + width * i / pieces));
    if (width > 0)
      list.PathStroke(p.accent, 0, em(0.35F));
    else
      list.PathClear();
    list.AddCircleFilled(ring.at(session.drawn->from_h), em(0.35F), p.accent);
    list.AddCircleFilled(ring.at(session.drawn->to_h), em(0.35F), p.accent);
  }
  // The plumb mark hangs inside the ring: a line from the middle with a bob.
  list.AddLine(ring.centre, ring.at(session.plumb_h, 0.55F), IM_COL32(0, 0, 0, 140), thin + 3);
  list.AddLine(ring.centre, ring.at(session.plumb_h, 0.55F), p.accent, thin);
  const ImVec2 tip_at = ring.at(session.plumb_h, 0.78F), a = ring.at(session.plumb_h - 0.22, 0.6F),
               top = ring.at(session.plumb_h, 0.52F), b = ring.at(session.plumb_h + 0.22, 0.6F);
  list.AddQuadFilled(tip_at, a, top, b, p.accent);
  list.AddQuad(tip_at, a, top, b, IM_COL32_BLACK, 1.5F);
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

void draw_dial(Session& session) {
  if (!session.menu_open || session.draft.observation.code.empty()) return;
  if (!asks_clock(session.draft, session.codes())) return;
  const auto& io = ImGui::GetIO();
  // Round the middle of the picture, and clear of the words at the foot.
  const float room = io.DisplaySize.y / 2 - foot_height() - em(3.6F);
  const float radius = std::max(em(4), std::min({io.DisplaySize.x * 0.34F, io.DisplaySize.y * 0.34F, room}));
  const Ring ring{{io.DisplaySize.x / 2, io.DisplaySize.y / 2}, radius};
  const float half = ring.radius * 1.42F;
  ImGui::SetNextWindowPos({ring.centre.x - half, ring.centre.y - half});
  ImGui::SetNextWindowSize({2 * half, 2 * half});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  if (ImGui::Begin("dial", nullptr,
                   ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoMove |
                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                       ImGuiWindowFlags_NoNav)) {
    ImGui::InvisibleButton("ring", {2 * half, 2 * half});
    drag_ring(session, ring);
    draw_ring(session, ring);
  }
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace haunch::window
