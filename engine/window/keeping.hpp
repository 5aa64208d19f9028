// SPDX-License-Identifier: Apache-2.0
// What outlasts the window: the person's settings, the input log as it happens, and the marked attempt
// in the store.
#pragma once

#include <filesystem>
#include <string>

#include "base/result.hpp"
#include "base/units.hpp"
#include "play/exercise.hpp"

namespace haunch::window {

class Keeper {
 public:
  explicit Keeper(std::string trainee);

  /// The input log so far, replaced whole after each input, so that a killed program loses nothing.
  void journal(const play::Exercise& exercise);
  /// Stores the attempt; says in words where, or why not: marks are shown either way.
  std::string keep(const play::Exercise& exercise);
  const std::filesystem::path& log_file() const { return log_file_; }

 private:
  std::string trainee_;
  std::filesystem::path log_file_;
  bool journal_failed_ = false;
};

struct Settings {
  base::LengthUnit unit = base::LengthUnit::metres;
  int text_percent = 100;  ///< 70 .. 220
  bool strong_contrast = false;
  bool ring = true;  ///< on the wall where the distance is read
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
