// SPDX-License-Identifier: Apache-2.0
// What is kept of people's practice, for good. Times are UTC, "2026-03-02T09:40:00Z".
#pragma once

#include <optional>
#include <string>

namespace haunch::scores {

/// One run that was coded and marked.
struct Attempt {
  std::string id;       ///< unique; the same attempt added twice is kept once
  std::string trainee;  ///< a code such as "coder-07"
  std::string finished_at;
  std::string scenario;  ///< title
  std::string scenario_hash;
  std::string program;  ///< version of haunch
  std::string rules_hash, scheme_hash, code_list_hash;
  double score = 0;  ///< 0..100
  int hits = 0, missed = 0, invented = 0;
  std::optional<int> classes_right, classes_asked;
  /// Of these, those that rest on no provisional row of the scheme: only they may pass or fail anyone.
  /// Nothing where nobody counted them.
  std::optional<int> classes_right_firm, classes_asked_firm;
  std::optional<bool> action_right;
  std::string record_json;   ///< what the trainee wrote
  std::string marking_json;  ///< how it was marked
  std::string input_log;     ///< replays the exercise
  std::string mode{};        ///< "practice", "guided", "exam"; empty where it was not kept
  std::string sitting{};     ///< id of the sitting of an exam that it belongs to; else empty
  bool operator==(const Attempt&) const = default;
};

/// One question of a drill or an exam that was answered.
struct Answer {
  std::string id;  ///< unique
  std::string trainee;
  std::string answered_at;
  std::string kind;          ///< of the question: "name it"
  std::string skill;         ///< "named", "sized", "clock" ..
  std::string code;          ///< the main code that it is about; empty where it is about none
  std::string instance;      ///< of what was shown: two of the same would have been the same picture
  std::string given, right;  ///< in words or as a code
  double credit = 0;         ///< 0 wrong .. 1 right
  double guess = 0;  ///< chance of being right by guessing; 0 where nothing was offered to choose from
  std::optional<double> seconds;  ///< from the question to the answer
  /// What there was to see: share of the picture, contrast of white, share that was hidden (each 0..1), time
  /// in view. Nothing where it was not measured.
  std::optional<double> share, contrast, hidden, in_view_s;
  std::string sitting{};  ///< as of an attempt
  bool operator==(const Answer&) const = default;
};

/// An exam that somebody sat down to. Its attempts and answers carry its id; what came of it is worked out
/// from them, so one that was broken off shows.
struct Sitting {
  std::string id;  ///< unique
  std::string trainee;
  std::string started_at;
  std::string exam;  ///< title
  std::string exam_hash;
  std::string seed;  ///< everybody's with the same one had the same questions
  bool operator==(const Sitting&) const = default;
};

/// A step of a course that needs no marks and was gone through: a lesson that was read.
struct Step {
  std::string id;  ///< unique
  std::string trainee;
  std::string done_at;
  std::string course, step;  ///< their ids
  bool operator==(const Step&) const = default;
};

}  // namespace haunch::scores
