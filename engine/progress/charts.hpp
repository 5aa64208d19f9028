// SPDX-License-Identifier: Apache-2.0
// Pictures of an overview as SVG. Inside this room.
#pragma once

#include <string>

#include "progress/overview.hpp"

namespace haunch::progress {

/// Share found and named over time, with its 95 % interval; empty where there is nothing to draw.
std::string trend_svg(const std::vector<Period>& trend);
/// Of each run: what was missed upwards, what was written down and not there downwards.
std::string calls_svg(const std::vector<RunLine>& runs);
/// One share with its interval on a line from 0 to 100 %.
std::string interval_svg(const Counted& counted);

}  // namespace haunch::progress
