// SPDX-License-Identifier: Apache-2.0
// The journal of the input log, the attempt in the store, settings as lines of "name value".
#include "window/keeping.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <utility>

#include "base/files.hpp"
#include "base/words.hpp"
#include "exchange/record_json.hpp"
#include "play/attempt.hpp"
#include "scores/store.hpp"
#include "window/language.hpp"

namespace haunch::window {

scores::Store own_store() {
  std::error_code none;
  std::filesystem::create_directories(scores::default_store().parent_path(), none);
  return scores::Store::open(scores::default_store());
}

std::string time_to_keep(const scores::Store& store, const std::string& now, std::string& words) {
  const std::string latest = store.latest();
  if (now >= latest) return now;
  words =
      tr("The clock of this machine says {0}, and something was kept on {1} already. This is kept under that "
         "time; set the clock right.",
         {now.substr(0, 10), latest.substr(0, 10)});
  return latest;
}

namespace {

std::filesystem::path lock_file(const std::filesystem::path& journal) {
  return base::user_data_dir() / "locks" / (journal.stem().string() + ".lock");
}

/// Takes the lock of a journal: below 0 where another window has it.
int lock_of(const std::filesystem::path& journal) {
  const std::filesystem::path name = lock_file(journal);
  std::error_code none;
  std::filesystem::create_directories(name.parent_path(), none);
  const int file = ::open(name.c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0600);
  if (file < 0) return -1;
  if (::flock(file, LOCK_EX | LOCK_NB) == 0) return file;
  ::close(file);
  return -1;
}

void unlock(int& lock, const std::filesystem::path& journal) {
  if (lock < 0) return;
  std::error_code none;
  std::filesystem::remove(lock_file(journal), none);
  ::close(lock);
  lock = -1;
}

}  // namespace

Keeper::Keeper(std::string trainee)
    : trainee_(std::move(trainee)),
      log_file_(base::user_data_dir() / "logs" / (play::new_attempt_id() + ".jsonl")) {}

Keeper::~Keeper() { unlock(lock_, log_file_); }

void Keeper::journal(const play::Exercise& exercise) {
  if (journal_failed_) return;
  if (lock_ < 0) lock_ = lock_of(log_file_);
  std::error_code none;
  std::filesystem::create_directories(log_file_.parent_path(), none);
  std::string text = play::log_to_text(exercise, trainee_);
  // While it moves: the same speed once more, at this tick, says how far it has come.
  if (exercise.phase() == play::Phase::driving && exercise.speed_m_s() != 0)
    text += "{\"tick\":" + std::to_string(exercise.tick()) +
            ",\"do\":\"drive\",\"speed_m_s\":" + base::show_number(exercise.speed_m_s()) + "}\n";
  journal_failed_ = !base::write_file(log_file_, text, base::Overwrite::yes).empty();
}

namespace {

/// Did the drive come to its marks? By its inputs alone, so that no scene has to be built.
bool came_to_marks(const std::vector<play::TimedInput>& inputs) {
  bool judging = false;
  for (const play::TimedInput& one : inputs) {
    if (std::holds_alternative<play::Finish>(one.input)) {
      if (judging) return true;
      judging = true;
    }
    if (std::holds_alternative<play::Resume>(one.input)) judging = false;
  }
  return false;
}

/// "4 findings, 12 minutes": what a person knows it by.
std::string known_by(const std::vector<play::TimedInput>& inputs) {
  long logged = 0;
  for (const play::TimedInput& one : inputs) {
    logged += std::holds_alternative<play::Log>(one.input) ? 1 : 0;
    logged -= std::holds_alternative<play::Remove>(one.input) ? 1 : 0;
  }
  const long minutes = inputs.empty() ? 0 : inputs.back().tick / 3600;
  return std::to_string(logged) + (logged == 1 ? " finding" : " findings") + ", " +
         (minutes < 1 ? std::string("less than a minute")
                      : std::to_string(minutes) + (minutes == 1 ? " minute" : " minutes"));
}

}  // namespace

std::optional<Unfinished> Keeper::unfinished(const std::string& scenario_hash) const {
  std::vector<std::filesystem::path> files;
  std::error_code none;
  for (const auto& entry : std::filesystem::directory_iterator(log_file_.parent_path(), none))
    if (entry.path().extension() == ".jsonl") files.push_back(entry.path());
  std::sort(files.rbegin(), files.rend());  // they are named by when they were begun
  for (const auto& file : files) {
    const auto text = base::read_file(file);
    if (!text) continue;
    auto log = play::log_file_from_text(text.value(), file.string());
    if (!log || log.value().scenario_hash != scenario_hash || log.value().by != trainee_) continue;
    if (log.value().inputs.empty() || came_to_marks(log.value().inputs)) continue;
    int lock = lock_of(file);
    if (lock < 0) continue;  // another window is driving it
    unlock(lock, file);
    std::string words = known_by(log.value().inputs);
    return Unfinished{file, std::move(log).value().inputs, std::move(words)};
  }
  return std::nullopt;
}

bool Keeper::take_up(const Unfinished& left) {
  const int lock = lock_of(left.file);
  if (lock < 0) return false;
  unlock(lock_, log_file_);
  lock_ = lock;
  log_file_ = left.file;
  return true;
}

void Keeper::put_aside(const Unfinished& left) {
  std::filesystem::path aside = left.file;
  aside.replace_extension(".left");
  std::error_code none;
  std::filesystem::rename(left.file, aside, none);
}

std::filesystem::path Keeper::picture_file(const std::string& name) const {
  return base::user_data_dir() / "pictures" / log_file_.stem() / (name + ".png");
}

std::string Keeper::keep(const play::Exercise& exercise) {
  if (!exercise.marking()) return "Nothing to keep: the exercise is not marked.";
  journal(exercise);
  try {
    auto attempt =
        play::attempt_from(exercise, trainee_, exchange::record_to_json(exercise.record()), HAUNCH_VERSION);
    attempt.sitting = sitting_;
    auto store = own_store();
    std::string clock;
    attempt.finished_at = time_to_keep(store, attempt.finished_at, clock);
    store.add(attempt);
    std::string words = "Kept for " + trainee_ + ".";
    if (!clock.empty()) words += " " + clock;
    words += journal_failed_ ? " The input log could not be written." : " Input log: " + log_file_.string();
    return words;
  } catch (const std::exception& error) {
    return std::string("This attempt could not be kept: ") + error.what();
  }
}

namespace {
constexpr int smallest = 70, largest = 220, one_step = 15;
}

bool change(Settings& settings, Command command) {
  switch (command) {
    case Command::larger:
      larger_text(settings);
      return true;
    case Command::smaller:
      smaller_text(settings);
      return true;
    case Command::contrast:
      settings.strong_contrast = !settings.strong_contrast;
      return true;
    case Command::accent:
      settings.accent = (settings.accent + 1) % accents;
      return true;
    case Command::units:
      settings.unit =
          settings.unit == base::LengthUnit::metres ? base::LengthUnit::feet : base::LengthUnit::metres;
      return true;
    default:
      return false;
  }
}
void larger_text(Settings& settings) {
  settings.text_percent = std::min(largest, settings.text_percent + one_step);
}
void smaller_text(Settings& settings) {
  settings.text_percent = std::max(smallest, settings.text_percent - one_step);
}

namespace {

/// A name as a folder's: letters and digits stay, and what was changed is told apart by a fingerprint.
std::string folder_for(const std::string& trainee) {
  std::string name;
  for (const char c : trainee.substr(0, 40)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
    name += plain ? c : '_';
  }
  return name == trainee ? name : name + "-" + base::fingerprint(trainee);
}

std::filesystem::path last_person_file() { return base::user_data_dir() / "last-person.txt"; }

}  // namespace

std::filesystem::path settings_file(const std::string& trainee) {
  const std::filesystem::path folder = base::user_data_dir();
  return (trainee.empty() ? folder : folder / "people" / folder_for(trainee)) / "window-settings.txt";
}

Settings settings_of(const std::string& trainee) {
  std::error_code none;
  const std::filesystem::path own = settings_file(trainee);
  return read_settings(std::filesystem::exists(own, none) ? own : settings_file());
}

std::string last_person() {
  const auto text = base::read_file(last_person_file());
  return text ? base::trim(text.value()) : std::string();
}

void remember_person(const std::string& trainee) {
  // Not to know who was here last is no reason to stop.
  base::write_file(last_person_file(), trainee + "\n", base::Overwrite::yes);
}

Settings read_settings(const std::filesystem::path& file) {
  Settings settings;
  const auto text = base::read_file(file);
  if (!text) return settings;
  for (const std::string& line : base::split(text.value(), '\n')) {
    const auto words = base::split(base::trim(line), ' ');
    if (words.size() != 2) continue;
    double number = 0;
    if (words[0] == "units")
      settings.unit = words[1] == "ft" ? base::LengthUnit::feet : base::LengthUnit::metres;
    if (words[0] == "text_percent" && base::read_number(words[1], number) && std::isfinite(number)) {
      settings.text_percent = static_cast<int>(std::clamp(number, double{smallest}, double{largest}));
    }
    if (words[0] == "ring") settings.ring = words[1] != "no";
    if (words[0] == "strong_contrast") settings.strong_contrast = words[1] == "yes";
    if (words[0] == "language") settings.language = words[1];
    if (words[0] == "still") settings.still = words[1] == "yes";
    if (words[0] == "picture")
      settings.picture = words[1] == "whole"  ? PictureSize::whole
                         : words[1] == "half" ? PictureSize::half
                                              : PictureSize::automatic;
    if (words[0] == "accent" && base::read_number(words[1], number) && std::isfinite(number))
      settings.accent = static_cast<int>(std::clamp(number, 0.0, accents - 1.0));
  }
  return settings;
}

base::Problems write_settings(const std::filesystem::path& file, const Settings& settings) {
  const std::string text = std::string("units ") + (settings.unit == base::LengthUnit::feet ? "ft" : "m") +
                           "\ntext_percent " + std::to_string(settings.text_percent) + "\nstrong_contrast " +
                           (settings.strong_contrast ? "yes" : "no") + "\nring " +
                           (settings.ring ? "yes" : "no") + "\nstill " + (settings.still ? "yes" : "no") +
                           "\nlanguage " + settings.language + "\npicture " +
                           (settings.picture == PictureSize::whole  ? "whole"
                            : settings.picture == PictureSize::half ? "half"
                                                                    : "automatic") +
                           "\naccent " + std::to_string(settings.accent) + "\n";
  std::error_code none;
  std::filesystem::create_directories(file.parent_path(), none);
  return base::write_file(file, text, base::Overwrite::yes);
}

}  // namespace haunch::window
