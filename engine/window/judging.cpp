// SPDX-License-Identifier: Apache-2.0
// The trainee grades: a class per goal for each defect, the run's class, what to do next.
#include <algorithm>

#include "window/look.hpp"

namespace haunch::window {
namespace {

constexpr ImGuiWindowFlags panel = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove |
                                   ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoSavedSettings |
                                   ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoCollapse;

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

/// Digits in a row, one of them chosen; returns the digit pressed, or -1.
int digits(const char* name, int first, int last, std::optional<int> chosen, bool here) {
  const auto& p = palette();
  ImGui::PushID(name);
  auto& list = *ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float side = em(1.35F);
  int pressed = -1;
  for (int d = first; d <= last; ++d) {
    const ImVec2 corner{at.x + side * static_cast<float>(d - first), at.y};
    ImGui::SetCursorScreenPos(corner);
    ImGui::PushID(d);
    if (ImGui::InvisibleButton("digit", {side, side})) pressed = d;
    ImGui::PopID();
    const bool on = chosen == d;
    const ImVec2 a{corner.x + 1, corner.y + 1}, b{corner.x + side - 1, corner.y + side - 1};
    list.AddRectFilled(a, b, on ? p.accent : ImGui::IsItemHovered() ? p.rule : p.field, em(0.2F));
    const std::string text = std::to_string(d);
    const ImVec2 size = ImGui::CalcTextSize(text.c_str());
    list.AddText({corner.x + (side - size.x) / 2, corner.y + (side - size.y) / 2},
                 on ? p.accent_ink : p.soft_ink, text.c_str());
  }
  if (here) {
    const float width = side * static_cast<float>(last - first + 1);
    list.AddRect({at.x - 2, at.y - 2}, {at.x + width + 2, at.y + side + 2}, p.ink, em(0.2F), 0,
                 std::max(1.5F, em(0.09F)));
  }
  ImGui::PopID();
  return pressed;
}

void defect_table(Session& session) {
  const auto& goals = session.scheme().goals();
  const int columns = static_cast<int>(goals.size()) + 1;
  if (!ImGui::BeginTable("classes", columns, ImGuiTableFlags_BordersInnerH)) return;
  ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
  const int worst = session.scheme().worst_class();
  for (const auto& goal : goals) {
    ImGui::TableSetupColumn(goal.c_str(), ImGuiTableColumnFlags_WidthFixed,
                            em(1.35F) * static_cast<float>(worst) + em(0.3F));
  }
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  for (const auto& goal : goals) {
    ImGui::TableNextColumn();
    text_in(type().text, palette().soft_ink, capital(goal), false);
  }
  for (int row = 0; row < static_cast<int>(session.rows().size()); ++row) {
    const JudgingRow asked = session.rows()[static_cast<std::size_t>(row)];
    ImGui::PushID(row);
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const bool here = session.row() == row;
    text_in(type().strong, here ? palette().accent : palette().ink, asked.place);
    if (ImGui::IsItemClicked()) session.choose_row(row);
    text_in(type().text, here ? palette().ink : palette().soft_ink, asked.title);
    if (ImGui::IsItemClicked()) session.choose_row(row);
    for (int goal = 0; goal + 1 < columns; ++goal) {
      ImGui::TableNextColumn();
      const auto chosen = asked.classes[static_cast<std::size_t>(goal)];
      const int pressed = digits(goals[static_cast<std::size_t>(goal)].c_str(), 1, worst, chosen,
                                 here && session.goal() == goal);
      if (pressed > 0)
        session.give_class(row, goal, chosen == pressed ? std::nullopt : std::optional<int>(pressed));
    }
    static int last_row = -1;
    if (here && last_row != row) {
      ImGui::SetScrollHereY(0.5F);
      last_row = row;
    }
    ImGui::PopID();
  }
  ImGui::EndTable();
}

float judging_width() {
  const float whole = ImGui::GetIO().DisplaySize.x;
  return std::min(whole - em(1.2F), std::max(em(38), whole * 0.55F));
}

void whole_run(Session& session) {
  const auto& p = palette();
  const int rows = static_cast<int>(session.rows().size());
  ImGui::Dummy({0, em(0.3F)});
  text_in(type().strong, session.row() == rows ? p.accent : p.ink, "Class of the whole run", false);
  if (ImGui::GetContentRegionAvail().x > em(22.5F))
    ImGui::SameLine(em(14));
  else
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + em(0.2F));  // room for the frame round the digits
  const int pressed = digits("object class", 0, 5, session.object_class(), session.row() == rows);
  if (pressed >= 0) {
    session.choose_row(rows);
    session.give_object_class(pressed);
  }
  if (session.object_class()) {
    text_in(type().text, p.soft_ink,
            session.scheme().object_class_meaning(*session.object_class()) + " (provisional)");
  }
  // The keyboard's place stays in view; the answers scroll by themselves.
  static int last_row = -1;
  const bool scroll = session.row() >= rows && last_row != session.row();
  last_row = session.row();
  ImGui::Dummy({0, em(0.3F)});
  text_in(type().strong, session.row() == rows + 1 ? p.accent : p.ink, "What to do next");
  int number = 1;
  for (const auto action : coding::all_actions()) {
    const std::string label = std::to_string(number) + "  " + capital(coding::show(action));
    if (number > 1) beside_if_it_fits(label.c_str());
    if (quiet_button(label.c_str(), "", session.action() == action)) {
      session.choose_row(rows + 1);
      session.give_action(action);
    }
    ++number;
  }
  if (scroll) ImGui::SetScrollHereY(1.0F);
}

/// Do the two buttons at the foot need a line each?
bool two_lines() {
  const auto& style = ImGui::GetStyle();
  const float both = ImGui::CalcTextSize("No, not yet   Esc").x +
                     ImGui::CalcTextSize("Back to coding   F9").x + 4 * style.FramePadding.x +
                     style.ItemSpacing.x;
  return both > judging_width() - 2 * style.WindowPadding.x;
}

std::string question(const Session& session) {
  return "You have given " + session.not_given() + ": finish without " +
         (session.not_given() == "no class and no action" ? "them?" : "it?");
}

/// Room for the buttons, and for the question when it is asked, however its words wrap.
float foot_room(const Session& session) {
  const float buttons = em(3.2F) + (two_lines() ? em(2.4F) : 0);
  if (!session.asking) return buttons;
  const float width = judging_width() - 2 * ImGui::GetStyle().WindowPadding.x;
  ImGui::PushFont(type().strong);
  const float words = ImGui::CalcTextSize(question(session).c_str(), nullptr, false, width).y;
  ImGui::PopFont();
  return buttons + words + em(0.6F);
}

bool filled_button(const char* label) {
  const auto& p = palette();
  ImGui::PushStyleColor(ImGuiCol_Button, p.accent);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, p.accent);
  ImGui::PushStyleColor(ImGuiCol_ButtonActive, p.accent);
  ImGui::PushStyleColor(ImGuiCol_Text, p.accent_ink);
  const bool pressed = ImGui::Button(label, {0, em(2)});
  ImGui::PopStyleColor(4);
  return pressed;
}

