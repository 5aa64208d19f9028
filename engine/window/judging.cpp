// SPDX-License-Identifier: Apache-2.0
// The trainee grades: a class per goal for each defect, the run's class, what to do next.
#include <algorithm>

#include "base/words.hpp"
#include "window/card.hpp"

namespace haunch::window {
namespace {

constexpr double short_of_end_m = 0.3;

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
  text_in(type().strong, session.row() == rows ? p.accent : p.ink, tr("Class of the whole run"), false);
  if (ImGui::GetContentRegionAvail().x > em(22.5F))
    ImGui::SameLine(em(14));
  else
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + em(0.2F));  // room for the frame round the digits
  const int pressed = digits("object class", 0, 5, session.object_class(), session.row() == rows);
  if (pressed >= 0) {
    session.choose_row(rows);
    session.give_object_class(pressed);
  }
  // Its line is there from the start, or the buttons below would jump under the pointer.
  if (!session.object_class()) {
    text_in(type().text, p.faint_ink, tr("0 nothing to do, 5 act at once"));
  } else {
    text_in(type().text, p.soft_ink,
            tr("{0} (provisional)", {session.scheme().object_class_meaning(*session.object_class())}));
  }
  // The keyboard's place stays in view; the answers scroll by themselves.
  static int last_row = -1;
  const bool scroll = session.row() >= rows && last_row != session.row();
  last_row = session.row();
  ImGui::Dummy({0, em(0.3F)});
  text_in(type().strong, session.row() == rows + 1 ? p.accent : p.ink, tr("What to do next"));
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
  const float both = ImGui::CalcTextSize(tr("No, not yet   Esc").c_str()).x +
                     ImGui::CalcTextSize(tr("Back to coding   F9").c_str()).x + 4 * style.FramePadding.x +
                     style.ItemSpacing.x;
  return both > judging_width() - 2 * style.WindowPadding.x;
}

std::string question(const Session& session) {
  const std::string missing = session.not_given();
  if (missing == "no class and no action")
    return tr("You have given no class and no action: finish without them?");
  return missing == "no class" ? tr("You have given no class: finish without it?")
                               : tr("You have given no action: finish without it?");
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

bool plain_button(const std::string& label) {
  beside_if_it_fits(label);
  return ImGui::Button(label.c_str(), {0, em(2)});
}

/// Marking stores the attempt for good, so what is missing is asked about, and coding is still open.
void judging_foot(Session& session) {
  const auto& p = palette();
  if (session.asking) {
    text_in(type().strong, p.ink, question(session));
    // The safe answer has the accent and stands first.
    if (filled_button(tr("No, not yet   Esc"))) session.press({Key::escape});
    if (plain_button(tr("Yes, finish   Enter"))) session.finish_without();
    return;
  }
  if (session.waiting_to_mark()) {
    text_in(type().strong, p.accent,
            tr("Marked in a moment: what a careful drive could have shown is still being looked at."));
    return;
  }
  if (filled_button(tr("Mark it   F10"))) session.command(Command::finish);
  if (session.exercise().mode() != play::Mode::exam && plain_button(tr("Back to coding   F9")))
    session.command(Command::resume);
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
  if (ImGui::Begin("judging", nullptr, card)) {
    const float foot = foot_room(session);
    // All of it scrolls: with large text every line of room counts.
    ImGui::BeginChild("answers", {0, -foot});
    text_in(type().strong, p.ink, tr("How bad is it?"));
    const play::Exercise& exercise = session.exercise();
    const double left_m = exercise.scene().length_m() - exercise.furthest_m();
    if (left_m > short_of_end_m && !exercise.at_stop())
      text_in(type().text, p.accent,
              tr("The last {0} of the run were not looked at: what is there counts as missed.",
                 {base::show_distance(left_m, session.settings.unit)}));
    const auto& rows = session.rows();
    const bool provisional =
        std::any_of(rows.begin(), rows.end(), [](const auto& r) { return r.provisional; });
    text_in(
        type().text, p.soft_ink,
        tr("For each: 1 slightest to {0} worst, or leave open. Arrows choose, digits give, Del takes a class "
           "back.",
           {std::to_string(session.scheme().worst_class())}) +
            (provisional
                 ? " " + tr("For practice: the classes you are held to are not from a source that was read.")
                 : std::string()));
    if (session.rows().empty())
      text_in(type().text, p.soft_ink, tr("You logged nothing that has a class."));
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
