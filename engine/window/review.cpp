// SPDX-License-Identifier: Apache-2.0
// The review: the score, every verdict with its reason, and the place of each in the picture.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "window/card.hpp"

namespace haunch::window {
namespace {

void item_line(Session& session, int index) {
  const auto& p = palette();
  const ReviewItem& item = session.items()[static_cast<std::size_t>(index)];
  const bool chosen = session.item() == index;
  ImGui::PushID(index);
  auto& list = *ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float indent = em(1.6F);
  list.ChannelsSplit(2);
  list.ChannelsSetCurrent(1);
  ImGui::BeginGroup();
  ImGui::Indent(indent);
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width - indent - em(0.5F));
  const auto write = [&](ImFont* font, ImU32 colour, const std::string& text) {
    ImGui::PushFont(font);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::TextUnformatted(by_words(text, width - indent - em(0.5F)).c_str());
    ImGui::PopStyleColor();
    ImGui::PopFont();
  };
  const std::string head =
      (item.dangerous ? "\xE2\x96\xB2 " : "") + item.place + (item.place.empty() ? "" : "   ") + item.title;
  write(chosen ? type().strong : type().text, p.ink, head);
  if (chosen) {
    for (const auto& sentence : item.sentences) write(type().text, p.soft_ink, sentence);
    for (const auto& line : item.code_says) write(type().text, p.soft_ink, "\xE2\x80\x93 " + line);
    if (item.clock_there)
      write(type().text, p.soft_ink,
            item.clock_given
                ? tr("On the wall: a whole line for the hours it is at, a broken one for those you gave.")
                : tr("On the wall: the hours it is at."));
  }
  ImGui::PopTextWrapPos();
  ImGui::Unindent(indent);
  ImGui::EndGroup();
  const float height = ImGui::GetItemRectSize().y;
  list.ChannelsSetCurrent(0);
  if (chosen) {
    list.AddRectFilled({at.x, at.y - em(0.15F)}, {at.x + width, at.y + height + em(0.15F)}, p.field,
                       em(0.3F));
    list.AddRectFilled({at.x, at.y - em(0.15F)}, {at.x + em(0.2F), at.y + height + em(0.15F)}, p.accent,
                       em(0.1F));
  }
  draw_mark(list, {at.x + em(0.9F), at.y + em(0.58F)}, em(0.33F), item.kind, chosen ? p.accent : p.ink);
  list.ChannelsMerge();
  const ImVec2 after = ImGui::GetCursorScreenPos();
  ImGui::SetCursorScreenPos(at);
  if (ImGui::InvisibleButton("choose", {width, std::max(height, 1.0F)})) session.choose_item(index);
  ImGui::SetCursorScreenPos(after);
  static int last_chosen = -1;
  if (chosen && last_chosen != index) {
    // The first shows the warnings above it as well.
    if (index == 0)
      ImGui::SetScrollY(0);
    else
      ImGui::SetScrollHereY(0.4F);
    last_chosen = index;
  }
  ImGui::PopID();
}

void section(const std::string& title, const std::vector<std::string>& sentences) {
  if (sentences.empty()) return;
  ImGui::Dummy({0, em(0.3F)});
  text_in(type().strong, palette().ink, title);
  for (const auto& sentence : sentences) text_in(type().text, palette().soft_ink, sentence);
}

void verdicts(Session& session) {
  for (const auto& warning : session.notes().warnings) {
    text_in(type().strong, palette().ink, "\xE2\x96\xB2 " + warning);
  }
  const auto& items = session.items();
  for (int i = 0; i < static_cast<int>(items.size()); ++i) {
    const auto kind = items[static_cast<std::size_t>(i)].kind;
    if (!session.shows(items[static_cast<std::size_t>(i)])) continue;
    if (i == 0 || items[static_cast<std::size_t>(i - 1)].kind != kind) {
      const auto count =
          std::count_if(items.begin(), items.end(), [&](const auto& other) { return other.kind == kind; });
      if (i > 0) ImGui::Dummy({0, em(0.2F)});
      text_in(type().text, palette().soft_ink, tr(heading(kind)) + "  " + std::to_string(count));
    }
    item_line(session, i);
  }
  section(tr("What it cost, in points of 100"), session.notes().costs);
  section(tr("The counter"), session.notes().counter);
  section(tr("Skill by skill"), session.notes().skills);
  section(tr("What it would lead to"), session.notes().consequence);
  section(tr("Your classes"), session.notes().grading);
  section(tr("What to do next"), session.notes().action);
  if (const auto& purpose = session.exercise().scene().scenario.purpose; !purpose.empty()) {
    section(tr("What this run is for"), {purpose});
  }
  const bool to_notes = session.notes_wanted;
  session.notes_wanted = false;
  if (session.looking_back)
    text_in(type().text, palette().soft_ink,
            tr("Pictures of your drive are being looked at again: how long what you missed was in view "
               "follows."));
  if (!session.kept().empty()) {
    ImGui::Dummy({0, em(0.3F)});
    text_in(type().text, palette().soft_ink, session.kept());
  }
  if (to_notes) ImGui::SetScrollHereY(1.0F);
}

/// Which kind of mark the list shows.
void kinds_to_show(Session& session) {
  const std::vector<ItemKind> there = session.kinds();
  if (there.size() < 2) return;
  if (quiet_button(tr("All"), tr("Left and Right"), !session.only)) session.show_only(std::nullopt);
  for (const ItemKind kind : there) {
    const std::string name = tr(short_name(kind));
    beside_if_it_fits(name);
    if (quiet_button(name, tr("Left and Right"), session.only == kind)) session.show_only(kind);
  }
}

void controls(Session& session, bool alone) {
  if (quiet_button(alone ? tr("List") : tr("Picture alone"), "Enter", false)) session.picture_alone = !alone;
  ImGui::SameLine();
  if (quiet_button(tr("Previous"), "Up")) session.step_item(-1);
  ImGui::SameLine();
  if (quiet_button(tr("Next"), "Down")) session.step_item(1);
  for (const int direction : {-1, 1}) {
    ImGui::SameLine();
    ImGui::Button(direction < 0 ? "\xE2\x96\xBC" : "\xE2\x96\xB2");
    if (ImGui::IsItemActivated()) session.hold(direction);
    if (ImGui::IsItemDeactivated()) session.hold(0);
    tip(direction < 0 ? tr("drive back while held  Page Down") : tr("drive forward while held  Page Up"));
  }
  ImGui::SameLine();
  if (quiet_button("?", tr("all keys and settings  F1"))) session.command(Command::help);
  beside_if_it_fits(tr("Start page"));
  if (quiet_button(tr("Start page"), key_of(Command::start_page))) session.command(Command::start_page);
}

}  // namespace

