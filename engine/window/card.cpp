// SPDX-License-Identifier: Apache-2.0
#include "window/card.hpp"

#include <algorithm>

namespace haunch::window {
namespace {

void key_row(const Binding& binding) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  text_in(type().strong, palette().accent, binding.key, false);
  ImGui::TableNextColumn();
  text_in(type().text, palette().ink, tr(binding.does));
}

}  // namespace

void key_table(const char* name, bool all) {
  float widest = 0;
  for (const auto& b : bindings()) {
    if (all || b.on_card)
      widest =
          std::max(widest, type().strong->CalcTextSizeA(type().strong->FontSize, 1e6F, 0, b.key.c_str()).x);
  }
  if (!ImGui::BeginTable(name, 2)) return;
  ImGui::TableSetupColumn("key", ImGuiTableColumnFlags_WidthFixed, widest + em(0.8F));
  ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthStretch);
  for (const auto& b : bindings()) {
    if (all || b.on_card) key_row(b);
  }
  ImGui::EndTable();
}

void centre_card(float width_em, float most_height_share) {
  const auto& io = ImGui::GetIO();
  const float width = std::min(em(width_em), io.DisplaySize.x * 0.94F);
  ImGui::SetNextWindowPos({io.DisplaySize.x / 2, io.DisplaySize.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::SetNextWindowSizeConstraints({width, 0}, {width, io.DisplaySize.y * most_height_share});
}

void typed_field(const std::string& text, float width_em) {
  const auto& p = palette();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = std::min(em(width_em), ImGui::GetContentRegionAvail().x),
              height = ImGui::GetFrameHeight();
  ImGui::Dummy({width, height});
  auto& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(at, {at.x + width, at.y + height}, p.field, em(0.3F));
  const float top = at.y + (height - ImGui::GetFontSize()) / 2;
  list.AddText({at.x + em(0.5F), top}, p.ink, text.c_str());
  const float caret = at.x + em(0.5F) + ImGui::CalcTextSize(text.c_str()).x;
  list.AddRectFilled({caret, top}, {caret + std::max(2.0F, em(0.1F)), top + ImGui::GetFontSize()}, p.accent);
}

bool filled_button(const std::string& label, float width) {
  const auto& p = palette();
  ImGui::PushStyleColor(ImGuiCol_Button, p.accent);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, p.accent);
  ImGui::PushStyleColor(ImGuiCol_ButtonActive, p.accent);
  ImGui::PushStyleColor(ImGuiCol_Text, p.accent_ink);
  const bool pressed = ImGui::Button(label.c_str(), {width, em(2)});
  ImGui::PopStyleColor(4);
  return pressed;
}

}  // namespace haunch::window
