// SPDX-License-Identifier: Apache-2.0
// Keeps what the person did: the input log as it happens, and the marked attempt in the store.
#pragma once

#include <filesystem>
#include <string>

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

}  // namespace haunch::window
