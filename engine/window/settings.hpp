// SPDX-License-Identifier: Apache-2.0
// What a person sets once and keeps: units, text size, contrast.
#pragma once

#include <filesystem>

#include "base/result.hpp"
#include "base/units.hpp"

namespace haunch::window {

struct Settings {
  base::LengthUnit unit = base::LengthUnit::metres;
  int text_percent = 100;  ///< 70 .. 220
  bool strong_contrast = false;
  bool operator==(const Settings&) const = default;
};

void larger_text(Settings& settings);
void smaller_text(Settings& settings);

/// user_data_dir() / "window-settings.txt". A missing or damaged file gives the defaults: a
/// setting is never a reason not to start.
std::filesystem::path settings_file();
Settings read_settings(const std::filesystem::path& file);
base::Problems write_settings(const std::filesystem::path& file, const Settings& settings);

}  // namespace haunch::window
