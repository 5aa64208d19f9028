// SPDX-License-Identifier: Apache-2.0
// What outlasts the window: the person's settings, the input log as it happens, and the marked attempt
// in the store.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/units.hpp"
#include "play/exercise.hpp"
#include "scores/store.hpp"
#include "window/keys.hpp"
#include "window/quality.hpp"

namespace haunch::window {

/// A drive that was begun and not marked, from its journal.
struct Unfinished {
  std::filesystem::path file;
  std::vector<play::TimedInput> inputs;
  std::string words;  ///< "of 27 November, 05:19: 4 findings, 12 minutes"
};

/// The user's own store; its folder is made where it is not there. Throws as scores::Store does.
scores::Store own_store();
/// The time to keep something under: now, by this machine's clock; where that stands before what was kept
/// last, the time of that, so that nobody's practice goes back in time. Then `words` says so.
std::string time_to_keep(const scores::Store& store, const std::string& now, std::string& words);

class Keeper {
 public:
  explicit Keeper(std::string trainee);
  ~Keeper();
  Keeper(const Keeper&) = delete;
  Keeper& operator=(const Keeper&) = delete;

  const std::string& trainee() const { return trainee_; }
  void kept_under(std::string trainee) { trainee_ = std::move(trainee); }
  void belongs_to(std::string sitting) { sitting_ = std::move(sitting); }  ///< of an exam
  /// The newest journal of this person's on this very scenario that came to no end; nothing where there is
  /// none.
  std::optional<Unfinished> unfinished(const std::string& scenario_hash) const;
  /// Goes on in that journal, or puts it aside under another name: it is kept, and not asked about again.
  /// False where another window is just doing that.
  bool take_up(const Unfinished& left);
  static void put_aside(const Unfinished& left);
  /// Where pictures of this exercise are kept.
  std::filesystem::path picture_file(const std::string& name) const;

  /// The input log so far, replaced whole after each input, so that a killed program loses nothing.
  void journal(const play::Exercise& exercise);
  /// Stores the attempt; says in words where, or why not: marks are shown either way.
  std::string keep(const play::Exercise& exercise);
  const std::filesystem::path& log_file() const { return log_file_; }

 private:
  std::string trainee_, sitting_;
  std::filesystem::path log_file_;
  bool journal_failed_ = false;
  int lock_ = -1;  ///< held while this window writes the journal; a killed one lets go by itself
};

struct Settings {
  base::LengthUnit unit = base::LengthUnit::metres;
  int text_percent = 100;  ///< 70 .. 220
  bool strong_contrast = false;
  bool ring = true;    ///< on the wall where the distance is read
  bool still = false;  ///< nothing fades or is blurred by movement
  PictureSize picture = PictureSize::automatic;
  std::string language = "en";
  int accent = 0;  ///< which of the accents; each is told from the ground and the inks by lightness alone
  bool operator==(const Settings&) const = default;
};

inline constexpr int accents = 3;

/// What a key or button for text size, contrast, accent or units changes; false where it is for something
/// else.
bool change(Settings& settings, Command command);
void larger_text(Settings& settings);
void smaller_text(Settings& settings);

/// A person's own: user_data_dir() / "people" / their name / "window-settings.txt"; for nobody yet the one
/// that all begin from, user_data_dir() / "window-settings.txt". A missing or damaged file gives the
/// defaults: a setting is never a reason not to start.
std::filesystem::path settings_file(const std::string& trainee = {});
/// Those of a person, or where they have none those that all begin from.
Settings settings_of(const std::string& trainee);
/// Who was here last, or empty.
std::string last_person();
void remember_person(const std::string& trainee);
Settings read_settings(const std::filesystem::path& file);
base::Problems write_settings(const std::filesystem::path& file, const Settings& settings);

}  // namespace haunch::window
