// SPDX-License-Identifier: Apache-2.0
// Everything that is drawn over the picture. Each draws from the session and calls back into it.
#pragma once

#include "window/session.hpp"

namespace haunch::window {

void draw_start_card(Session& session);
void draw_help(Session& session);
void draw_foot(Session& session);
void draw_log_list(Session& session);
void draw_code_menu(Session& session);
/// The clock ring over the picture, while the menu asks for a clock position.
void draw_dial(Session& session);
void draw_long_section(Session& session);
void draw_judging(Session& session);
void draw_review(Session& session);

/// Height of the foot in pixels, so that panels end above it.
float foot_height();
float judging_panel_width();
float review_width();
/// Left edge of what the picture has to itself: 0, or right of the panel that judges or reviews.
float picture_left(const Session& session);
/// Where panels may begin: below the long section while that is open.
float top_edge(const Session& session);

}  // namespace haunch::window
