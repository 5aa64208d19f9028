// SPDX-License-Identifier: Apache-2.0
// Attempts kept for good. Append-only: nothing here changes or removes a row.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace haunch::scores {

struct Attempt {
  std::string id;           ///< unique; the same attempt added twice is kept once
  std::string trainee;      ///< a code such as "coder-07"
  std::string finished_at;  ///< UTC, "2026-03-02T09:40:00Z"
  std::string scenario;     ///< title
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
  bool operator==(const Attempt&) const = default;
};

/// Throws std::runtime_error, in words, when the store cannot be opened or written.
class Store {
 public:
  /// An SQLite file, made when it is not there.
  static Store open(const std::filesystem::path& file);
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  /// Safe on disk when it returns.
  void add(const Attempt& attempt);
  /// All attempts, oldest first; of one trainee when given.
  std::vector<Attempt> attempts(const std::optional<std::string>& trainee = {}) const;

 private:
  struct Inside;
  explicit Store(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// The user's own store: user_data_dir() / "scores.sqlite".
std::filesystem::path default_store();

}  // namespace haunch::scores
