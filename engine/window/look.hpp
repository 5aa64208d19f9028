// SPDX-License-Identifier: Apache-2.0
// Colours, type, small drawn things and the panels drawn over the picture. Dark, and one accent; what
// must be told apart is told apart by shape and words as well, never by hue alone. Each panel draws
// from the session and calls back into it.
#pragma once

#include <imgui.h>
#include <filesystem>
#include <optional>
#include <string>

#include "window/picture.hpp"
#include "window/review_items.hpp"
#include "window/session.hpp"

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
bool quiet_button(const std::string& label, const std::string& key, bool on = false);
/// Stays on the line when a button of this label still fits on it.
void beside_if_it_fits(const std::string& label);
/// The review's marks: hollow ring missed, half ring partly, cross not there, disc right, dashes unseen.
void draw_mark(ImDrawList& list, ImVec2 centre, float radius, ItemKind kind, ImU32 colour);
/// What the last item does and its key, shown above it while the pointer is on it.
void tip(const std::string& text);
void text_in(ImFont* font, ImU32 colour, const std::string& text, bool wrapped = true);
/// The text with line ends where the present font needs them for this width, between words only: the toolkit
/// itself would part "0.45 m" at its point.
std::string by_words(const std::string& text, float width);

/// Lines on the wall, in pixels of the picture.
struct WallLines {
  std::vector<std::vector<Place>> ring;   ///< where the counter reads
  std::vector<std::vector<Place>> hours;  ///< of what is there, and what was logged
};
/// The picture from `left` to the right edge, and the lines upon it.
void draw_picture(ImTextureID texture, const Picture::Image& image, float left, const WallLines& lines);

/// The picture as it was drawn last, for what is drawn upon it.
struct ShownPicture {
  scene::CameraPose pose;
  int width = 0, height = 0;  ///< of the picture itself; 0: none yet
  ImVec2 from;                ///< where its corner is on the screen
  float scale = 1;            ///< pixels of the screen for one of its own
  ImVec2 on_screen(const Place& place) const {
    return {from.x + scale * static_cast<float>(place.x), from.y + scale * static_cast<float>(place.y)};
  }
};
const ShownPicture& shown_picture();
void draw_start_card(Session& session);
void draw_help(Session& session);
void draw_foot(Session& session);
void draw_log_list(Session& session);
void draw_code_menu(Session& session);
void draw_guide(Session& session);
/// What a guided run says now, at the top.
void draw_coach(const Session& session);
/// The clock on the wall while the menu asks for a clock position; the plumb mark while it is turned.
void draw_dial(Session& session);
void draw_long_section(Session& session);
void draw_judging(Session& session);
void draw_review(Session& session);

/// Height of the foot in pixels, so that panels end above it.
float foot_height();
/// Where the words above the foot begin, however many lines they take: panels end there.
float room_above_words();
float judging_panel_width();
float review_width();
/// Left edge of what the picture has to itself: 0, or right of the panel that judges or reviews.
float picture_left(const Session& session);
/// Where panels may begin: below the long section while that is open.
float top_edge(const Session& session);

}  // namespace haunch::window
