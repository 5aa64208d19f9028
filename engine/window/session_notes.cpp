// SPDX-License-Identifier: Apache-2.0
// What was written down and may be changed: taking back, doing again, editing; the plumb mark, the counter,
// hints, pictures; taking up a drive that was left unfinished.
#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "play/written.hpp"
#include "window/language.hpp"
#include "window/session.hpp"

namespace haunch::window {
namespace {

constexpr double plumb_step_h = 0.1;
constexpr double plumb_stays_s = 2.5;  // on the picture after it was turned by a key
constexpr double asked_from_m = 0.5;   // of a guided run: there the bottom can be told
constexpr double kept_near_m = 0.3;    // a picture goes with what was logged so near; ours

/// Points the steps that speak of a finding to the number it got when it was logged again.
void rename(play::Input& input, const std::string& from, const std::string& to) {
  if (auto* remove = std::get_if<play::Remove>(&input); remove != nullptr && remove->id == from)
    remove->id = to;
  if (auto* change = std::get_if<play::Change>(&input); change != nullptr && change->id == from)
    change->id = to;
  if (auto* log = std::get_if<play::Log>(&input); log != nullptr && log->observation.id == from)
    log->observation.id = to;
}

}  // namespace

std::optional<play::Input> Session::way_back(const play::Input& input) const {
  const coding::Record& record = exercise_.record();
  if (const auto* remove = std::get_if<play::Remove>(&input))
    if (const auto* row = record.find(remove->id)) return play::Log{*row};
  if (const auto* change = std::get_if<play::Change>(&input))
    if (const auto* row = record.find(change->id)) return play::Change{change->id, *row};
  return std::nullopt;
}

bool Session::write_down(play::Input input) {
  std::optional<play::Input> back = way_back(input);
  if (!act(input)) return false;
  if (auto* log = std::get_if<play::Log>(&input)) {
    // Again at the same place, wherever the camera is by then.
    log->observation = exercise_.record().observations.back();
    back = play::Remove{log->observation.id};
  }
  if (back) done_.push_back({std::move(input), std::move(*back)});
  undone_.clear();
  return true;
}

bool Session::step_over(bool back) {
  auto &from = back ? done_ : undone_, &to = back ? undone_ : done_;
  if (screen != Screen::driving || replaying() || from.empty()) return false;
  Step step = from.back();
  if (!act(back ? step.back : step.there)) return false;
  from.pop_back();
  if (const auto* log = std::get_if<play::Log>(back ? &step.back : &step.there)) {
    const std::string before = log->observation.id, now = exercise_.record().observations.back().id;
    auto& other = back ? step.there : step.back;
    rename(other, before, now);
    for (auto* steps : {&done_, &undone_})
      for (Step& one : *steps) {
        rename(one.there, before, now);
        rename(one.back, before, now);
      }
    rename(back ? step.back : step.there, before, now);
  }
  to.push_back(std::move(step));
  return true;
}

void Session::undo() {
  if (step_over(true))
    say(tr("Taken back; {0} does it again.", {key_of(Command::redo)}));
  else if (screen == Screen::driving && done_.empty())
    say(tr("There is nothing to take back."));
}

void Session::redo() {
  if (step_over(false))
    say(tr("Done again."));
  else if (screen == Screen::driving && undone_.empty())
    say(tr("There is nothing to do again."));
}

void Session::edit(const std::string& id) {
  if (screen != Screen::driving || replaying()) return;
  const auto* row = exercise_.record().find(id);
  if (row == nullptr) return;
  const auto text = play::written(*row, codes_, settings.unit);
  if (!text)
    return say(tr("No line says just this, so it cannot be changed here: remove it and log it again."), 6);
  editing_ = id;
  menu_open = false;
  const double at_m = row->distance_m.value.value_or(0);
  const double shown = settings.unit == base::LengthUnit::feet ? at_m / base::metres_per_foot : at_m;
  const std::size_t remark = std::min(text->find(" #"), text->size());
  line.set(text->substr(0, remark) + " @" + base::show_number(std::round(shown * 100) / 100) +
           text->substr(remark));
  line_changed();
  say(tr("Change it; {0} keeps the change, {1} leaves it as it was.",
         {key_of(Command::log), key_of(Command::leave)}),
      8);
}

void Session::edit_last() {
  const auto& rows = exercise_.record().observations;
  if (rows.empty()) return say(tr("Nothing is logged yet."));
  auto at = std::find_if(rows.begin(), rows.end(), [&](const auto& row) { return row.id == editing_; });
  if (at == rows.end() || at == rows.begin()) at = rows.end();
  edit((at - 1)->id);
}

void Session::set_plumb(double on_screen_h) {
  if (screen != Screen::driving || replaying()) return;
  plumb_h = base::wrap_hours(on_screen_h);
  plumb_moved_ = true;
  plumb_until_s_ = clock_s_ + plumb_stays_s;
  if (drawn && !drawn->whole && !draft.observation.code.empty())
    set_clock(draft, true_arc(*drawn, plumb_h), codes_);
}

bool Session::plumb_shown() const {
  // A guided run asks for it: then it hangs there until it was set once.
  const bool asked = exercise_.mode() == play::Mode::guided && screen == Screen::driving &&
                     exercise_.plumbs().empty() && exercise_.furthest_m() > asked_from_m;
  return asked || clock_s_ < plumb_until_s_;
}

void Session::turn_plumb(int way) {
  // Clockwise on the screen moves the low end to the left.
  set_plumb(plumb_h - way * plumb_step_h);
}

void Session::plumb_set() {
  if (!plumb_moved_) return;
  plumb_moved_ = false;
  if (exercise_.turned()) return;  // where the bottom is then, no mark of ours says
  act(play::SetPlumb{plumb_h});
}

bool Session::go_typed(const std::vector<std::string>& words) {
  double number = 0;
  if (!base::read_number(words[1], number)) return false;
  base::LengthUnit unit = settings.unit;
  if (words.size() > 2) unit = words[2] == "ft" ? base::LengthUnit::feet : base::LengthUnit::metres;
  line.clear();
  line_changed();
  go_to(base::to_metres(number, unit));
  return true;
}

bool Session::counter_typed() {
  const std::vector<std::string> words = base::split(base::trim(base::lower(line.text)), ' ');
  if (words.size() >= 2 && words.front() == "go") return go_typed(words);
  if (words.size() < 2 || words.front() != "counter") return false;
  double number = 0;
  if (!base::read_number(words[1], number)) {
    say(tr("Write what the counter shall read, such as: counter 0"), 6);
    return true;
  }
  base::LengthUnit unit = settings.unit;
  if (words.size() > 2) unit = words[2] == "ft" ? base::LengthUnit::feet : base::LengthUnit::metres;
  if (act(play::SetCounter{base::to_metres(number, unit)})) {
    say(tr("The counter reads {0} here.", {distance_text()}));
    line.clear();
    line_changed();
  }
  return true;
}

void Session::hint() {
  if (screen != Screen::driving || replaying()) return;
  if (act(play::TakeHint{})) say(tr("Hint: {0}", {exercise_.in_words(exercise_.hints().back())}), 10);
}

void Session::keep_picture() {
  if (screen != Screen::driving || replaying()) return;
  const auto& rows = exercise_.record().observations;
  std::string id;
  for (const auto& row : rows)
    if (row.distance_m.value && std::abs(*row.distance_m.value - exercise_.counter_m()) <= kept_near_m)
      id = row.id;
  if (!act(play::KeepPicture{id})) return;
  picture_wanted = exercise_.pictures().back().name;
  const auto* row = exercise_.record().find(id);
  say(row == nullptr ? tr("Kept as {0}.", {*picture_wanted})
                     : tr("Kept as {0}, with {1}.", {*picture_wanted, coding::show_code(*row)}));
}

void Session::go_on() {
  if (screen != Screen::start || !unfinished) return;
  for (const play::TimedInput& one : unfinished->inputs) {
    exercise_.step_to(one.tick);
    if (!exercise_.act(one.input).empty()) break;  // what follows would be another story
  }
  if (on_unfinished) on_unfinished(true);
  unfinished.reset();
  asking_name = false;
  told_ = exercise_.told().size();
  if (exercise_.phase() == play::Phase::judging) return enter_judging();
  screen = Screen::driving;
  sent_speed_ = exercise_.speed_m_s();
  drive();  // nobody holds a key: it stands
  say(tr("Going on at {0}, with {1} logged.",
         {distance_text(), std::to_string(exercise_.record().observations.size())}),
      6);
}

}  // namespace haunch::window
