// SPDX-License-Identifier: Apache-2.0
// What is kept for good. Append-only: nothing here changes or removes a row.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "scores/kept.hpp"

namespace haunch::scores {

/// Throws std::runtime_error, in words, when the store cannot be opened or written.
class Store {
 public:
  /// An SQLite file, made when it is not there.
  static Store open(const std::filesystem::path& file);
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  /// Safe on disk when they return. The same again is kept once; something else under the same id is refused.
  void add(const Attempt& attempt);
  void add(const Answer& answer);
  void add(const Sitting& sitting);
  void add(const Step& step);
  /// All of a kind, oldest first; of one trainee when given.
  std::vector<Attempt> attempts(const std::optional<std::string>& trainee = {}) const;
  std::vector<Answer> answers(const std::optional<std::string>& trainee = {}) const;
  std::vector<Sitting> sittings(const std::optional<std::string>& trainee = {}) const;
  std::vector<Step> steps(const std::optional<std::string>& trainee = {}) const;
  /// The newest time that anything was kept under, of anybody; empty where nothing was.
  std::string latest() const;

 private:
  struct Inside;
  explicit Store(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// The user's own store: user_data_dir() / "scores.sqlite".
std::filesystem::path default_store();

}  // namespace haunch::scores
