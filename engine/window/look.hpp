// SPDX-License-Identifier: Apache-2.0
// Colours, type and small drawn things, in one place. Dark, and one accent; what must be told apart
// is told apart by shape and words as well, never by hue alone.
#pragma once

#include <imgui.h>
#include <filesystem>
#include <optional>
#include <string>

#include "window/review_items.hpp"
#include "window/settings.hpp"

namespace haunch::window {

struct Palette {
  ImU32 ink, soft_ink, faint_ink;  ///< text: main, secondary, hints
  ImU32 accent, accent_ink;        ///< the one accent, and text upon it
  ImU32 ground, panel, field, rule;
};
const Palette& palette();

/// Fonts and style for this height of window; call again when `look_key` changes.
struct Type {
  ImFont* text = nullptr;
  ImFont* strong = nullptr;
  ImFont* large = nullptr;
};
const Type& type();
/// Says when fonts must be made again: text size and window height folded into one number.
float text_pixels(const Settings& settings, int window_height);
/// Loads DejaVu from the usual folders of the system; without it the toolkit's own small font.
void make_type(const Settings& settings, int window_height);
void apply_style(const Settings& settings);
std::optional<std::filesystem::path> find_font(const std::string& file_name);

/// Sizes follow the text: n "ems".
float em(float n);

/// A quiet button that shows its key: "Finish  F10". True when pressed.
bool quiet_button(const char* label, const std::string& key, bool on = false);
/// The review's marks: hollow ring missed, half ring partly, cross not there, disc right, dashes unseen.
void draw_mark(ImDrawList& list, ImVec2 centre, float radius, ItemKind kind, ImU32 colour);
/// What the last item does and its key, shown above it while the pointer is on it.
void tip(const std::string& text);
void text_in(ImFont* font, ImU32 colour, const std::string& text, bool wrapped = true);

}  // namespace haunch::window
