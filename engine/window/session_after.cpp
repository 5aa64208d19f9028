// SPDX-License-Identifier: Apache-2.0
// After the drive: giving classes, being marked, looking again.
#include <algorithm>
#include <cmath>

#include "window/language.hpp"
#include "window/session.hpp"

namespace haunch::window {

void Session::finish() {
  if (replaying()) return;
  if (screen == Screen::driving) {
    if (!line.text.empty()) {
      return say(entry_.usable() ? tr("There is an unlogged line: Enter logs it, Esc clears it.")
                                 : tr("The line cannot be logged yet; Esc clears it."),
                 6);
    }
    command(Command::stop);
    if (act(play::Finish{})) enter_judging();
  } else if (screen == Screen::judging) {
    // The same key cannot answer: two quick taps must not store an attempt for good.
    asking = !not_given().empty();
    if (!asking) mark_now();
  }
}

void Session::mark_now() {
  // What a careful drive shows may take a moment more: the window goes on meanwhile.
  if (careful_look_ready && !careful_look_ready()) {
    waiting_ = true;
    return;
  }
  waiting_ = false;
  if (act(play::Finish{})) enter_review(false);
}

std::string Session::not_given() const {
  const bool classes = object_class_ || std::any_of(rows_.begin(), rows_.end(), [](const JudgingRow& row) {
                         return std::any_of(row.classes.begin(), row.classes.end(),
                                            [](const auto& one) { return one.has_value(); });
                       });
  if (classes) return action_ ? std::string() : "no action";
  return action_ ? "no class" : "no class and no action";
}

void Session::finish_without() {
  if (screen != Screen::judging || replaying() || !asking) return;
  asking = false;
  mark_now();
}

void Session::resume() {
  if (screen != Screen::judging || replaying()) return;
  waiting_ = false;
  if (act(play::Resume{})) enter_coding();
}

void Session::enter_coding() {
  screen = Screen::driving;
  asking = help_open = false;
  look_z_m_.reset();
  sent_speed_ = exercise_.speed_m_s();
  say(tr("Back at {0}: code on; F10 gives classes again.", {distance_text()}));
}

void Session::enter_judging() {
  screen = Screen::judging;
  message_until_s_ = 0;  // what was said while driving is over
  key_direction_ = button_direction_ = latched_ = 0;
  list_open = menu_open = help_open = asking = false;
  drawn.reset();
  rows_ = judging_rows(exercise_, scheme_, settings.unit);
  recall_judgement();
  choose_row(0);
}

void Session::recall_judgement() {
  const auto& judgement = exercise_.record().judgement;
  if (!judgement) return;
  object_class_ = judgement->object_class;
  action_ = judgement->action;
  for (auto& row : rows_) {
    for (const auto& given : judgement->classes) {
      if (given.observation != row.observation) continue;
      for (std::size_t i = 0; i < row.classes.size(); ++i) {
        const auto found = given.classes.find(scheme_.goals()[i]);
        row.classes[i] = found == given.classes.end() ? std::nullopt : std::optional<int>(found->second);
      }
    }
  }
}

void Session::choose_row(int row) {
  const int rows = static_cast<int>(rows_.size());
  row_ = std::clamp(row, 0, rows + 1);  // after the rows: the object class, then the action
  if (row_ >= rows) return;
  const auto* o = exercise_.record().find(rows_[static_cast<std::size_t>(row_)].observation);
  if (o == nullptr || !o->distance_m.value) return;
  const double z = exercise_.chainage_at(*o->distance_m.value);
  look_z_m_ = stand_before(exercise_.scene(), z, z);
}

void Session::next_cell(int by) {
  const int goals = static_cast<int>(scheme_.goals().size());
  const int rows = static_cast<int>(rows_.size());
  if (row_ >= rows) return choose_row(row_ + (by > 0 ? 1 : -1));
  const int cell = std::max(0, row_ * goals + goal_ + by);
  goal_ = cell % goals;
  choose_row(cell / goals);
}

void Session::give_class(int row, int goal, std::optional<int> grade) {
  if (row < 0 || row >= static_cast<int>(rows_.size())) return;
  auto& asked = rows_[static_cast<std::size_t>(row)];
  if (goal < 0 || goal >= static_cast<int>(asked.classes.size())) return;
  const auto before = asked.classes[static_cast<std::size_t>(goal)];
  asked.classes[static_cast<std::size_t>(goal)] = grade;
  coding::GivenClasses given{asked.observation, {}};
  for (std::size_t i = 0; i < asked.classes.size(); ++i) {
    if (asked.classes[i]) given.classes[scheme_.goals()[i]] = *asked.classes[i];
  }
  if (!act(play::GiveClasses{given})) asked.classes[static_cast<std::size_t>(goal)] = before;
  asking = waiting_ = false;
  if (row != row_) choose_row(row);
  goal_ = goal;
}

void Session::give_object_class(int object_class) {
  asking = waiting_ = false;
  if (act(play::GiveObjectClass{object_class})) object_class_ = object_class;
}

void Session::give_action(coding::Action action) {
  asking = waiting_ = false;
  if (act(play::GiveAction{action})) action_ = action;
}

void Session::press_judging(const Press& press) {
  if (asking && (press.key == Key::enter || press.key == Key::escape)) {
    if (press.key == Key::enter) return finish_without();
    asking = false;
    return;
  }
  switch (press.key) {
    case Key::up:
      return choose_row(row_ - 1);
    case Key::down:
      return choose_row(row_ + 1);
    case Key::left:
      return next_cell(-1);
    case Key::right:
    case Key::tab:
      return next_cell(press.shift ? -1 : 1);
    case Key::del:
    case Key::backspace:
      asking = false;
      return give_class(row_, goal_, std::nullopt);
    case Key::escape:
      help_open = false;
      return;
    default:
      break;
  }
  const auto wanted = command_for(press);
  if (wanted && *wanted != Command::log && *wanted != Command::undo && *wanted != Command::log_list &&
      *wanted != Command::code_menu) {
    command(*wanted);
  }
}

void Session::enter_review(bool watched) {
  screen = Screen::review;
  items_ = review_items(exercise_, settings.unit);
  notes_ = review_notes(exercise_, settings.unit);
  item_ = -1;
  lit_fault_ = 0;
  if (!look_z_m_) look_z_m_ = exercise_.lens_z_m();
  // An exercise replayed to its end was kept when it was done.
  if (watched)
    kept_ = "Replayed from an input log; nothing was kept.";
  else if (keep_)
    kept_ = keep_(exercise_);
  if (!items_.empty()) choose_item(0);
}

void Session::was_in_view(std::vector<marking::InView> in_view) {
  if (screen != Screen::review) return;
  exercise_.was_in_view(std::move(in_view));
  items_ = review_items(exercise_, settings.unit);
  notes_ = review_notes(exercise_, settings.unit);
}

void Session::choose_item(int item) {
  notes_wanted = item >= static_cast<int>(items_.size());
  if (items_.empty()) return;
  item_ = std::clamp(item, 0, static_cast<int>(items_.size()) - 1);
  const auto& chosen = items_[static_cast<std::size_t>(item_)];
  lit_fault_ = chosen.fault;
  if (chosen.stand_z_m) look_z_m_ = chosen.stand_z_m;
}

std::vector<ItemKind> Session::kinds() const {
  std::vector<ItemKind> there;
  for (const ReviewItem& item : items_)
    if (there.empty() || there.back() != item.kind) there.push_back(item.kind);
  return there;
}

void Session::show_only(std::optional<ItemKind> kind) {
  only = kind;
  for (std::size_t i = 0; i < items_.size(); ++i)
    if (shows(items_[i])) return choose_item(static_cast<int>(i));
}

void Session::step_item(int by) {
  const int count = static_cast<int>(items_.size());
  for (int next = item_ + by; next >= 0 && next < count; next += by)
    if (shows(items_[static_cast<std::size_t>(next)])) return choose_item(next);
  notes_wanted = by > 0;
}

void Session::press_review(const Press& press) {
  switch (press.key) {
    case Key::left:
    case Key::right: {
      // All, then each kind, round and round.
      const std::vector<ItemKind> there = kinds();
      const auto at = only ? std::find(there.begin(), there.end(), *only) - there.begin() + 1 : 0;
      const auto count = static_cast<std::ptrdiff_t>(there.size()) + 1;
      const auto next = (at + (press.key == Key::right ? 1 : count - 1)) % count;
      return show_only(next == 0 ? std::nullopt : std::optional(there[static_cast<std::size_t>(next - 1)]));
    }
    case Key::up:
      return step_item(-1);
    case Key::down:
      return step_item(1);
    case Key::home:
      return show_only(only);
    case Key::end:
      for (int i = static_cast<int>(items_.size()) - 1; i >= 0; --i)
        if (shows(items_[static_cast<std::size_t>(i)])) return choose_item(i);
      return;
    case Key::enter:
      picture_alone = !picture_alone;
      return;
    case Key::escape:
      help_open = false;
      picture_alone = false;
      return;
    case Key::page_up:
      latched_ = latched_ == 1 ? 0 : 1;
      return;
    case Key::page_down:
      latched_ = latched_ == -1 ? 0 : -1;
      return;
    default:
      break;
  }
  if (const auto wanted = command_for(press)) {
    if (*wanted == Command::help || *wanted == Command::units || *wanted == Command::contrast ||
        *wanted == Command::larger || *wanted == Command::smaller || *wanted == Command::ring ||
        *wanted == Command::full_screen || *wanted == Command::long_section) {
      command(*wanted);
    }
  }
}

std::string Session::score_text() const {
  if (!exercise_.marking()) return {};
  // Tenths, cut rather than rounded: only a faultless attempt reads 100.
  const long tenths = static_cast<long>(std::floor(exercise_.marking()->score * 10 + 1e-6));
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10);
}

}  // namespace haunch::window