float review_width() {
  const float whole = ImGui::GetIO().DisplaySize.x;
  return std::min(whole - em(1.2F), std::max(em(22), whole * 0.4F));
}

float picture_left(const Session& session) {
  float panel_width = 0;
  if (session.screen == Screen::judging) panel_width = judging_panel_width();
  if (session.screen == Screen::review && !session.picture_alone) panel_width = review_width();
  const float left = panel_width > 0 ? em(1.2F) + panel_width : 0;
  // With very large text the panel takes the window; a sliver of picture would tell nobody anything.
  const float whole = ImGui::GetIO().DisplaySize.x;
  return whole - left < 0.2F * whole ? 0 : left;
}

void draw_review(Session& session) {
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float margin = em(0.6F);
  if (session.picture_alone) {
    ImGui::SetNextWindowPos({margin, io.DisplaySize.y - margin}, ImGuiCond_Always, {0, 1});
    ImGui::SetNextWindowSize({std::min(io.DisplaySize.x - 2 * margin, em(44)), 0});
    if (ImGui::Begin("review alone", nullptr, card)) {
      if (session.item() >= 0) {
        const auto& item = session.items()[static_cast<std::size_t>(session.item())];
        text_in(type().strong, p.ink, tr(heading(item.kind)) + ": " + item.place + "   " + item.title);
        if (!item.sentences.empty()) text_in(type().text, p.soft_ink, item.sentences.front());
      }
      controls(session, true);
    }
    ImGui::End();
    return;
  }
  const float width = review_width();
  ImGui::SetNextWindowPos({margin, top_edge(session)});
  ImGui::SetNextWindowSize({width, io.DisplaySize.y - margin - top_edge(session)});
  if (ImGui::Begin("review", nullptr, card)) {
    text_in(type().large, p.ink, session.score_text(), false);
    ImGui::SameLine();
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + em(0.95F));
    text_in(type().text, p.soft_ink, tr("of 100 for coding"), false);
    text_in(type().text, p.soft_ink, session.notes().graded);
    kinds_to_show(session);
    ImGui::BeginChild("verdicts", {0, -em(2.6F)});
    verdicts(session);
    ImGui::EndChild();
    ImGui::Separator();
    controls(session, false);
  }
  ImGui::End();
}

}  // namespace haunch::window
