// SPDX-License-Identifier: Apache-2.0
// What a guided run says: one thing to do at a time, worked out from where the exercise stands, so that it
// follows whatever the person does.
#pragma once

#include <string>

#include "window/session.hpp"

namespace haunch::window {

/// In words; empty where there is nothing to say (no guided run, or it is over).
std::string coach_words(const Session& session);

}  // namespace haunch::window
