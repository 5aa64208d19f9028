// SPDX-License-Identifier: Apache-2.0
// The journal of the input log, and the attempt in the store.
#include "window/keeping.hpp"

#include <exception>
#include <utility>

#include "base/files.hpp"
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

}  // namespace haunch::window
