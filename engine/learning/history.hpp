// SPDX-License-Identifier: Apache-2.0
// What a person was shown of each code, trial by trial: what mastery is judged by and the order of practice
// looks back on.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "learning/evidence.hpp"

namespace haunch::learning {

/// One picture shown. Found and named of the same picture at the same time are one trial.
struct Trial {
  double at_days = 0;
  std::optional<bool> found, named;  ///< nothing where it was not asked
  double difficulty = 0;
  std::optional<double> latency_s;  ///< until it was named
  bool first_exposure = true;
  std::string instance;
  std::string answered;  ///< the code said, where it was another
  bool operator==(const Trial&) const = default;
};
/// A picture that was found, and nobody asked for its name, says nothing either way.
bool says_something(const Trial& trial);
bool found_and_named(const Trial& trial);
bool was_found(const Trial& trial);

struct CodeHistory {
  std::vector<Trial> trials;          ///< in the order they were taken in
  int last_shown = 0;                 ///< number of its latest trial among all of the person, from 1; 0 never
  std::optional<double> mastered_at;  ///< since when it is mastered without a break
  bool ever_mastered = false;
  bool operator==(const CodeHistory&) const = default;
};

struct History {
  std::map<std::string, CodeHistory> codes;
  int shown = 0;                        ///< trials in all
  std::vector<double> right_latencies;  ///< of right answers, sorted
  /// How often the first was taken for the second.
  std::map<std::pair<std::string, std::string>, int> taken_for;
  bool operator==(const History&) const = default;
};

/// Takes in what was found or named; other skills leave no trial. Returns the code's history, or nothing.
CodeHistory* take_in(History& history, const Evidence& evidence);
const CodeHistory* of_code(const History& history, const std::string& code);
/// The person's own median of right answers; nothing before there are five of them (ours).
std::optional<double> own_latency_s(const History& history);

}  // namespace haunch::learning