bool plain_button(const char* label) {
  beside_if_it_fits(label);
  return ImGui::Button(label, {0, em(2)});
}

/// Marking stores the attempt for good, so what is missing is asked about, and coding is still open.
void judging_foot(Session& session) {
  const auto& p = palette();
  if (session.asking) {
    text_in(type().strong, p.ink, question(session));
    // The safe answer has the accent and stands first.
    if (filled_button("No, not yet   Esc")) session.press({Key::escape});
    if (plain_button("Yes, finish   Enter")) session.finish_without();
    return;
  }
  if (filled_button("Mark it   F10")) session.command(Command::finish);
  if (plain_button("Back to coding   F9")) session.command(Command::resume);
  const std::string message = session.message();
  if (!message.empty()) {
    ImGui::SameLine();
    text_in(type().text, p.accent, message);
  }
}

}  // namespace

float judging_panel_width() { return judging_width(); }

void draw_judging(Session& session) {
  const auto& io = ImGui::GetIO();
  const auto& p = palette();
  const float margin = em(0.6F);
  const float width = judging_width();
  ImGui::SetNextWindowPos({margin, top_edge(session)});
  ImGui::SetNextWindowSize({width, io.DisplaySize.y - margin - top_edge(session)});
  if (ImGui::Begin("judging", nullptr, panel)) {
    const float foot = foot_room(session);
    // All of it scrolls: with large text every line of room counts.
    ImGui::BeginChild("answers", {0, -foot});
    text_in(type().strong, p.ink, "How bad is it?");
    const auto& rows = session.rows();
    const bool provisional =
        std::any_of(rows.begin(), rows.end(), [](const auto& r) { return r.provisional; });
    text_in(type().text, p.soft_ink,
            "For each: 1 slightest to " + std::to_string(session.scheme().worst_class()) +
                " worst, or leave open. Arrows choose, digits give, Del takes a class back." +
                (provisional ? " What the scheme itself would say is provisional." : ""));
    if (session.rows().empty())
      text_in(type().text, p.soft_ink, "You logged nothing that has a class.");
    else
      defect_table(session);
    whole_run(session);
    ImGui::EndChild();
    ImGui::Separator();
    judging_foot(session);
  }
  ImGui::End();
}

}  // namespace haunch::window
