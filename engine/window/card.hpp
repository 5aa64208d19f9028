// SPDX-License-Identifier: Apache-2.0
// What cards over the picture have in common. Inside this room.
#pragma once

#include "window/language.hpp"
#include "window/look.hpp"

namespace haunch::window {

inline constexpr ImGuiWindowFlags card = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove |
                                         ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoSavedSettings |
                                         ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoCollapse;

/// The next window stands in the middle, so wide and no higher than this share of the screen.
void centre_card(float width_em, float most_height_share);
/// Keys and what they do: all, or the few that a beginner needs.
void key_table(const char* name, bool all);
/// What is being typed, with a caret at its end, so many ems wide.
void typed_field(const std::string& text, float width_em);
/// A button in the accent: what is usually wanted here.
bool filled_button(const std::string& label, float width = 0);

}  // namespace haunch::window
