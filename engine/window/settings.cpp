// SPDX-License-Identifier: Apache-2.0
// Settings as lines of "name value".
#include "window/settings.hpp"

#include <algorithm>
#include <cmath>

#include "base/files.hpp"
#include "base/words.hpp"

namespace haunch::window {
namespace {
constexpr int smallest = 70, largest = 220, one_step = 15;
}

void larger_text(Settings& settings) {
  settings.text_percent = std::min(largest, settings.text_percent + one_step);
}
void smaller_text(Settings& settings) {
  settings.text_percent = std::max(smallest, settings.text_percent - one_step);
}

std::filesystem::path settings_file() { return base::user_data_dir() / "window-settings.txt"; }

Settings read_settings(const std::filesystem::path& file) {
  Settings settings;
  const auto text = base::read_file(file);
  if (!text) return settings;
  for (const std::string& line : base::split(text.value(), '\n')) {
    const auto words = base::split(base::trim(line), ' ');
    if (words.size() != 2) continue;
    double number = 0;
    if (words[0] == "units")
      settings.unit = words[1] == "ft" ? base::LengthUnit::feet : base::LengthUnit::metres;
    if (words[0] == "text_percent" && base::read_number(words[1], number) && std::isfinite(number)) {
      settings.text_percent = static_cast<int>(std::clamp(number, double{smallest}, double{largest}));
    }
    if (words[0] == "strong_contrast") settings.strong_contrast = words[1] == "yes";
  }
  return settings;
}

base::Problems write_settings(const std::filesystem::path& file, const Settings& settings) {
  const std::string text = std::string("units ") + (settings.unit == base::LengthUnit::feet ? "ft" : "m") +
                           "\ntext_percent " + std::to_string(settings.text_percent) + "\nstrong_contrast " +
                           (settings.strong_contrast ? "yes" : "no") + "\n";
  return base::write_file(file, text, base::Overwrite::yes);
}

}  // namespace haunch::window
