// SPDX-License-Identifier: Apache-2.0
// What a trainee does beside driving and writing down: setting the counter and the mark for the bottom,
// asking for a hint, keeping a picture.
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/clock.hpp"
#include "base/units.hpp"
#include "coding/code_list.hpp"
#include "play/exercise.hpp"
#include "play/say.hpp"

namespace haunch::play {
namespace {

constexpr double hint_reach_m = 1.0;   // of the ring: what is farther off is driven up to first; ours
constexpr double logged_near_m = 0.5;  // a mark with the same code so near stands for it; ours
constexpr double most_counter_off_m = 1000;
constexpr std::size_t most_pictures = 200;  // of one exercise: a key held down fills no disk
constexpr int name_level = 3;

/// How far a mark on the screen is from where the bottom shows, clockwise.
double off_bottom_h(double on_screen_h, double roll_deg) {
  return std::remainder(on_screen_h - base::on_screen_hour(6, roll_deg), 12.0);
}

}  // namespace

std::string show(Mode mode) {
  switch (mode) {
    case Mode::practice:
      return "practice";
    case Mode::guided:
      return "guided";
    case Mode::exam:
      return "exam";
  }
  return {};
}

std::optional<Mode> mode_from(const std::string& word) {
  for (const Mode mode : {Mode::practice, Mode::guided, Mode::exam})
    if (word == show(mode)) return mode;
  return std::nullopt;
}

base::Problems Exercise::begin(const Begin& input) {
  if (!log_.empty()) return say("the exercise has begun", "the kind of exercise before anything else");
  mode_ = input.mode;
  return {};
}

base::Problems Exercise::set_plumb(const SetPlumb& input) {
  if (auto problems = in_phase(Phase::driving, "setting the mark for the bottom"); !problems.empty())
    return problems;
  if (!std::isfinite(input.on_screen_h))
    return say("the mark is at no hour", "an hour on the screen, 0 to 12");
  if (turned()) return say("the head is turned aside", "a look along the pipe");
  plumbs_.push_back({counter_m(), off_bottom_h(input.on_screen_h, pose().roll_deg)});
  return {};
}

base::Problems Exercise::set_counter(const SetCounter& input) {
  if (auto problems = in_phase(Phase::driving, "setting the counter"); !problems.empty()) return problems;
  if (!std::isfinite(input.reads_m) || std::abs(input.reads_m) > most_counter_off_m)
    return say("the counter cannot read that", "a distance in m");
  counter_off_m_ += input.reads_m - counter_m();
  return {};
}

double Exercise::bottom_on_screen_h() const { return base::on_screen_hour(6, pose().roll_deg); }

std::vector<std::string> Exercise::left_to_write() const {
  std::vector<std::string> left;
  const coding::Record truth = expected();
  for (const coding::Observation& one : truth.observations) {
    if (!one.distance_m.value || (!one.stretch.empty() && one.stretch[0] != 'A')) continue;
    const bool unseen =
        std::any_of(truth.not_visible.begin(), truth.not_visible.end(),
                    [&](const coding::NotVisible& entry) { return entry.observation == one.id; });
    const double there_m = *one.distance_m.value + counter_off_m_;
    const bool logged =
        std::any_of(record_.observations.begin(), record_.observations.end(), [&](const auto& mark) {
          return mark.code == one.code && mark.distance_m.value &&
                 std::abs(*mark.distance_m.value - there_m) < logged_near_m;
        });
    if (!unseen && !logged) left.push_back(one.id);
  }
  return left;
}

Exercise::Hint Exercise::next_hint() const {
  Hint hint{counter_m(), 0, {}};
  double nearest_m = hint_reach_m;
  for (const std::string& id : left_to_write()) {
    const double off_m =
        std::abs(*truth_.record.find(id)->distance_m.value + counter_off_m_ - hint.distance_m);
    if (off_m >= nearest_m) continue;
    nearest_m = off_m;
    hint.truth = id;
  }
  if (hint.truth.empty()) return hint;
  // Asked again, it says more.
  for (const Hint& before : hints_)
    if (before.truth == hint.truth) hint.level = std::max(hint.level, before.level);
  hint.level = std::min(hint.level + 1, name_level);
  return hint;
}

base::Problems Exercise::take_hint() {
  if (auto problems = in_phase(Phase::driving, "a hint"); !problems.empty()) return problems;
  if (mode_ == Mode::exam) return say("there are no hints in an exam", "what you see yourself");
  hints_.push_back(next_hint());
  return {};
}

std::string Exercise::in_words(const Hint& hint) const {
  const coding::Observation* there = hint.truth.empty() ? nullptr : truth_.record.find(hint.truth);
  if (there == nullptr) return "There is nothing within reach here that you have not written down.";
  const std::string place = show(*there->distance_m.value + counter_off_m_);
  const coding::CodeEntry* entry = coding::CodeList::shipped().find(there->code);
  if (hint.level >= name_level)
    return "At " + place + ": " + there->code + (entry == nullptr ? "" : ", " + entry->name) + ".";
  if (hint.level == 2) {
    const std::string group = entry == nullptr ? std::string() : entry->group;
    const char* kind = group == "fabric"          ? "a matter of the pipe's wall and joints"
                       : group == "operation"     ? "something that is in the pipe or comes in"
                       : group == "inventory"     ? "a fitting, an end or a turn of the pipe"
                       : group == "header-change" ? "a change of the pipe itself"
                                                  : "a matter of water or of the inspection";
    return "At " + place + " there is " + kind + ".";
  }
  return "There is something at " + place + " that you have not written down.";
}

base::Problems Exercise::keep_picture(const KeepPicture& input) {
  if (auto problems = in_phase(Phase::driving, "keeping a picture"); !problems.empty()) return problems;
  if (pictures_.size() >= most_pictures)
    return say("so many pictures cannot be kept", "at most " + std::to_string(most_pictures));
  const auto found = std::find_if(record_.observations.begin(), record_.observations.end(),
                                  [&](const coding::Observation& row) { return row.id == input.id; });
  if (!input.id.empty() && found == record_.observations.end())
    return say("there is no finding " + input.id, "one that was written down");
  char name[32];
  std::snprintf(name, sizeof name, "picture-%02zu", pictures_.size() + 1);
  if (found != record_.observations.end()) found->photo = name;
  pictures_.push_back({name, input.id, counter_m(), pose(), tick_});
  return {};
}

marking::OnDrive Exercise::on_drive() const {
  marking::OnDrive drive{plumbs_, {}};
  for (const Hint& hint : hints_) drive.hints.push_back({hint.distance_m, hint.level >= name_level});
  return drive;
}

}  // namespace haunch::play
