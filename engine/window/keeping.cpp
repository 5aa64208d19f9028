// SPDX-License-Identifier: Apache-2.0
// The journal of the input log, the attempt in the store, settings as lines of "name value".
#include "window/keeping.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <utility>

#include "base/files.hpp"
#include "base/words.hpp"
#include "exchange/record_json.hpp"
#include "play/attempt.hpp"
#include "scores/store.hpp"

namespace haunch::window {

Keeper::Keeper(std::string trainee)
    : trainee_(std::move(trainee)),
      log_file_(base::user_data_dir() / "logs" / (play::new_attempt_id() + ".jsonl")) {}

void Keeper::journal(const play::Exercise& exercise) {
  if (journal_failed_) return;
  std::error_code none;
  std::filesystem::create_directories(log_file_.parent_path(), none);
  journal_failed_ = !base::write_file(log_file_, play::log_to_text(exercise), base::Overwrite::yes).empty();
}

std::string Keeper::keep(const play::Exercise& exercise) {
  if (!exercise.marking()) return "Nothing to keep: the exercise is not marked.";
  journal(exercise);
  try {
    const auto attempt =
        play::attempt_from(exercise, trainee_, exchange::record_to_json(exercise.record()), HAUNCH_VERSION);
    scores::Store::open(scores::default_store()).add(attempt);
    std::string words = "Kept for " + trainee_ + ".";
    words += journal_failed_ ? " The input log could not be written." : " Input log: " + log_file_.string();
    return words;
  } catch (const std::exception& error) {
    return std::string("This attempt could not be kept: ") + error.what();
  }
}

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
    if (words[0] == "ring") settings.ring = words[1] != "no";
    if (words[0] == "strong_contrast") settings.strong_contrast = words[1] == "yes";
  }
  return settings;
}

base::Problems write_settings(const std::filesystem::path& file, const Settings& settings) {
  const std::string text = std::string("units ") + (settings.unit == base::LengthUnit::feet ? "ft" : "m") +
                           "\ntext_percent " + std::to_string(settings.text_percent) + "\nstrong_contrast " +
                           (settings.strong_contrast ? "yes" : "no") + "\nring " +
                           (settings.ring ? "yes" : "no") + "\n";
  return base::write_file(file, text, base::Overwrite::yes);
}

}  // namespace haunch::window
