// SPDX-License-Identifier: Apache-2.0
#include "play/attempt.hpp"

#include <chrono>
#include <ctime>
#include <filesystem>
#include <random>
#include <stdexcept>

#include "base/files.hpp"

namespace haunch::play {
namespace {

std::string clock_text(const char* format) {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  ::gmtime_r(&now, &parts);
  char text[32];
  return {text, std::strftime(text, sizeof text, format, &parts)};
}

/// Which edition of a shipped file it was made with; empty when it cannot be read any more.
std::string content_hash(const std::filesystem::path& name) {
  const auto bytes = base::read_file(base::content_dir() / name);
  return bytes ? base::fingerprint(bytes.value()) : std::string();
}

}  // namespace

std::string new_attempt_id() {
  std::random_device device;
  const std::string noise = std::to_string(device()) + "/" + std::to_string(device()) + "/" +
                            std::to_string(std::chrono::steady_clock::now().time_since_epoch().count());
  return clock_text("%Y%m%dT%H%M%SZ-") + base::fingerprint(noise);
}

std::string utc_now() { return clock_text("%Y-%m-%dT%H:%M:%SZ"); }

scores::Attempt attempt_from(const Exercise& exercise, const std::string& trainee,
                             const std::string& record_json, const std::string& program) {
  if (!exercise.marking()) throw std::logic_error("an exercise is stored after it is marked");
  const marking::Marking& marking = *exercise.marking();
  scores::Attempt attempt;
  attempt.id = new_attempt_id();
  attempt.trainee = trainee;
  attempt.finished_at = utc_now();
  attempt.scenario = exercise.scene().scenario.title;
  attempt.scenario_hash = exercise.scene().scenario.hash;
  attempt.program = program;
  attempt.rules_hash = marking::Rules::shipped().fingerprint();
  attempt.scheme_hash = exercise.scheme().fingerprint();
  attempt.code_list_hash = content_hash("coding/en13508-2.json");
  attempt.score = marking.score;
  attempt.hits = marking.summary.found;
  attempt.missed = static_cast<int>(marking.missed.size());
  attempt.invented = static_cast<int>(marking.invented.size());
  if (marking.grading.given) {
    attempt.classes_right = marking.grading.right;
    attempt.classes_asked = marking.grading.asked;
    attempt.classes_right_firm = marking.grading.right_firm;
    attempt.classes_asked_firm = marking.grading.asked_firm;
  }
  if (marking.action.given) attempt.action_right = marking.action.right;
  attempt.record_json = record_json;
  attempt.marking_json = marking::to_json(marking);
  attempt.input_log = log_to_text(exercise, trainee);
  attempt.mode = show(exercise.mode());
  return attempt;
}

}  // namespace haunch::play
