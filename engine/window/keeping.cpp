// SPDX-License-Identifier: Apache-2.0
// The journal of the input log, and the attempt in the store.
#include "window/keeping.hpp"

#include <chrono>
#include <ctime>
#include <exception>
#include <random>
#include <utility>

#include "base/files.hpp"
#include "exchange/record_json.hpp"
#include "scores/store.hpp"

namespace haunch::window {
namespace {

std::string utc_now(const char* form) {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  gmtime_r(&now, &parts);
  char text[32] = {};
  std::strftime(text, sizeof text, form, &parts);
  return text;
}

/// A name no other attempt has, sortable by when it began.
std::string new_id() {
  std::random_device dice;
  const std::string noise = std::to_string(dice()) + "/" + std::to_string(dice());
  return utc_now("%Y%m%d-%H%M%S-") + base::fingerprint(noise).substr(0, 8);
}

std::string fingerprint_of(const std::filesystem::path& file) {
  const auto bytes = base::read_file(file);
  return bytes ? base::fingerprint(bytes.value()) : std::string();
}

scores::Attempt attempt_of(const play::Exercise& exercise) {
  const marking::Marking& marking = *exercise.marking();
  const auto content = base::content_dir();
  scores::Attempt attempt;
  attempt.scenario = exercise.scene().scenario.title;
  attempt.scenario_hash = exercise.scene().scenario.hash;
  attempt.program = "0.1.0";
  attempt.rules_hash = fingerprint_of(content / "marking" / "rules.json");
  attempt.scheme_hash = fingerprint_of(content / "grading" / "three-goals.json");
  attempt.code_list_hash = fingerprint_of(content / "coding" / "en13508-2.json");
  attempt.score = marking.score;
  attempt.hits = static_cast<int>(marking.hits.size());
  attempt.missed = static_cast<int>(marking.missed.size());
  attempt.invented = static_cast<int>(marking.invented.size());
  if (marking.grading.given) {
    attempt.classes_right = marking.grading.right;
    attempt.classes_asked = marking.grading.asked;
  }
  if (marking.action.given) attempt.action_right = marking.action.right;
  attempt.record_json = exchange::record_to_json(exercise.record());
  attempt.marking_json = marking::to_json(marking);
  attempt.input_log = play::log_to_text(exercise);
  return attempt;
}

}  // namespace

Keeper::Keeper(std::string trainee)
    : trainee_(std::move(trainee)),
      id_(new_id()),
      log_file_(base::user_data_dir() / "logs" / (id_ + ".jsonl")) {}

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
    scores::Attempt attempt = attempt_of(exercise);
    attempt.id = id_;
    attempt.trainee = trainee_;
    attempt.finished_at = utc_now("%Y-%m-%dT%H:%M:%SZ");
    scores::Store::open(scores::default_store()).add(attempt);
    std::string words = "Kept for " + trainee_ + ".";
    words += journal_failed_ ? " The input log could not be written." : " Input log: " + log_file_.string();
    return words;
  } catch (const std::exception& error) {
    return std::string("This attempt could not be kept: ") + error.what();
  }
}

}  // namespace haunch::window
