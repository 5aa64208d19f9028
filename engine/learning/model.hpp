// SPDX-License-Identifier: Apache-2.0
// The numbers behind what a person is taken to know and what is practised next: content/learning/model.json,
// where each section has its source or says that it is ours.
#pragma once

#include <array>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "learning/evidence.hpp"

namespace haunch::learning {

struct Family {
  std::string id, title;
  std::vector<std::string> codes;
  bool operator==(const Family&) const = default;
};

struct DifficultyRules {
  double usual_share = 0, usual_contrast = 0, usual_seconds = 0;
  double per_share_halving = 0, per_contrast_halving = 0, per_seconds_halving = 0;
  double when_hidden = 0, most = 0;
};
struct Prior {
  std::array<double, all_skills.size()> mean{};  ///< by Skill
  double global_sd = 0, family_sd = 0, code_sd = 0;
};
struct PracticeRules {
  double gain = 0, gain_sd = 0, drift_sd = 0;
};
struct MemoryRules {
  double half_life_days = 0, times_when_right = 0, times_when_wrong = 0, shortest_days = 0, longest_days = 0;
};
/// The published shape P = a (N - D) [b (1 - e) ln(RT / r) + e W], with what is needed added in the bracket.
struct OrderRules {
  int gap = 0;                                ///< D
  double per_trial_since = 0;                 ///< a
  double slow_answer = 0, usual_latency = 0;  ///< b, and r in the person's own medians
  double error = 0;                           ///< W
  double need = 0, new_code = 0, recheck = 0;
  int most_trials_since = 0;
  double confusable_times = 1;
  double aim_low = 0, aim_high = 0;
  double easiest = 0, hardest = 0;
  int new_at_once = 0, firm_after_right = 0, enough_right_a_day = 0;
};
struct MasteryRules {
  int least_trials = 0, least_days = 0;
  double least_bound = 0;
  int last_found = 0, most_counted = 0;
  double least_difficulty = 0, latency_times_own = 0, most_confused = 0;
  std::vector<double> recheck_days;  ///< rising
};

struct Model {
  std::string title;
  std::vector<Family> families;
  std::vector<std::string> codes;      ///< of all families, in their order
  std::vector<std::size_t> family_of;  ///< by place in `codes`
  std::vector<std::pair<std::string, std::string>> confusable;
  DifficultyRules difficulty;
  Prior prior;
  PracticeRules practice;
  MemoryRules memory;
  OrderRules order;
  MasteryRules mastery;

  static constexpr std::size_t none = static_cast<std::size_t>(-1);
  /// Place in `codes`, or none.
  std::size_t place_of(const std::string& code) const;
};

/// All problems of the file, with their places: also a code that the code list does not have, has in no
/// family or in two.
base::Result<Model> read_model(const std::filesystem::path& path);
base::Result<Model> read_model_text(const std::string& text, const std::string& file_name);
/// content/learning/model.json; throws std::runtime_error where it is damaged.
const Model& shipped_model();

/// What of a picture makes it hard.
struct Measures {
  double share_of_picture = 0;  ///< 0..1 that the thing covers
  double contrast = 0;          ///< 0..1 against what is round it
  double hidden_share = 0;      ///< 0..1 of it behind something
  double seconds_in_view = 0;
};
/// In logits, 0 for what is usual, never beyond the model's most; whatever cannot be seen at all is the
/// hardest.
double difficulty_of(const Measures& measures, const DifficultyRules& rules);

}  // namespace haunch::learning
