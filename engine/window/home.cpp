// SPDX-License-Identifier: Apache-2.0
#include "window/home.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "scenario/read.hpp"
#include "scores/store.hpp"
#include "window/language.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;

/// What a person has made of a run.
struct Made {
  int times = 0;
  double best = 0;
};

std::string made_words(const Made& made) {
  if (made.times == 0) return tr("not driven yet");
  // Cut rather than rounded: only a faultless attempt reads 100.
  const std::string best = base::show_number(std::floor(made.best));
  return made.times == 1 ? tr("driven once, {0} of 100", {best})
                         : tr("driven {0} times, best {1} of 100", {std::to_string(made.times), best});
}

std::map<std::string, Made> made_by(const std::string& who, std::string& message) {
  std::map<std::string, Made> made;
  std::error_code none;
  if (who.empty() || !fs::exists(scores::default_store(), none)) return made;
  try {
    for (const auto& attempt : scores::Store::open(scores::default_store()).attempts(who)) {
      Made& one = made[attempt.scenario_hash];
      ++one.times;
      one.best = std::max(one.best, attempt.score);
    }
  } catch (const std::exception& error) {
    message = error.what();  // there is no reason not to practise
  }
  return made;
}

std::vector<fs::path> run_files() {
  std::vector<fs::path> files;
  std::error_code none;
  for (const auto& entry : fs::directory_iterator(base::content_dir() / "scenarios", none))
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

/// The guided one first, then the shorter before the longer.
bool sooner(const std::pair<double, HomeRow>& a, const std::pair<double, HomeRow>& b) {
  return a.first != b.first ? a.first < b.first : a.second.title < b.second.title;
}

HomeSection runs(const std::map<std::string, Made>& made, std::string& message) {
  std::vector<std::pair<double, HomeRow>> rows;
  for (const fs::path& file : run_files()) {
    const auto scenario = scenario::read_scenario(file);
    if (!scenario) {
      message = base::to_line(scenario.problems().front());
      continue;
    }
    const auto& run = scenario.value();
    const auto found = made.find(run.hash);
    const Made one = found == made.end() ? Made{} : found->second;
    const bool guided = file.stem() == "first-drive";
    rows.emplace_back(guided ? 0 : run.length_m,
                      HomeRow{run.title, run.job, made_words(one),
                              RunChosen{file, guided ? play::Mode::guided : play::Mode::practice}});
  }
  std::sort(rows.begin(), rows.end(), sooner);
  HomeSection section{tr("Runs to drive"), {}};
  for (auto& row : rows) section.rows.push_back(std::move(row.second));
  return section;
}

}  // namespace

Home::Home(std::string who_is_here, Settings with) : who(std::move(who_is_here)), settings(std::move(with)) {
  asking_name = who.empty();
  look_again();
}

void Home::look_again() {
  message_.clear();
  const auto made = made_by(who, message_);
  sections_ = {runs(made, message_)};
  row_ = std::clamp(row_, 0, std::max(0, rows() - 1));
}

int Home::rows() const {
  int count = 0;
  for (const HomeSection& section : sections_) count += static_cast<int>(section.rows.size());
  return count;
}

const HomeRow& Home::row_at(int row) const {
  for (const HomeSection& section : sections_) {
    if (row < static_cast<int>(section.rows.size())) return section.rows[static_cast<std::size_t>(row)];
    row -= static_cast<int>(section.rows.size());
  }
  throw std::out_of_range("no such row on the start page");
}

void Home::choose(int row) { row_ = std::clamp(row, 0, std::max(0, rows() - 1)); }

void Home::take() {
  if (rows() > 0) chosen = row_at(row_).chosen;
}

void Home::name_given() {
  const std::string given = base::trim(name.text);
  if (given.empty()) {
    message_ = tr("Type your name or a code first.");
    return;
  }
  who = given;
  asking_name = false;
  if (on_name) on_name(who);
  look_again();
}

void Home::press(const Press& press, bool repeated) {
  if (repeated && press.key != Key::up && press.key != Key::down && press.key != Key::backspace) return;
  if (const auto wanted = command_for(press); wanted == Command::quit || wanted == Command::units ||
                                              wanted == Command::larger || wanted == Command::smaller ||
                                              wanted == Command::contrast || wanted == Command::accent ||
                                              wanted == Command::full_screen || wanted == Command::language)
    return command(*wanted);
  if (asking_name) {
    if (press.key == Key::enter) name_given();
    if (press.key == Key::backspace) name.backspace();
    if (press.key == Key::escape && !who.empty()) asking_name = false;
    return;
  }
  switch (press.key) {
    case Key::up:
      return choose(row_ - 1);
    case Key::down:
      return choose(row_ + 1);
    case Key::home:
      return choose(0);
    case Key::end:
      return choose(rows() - 1);
    case Key::enter:
      return take();
    default:
      return;
  }
}

void Home::type(const std::string& utf8, bool /*repeated*/) {
  if (asking_name) name.insert(utf8);
}

void Home::command(Command wanted) {
  switch (wanted) {
    case Command::quit:
      chosen = Leave{};
      return;
    case Command::log:
      return take();
    case Command::units:
      settings.unit =
          settings.unit == base::LengthUnit::metres ? base::LengthUnit::feet : base::LengthUnit::metres;
      return look_again();
    case Command::larger:
      return larger_text(settings);
    case Command::smaller:
      return smaller_text(settings);
    case Command::contrast:
      settings.strong_contrast = !settings.strong_contrast;
      return;
    case Command::accent:
      settings.accent = (settings.accent + 1) % accents;
      return;
    case Command::full_screen:
      full_screen_wanted = !full_screen_wanted;
      return;
    default:
      return;
  }
}

}  // namespace haunch::window
