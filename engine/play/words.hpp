// SPDX-License-Identifier: Apache-2.0
// The phrases people use and what they say about an observation (content/coding/words.json).
#pragma once

#include <filesystem>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/code_list.hpp"

namespace haunch::play {

/// Part of a code.
struct Meaning {
  std::string code, ch1, ch2;
  std::string usual_ch1, usual_ch2;  ///< where nothing else says it
  bool operator==(const Meaning&) const = default;
};

struct SaidClock {
  int from = 12;
  std::optional<int> to;
  bool operator==(const SaidClock&) const = default;
};

/// One way to say it, as single words.
struct Phrase {
  std::string said;  ///< "offset joint"
  std::vector<std::string> words;
  std::vector<Meaning> means;  ///< by itself
  std::vector<Meaning> adds;   ///< to a code that something else brought
  std::optional<SaidClock> clock;
  bool joint = false;
  char stretch = 0;  ///< 'A' begins, 'B' ends
  /// It says something even when it fits no code.
  bool stands_alone() const { return clock || joint || stretch != 0; }
};

struct Words {
  std::vector<Phrase> phrases;
  std::set<std::string> ignored, vague;
  std::set<std::string> measures;   ///< "wide", "deep": said already by a size, vague without one
  std::vector<std::string> single;  ///< every word known, for "did you mean"

  /// Reads the file and checks every code and letter in it against the list.
  static base::Result<Words> read(const std::filesystem::path& path, const coding::CodeList& list);
  /// content/coding/words.json; throws std::runtime_error when the content folder is damaged.
  static const Words& shipped();
};

}  // namespace haunch::play
