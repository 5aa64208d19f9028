// SPDX-License-Identifier: Apache-2.0
// Driving and coding: keys, pointer and time turned into inputs of the exercise.
#include "window/session.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/words.hpp"

namespace haunch::window {

namespace {
constexpr double tick_s = 1.0 / 60;
constexpr double slow_share = 0.25;
constexpr double longest_catch_up_s = 0.25;  // after a stall, time is lost rather than raced through
}  // namespace

Session::Session(scene::Scene scene, Settings given, Keep keep, Journal journal)
    : settings(given),
      exercise_(std::move(scene)),
      codes_(coding::CodeList::shipped()),
      scheme_(grading::Scheme::shipped()),
      keep_(std::move(keep)),
      journal_(std::move(journal)) {}

bool Session::act(const play::Input& input) {
  const auto problems = exercise_.act(input);
  if (!problems.empty()) {
    std::string words = problems.front().what;
    if (!problems.front().expected.empty()) words += "; " + problems.front().expected;
    say(std::move(words), 6);
    return false;
  }
  if (journal_ && !replaying()) journal_(exercise_);
  return true;
}

void Session::say(std::string message, double for_seconds) {
  message_ = std::move(message);
  message_until_s_ = clock_s_ + for_seconds;
}

// -- time and driving -----------------------------------------------------------------------------

int Session::driving() const {
  if (key_direction_ != 0) return key_direction_;
  return button_direction_ != 0 ? button_direction_ : latched_;
}

void Session::drive() {
  if (replaying()) return;
  const double most = exercise_.scene().scenario.camera.speed_m_s;
  const double speed = driving() * most * (slow_ && key_direction_ != 0 ? slow_share : 1.0);
  if (screen != Screen::driving || speed == sent_speed_) return;
  if (act(play::Drive{speed})) sent_speed_ = speed;
}

void Session::hold(int direction) {
  if (direction == button_direction_) return;
  button_direction_ = direction;
  if (direction != 0) latched_ = 0;
  drive();
}

void Session::release(Key key) {
  const int direction = key == Key::up ? 1 : key == Key::down ? -1 : 0;
  if (direction == 0 || direction != key_direction_) return;
  key_direction_ = 0;
  drive();
}

void Session::release_all() {
  key_direction_ = button_direction_ = latched_ = 0;
  drive();
}

void Session::tick(double seconds) {
  clock_s_ += seconds;
  if (screen == Screen::review) {
    if (look_z_m_ && driving() != 0) {
      const auto& scenario = exercise_.scene().scenario;
      const double step = driving() * scene::travel(scenario) * 2 * scenario.camera.speed_m_s * seconds;
      look_z_m_ = std::clamp(*look_z_m_ + step, 0.0, exercise_.scene().length_m());
    }
    return;
  }
  if (screen == Screen::start) return;
  owed_s_ += std::min(seconds, longest_catch_up_s) * (replaying() ? replay_speed : 1.0);
  while (owed_s_ >= tick_s) {
    owed_s_ -= tick_s;
    while (replaying() && replay_[replay_next_].tick <= exercise_.tick()) {
      act(replay_[replay_next_].input);
      ++replay_next_;
      if (exercise_.phase() == play::Phase::judging && screen == Screen::driving) enter_judging();
      if (exercise_.phase() == play::Phase::review) {
        enter_review(true);
        return;
      }
      if (screen == Screen::judging) recall_judgement();
      sent_speed_ = exercise_.speed_m_s();
      if (!replaying()) say("The replay ends here: the rest is yours.");
    }
    exercise_.step();
  }
}

void Session::replay(std::vector<play::TimedInput> log) {
  replay_ = std::move(log);
  replay_next_ = 0;
}

void Session::begin() {
  if (screen == Screen::start) screen = Screen::driving;
}

// -- the line -------------------------------------------------------------------------------------

void Session::line_changed() {
  completion_ = 0;
  entry_ = line.text.empty() ? play::Entry{} : play::read_entry(line.text, codes_, settings.unit);
}

std::string Session::ghost() const {
  if (!line.at_end() || entry_.completions.empty()) return {};
  const auto index = static_cast<std::size_t>(completion_) % entry_.completions.size();
  return rest_of(line.text, entry_.completions[index]);
}

Session::Echo Session::echo() const {
  Echo echo;
  if (menu_open && !draft.observation.code.empty()) {
    echo.sentence = coding::in_words(draft.observation, codes_);
    echo.missing = base::join(still_needed(draft, codes_), ", ");
    return echo;
  }
  echo.sentence = entry_.sentence;
  echo.missing = base::join(entry_.missing, ", ");
  echo.not_understood = base::join(entry_.not_understood, ", ");
  return echo;
}

std::string Session::ghost_meaning() const {
  if (ghost().empty() || entry_.completion_meanings.empty()) return {};
  return entry_
      .completion_meanings[static_cast<std::size_t>(completion_) % entry_.completion_meanings.size()];
}

std::string Session::distance_text() const {
  return base::show_distance(exercise_.counter_m(), settings.unit);
}

void Session::type(const std::string& utf8) {
  if (help_open || replaying()) return;
  if (screen == Screen::judging) {
    const bool digit = utf8.size() == 1 && utf8[0] >= '0' && utf8[0] <= '9';
    if (!digit) return;
    const int number = utf8[0] - '0';
    const int rows = static_cast<int>(rows_.size());
    if (row_ < rows) {
      if (number > scheme_.worst_class()) return;
      give_class(row_, goal_, number == 0 ? std::nullopt : std::optional<int>(number));
      if (number != 0) next_cell(1);
    } else if (row_ == rows) {
      if (number > 5) return;
      give_object_class(number);
      choose_row(row_ + 1);
    } else if (number >= 1 && number <= static_cast<int>(coding::all_actions().size())) {
      give_action(coding::all_actions()[static_cast<std::size_t>(number - 1)]);
    }
    return;
  }
  if (screen != Screen::driving) return;
  if (utf8 == " " && line.text.empty()) {
    command(Command::stop);
    return;
  }
  menu_open = false;
  line.insert(utf8);
  line_changed();
}

void Session::paste(const std::string& text) {
  if (screen != Screen::driving || text.empty()) return;
  line.insert(text.substr(0, 400));
  line_changed();
}

void Session::log_line() {
  if (line.text.empty()) return;
  if (!entry_.usable()) {
    const Echo now = echo();
    std::string words = "Not logged. ";
    if (!now.not_understood.empty()) words += "Not understood: " + now.not_understood + ". ";
    if (!now.missing.empty()) words += "Still needed: " + now.missing + ".";
    if (now.missing.empty() && now.not_understood.empty()) words += "No code was recognised.";
    say(std::move(words), 6);
    return;
  }
  const std::string sentence = entry_.sentence;
  const auto at = entry_.observation.distance_m.value.value_or(exercise_.counter_m());
  if (!act(play::Log{entry_.observation})) return;
  say("Logged at " + base::show_distance(at, settings.unit) + ": " + sentence);
  line.clear();
  line_changed();
}

bool Session::log_draft() {
  if (!still_needed(draft, codes_).empty()) return false;
  coding::Observation observation = draft.observation;
  if (draft.goes_on) observation.stretch = "A";
  if (!act(play::Log{observation})) return false;
  say("Logged at " + distance_text() + ": " + coding::in_words(observation, codes_));
  draft = {};
  drawn.reset();
  menu_open = false;
  return true;
}

void Session::end_stretch(const std::string& id) {
  const auto ending = ending_of(exercise_.record(), id);
  if (!ending) return;
  if (act(play::Log{*ending})) say("Ends at " + distance_text() + ".");
}

void Session::remove(const std::string& id) {
  if (act(play::Remove{id})) say("Removed.");
}

void Session::go_to(double distance_m) {
  latched_ = 0;
  drive();
  act(play::GoTo{distance_m});
  sent_speed_ = exercise_.speed_m_s();
}

// -- keys -----------------------------------------------------------------------------------------

void Session::press(const Press& press) {
  if (command_for(press) == Command::quit) return command(Command::quit);
  if (screen == Screen::start) {
    if (press.key == Key::enter) begin();
    const auto wanted = command_for(press);
    if (wanted == Command::units || wanted == Command::larger || wanted == Command::smaller ||
        wanted == Command::contrast || wanted == Command::full_screen) {
      command(*wanted);
    }
    return;
  }
  if (help_open && press.key == Key::escape) {
    help_open = false;
    return;
  }
  if (screen == Screen::judging) return press_judging(press);
  if (screen == Screen::review) return press_review(press);
  if (const auto wanted = command_for(press)) return press_driving(*wanted);
  switch (press.key) {
    case Key::backspace:
      line.backspace();
      return line_changed();
    case Key::del:
      line.erase();
      return line_changed();
    case Key::left:
      line.left();
      return;
    case Key::right:
      if (!ghost().empty()) return command(Command::complete);
      line.right();
      return;
    case Key::home:
      line.home();
      return;
    case Key::end:
      line.end();
      return;
    default:
      return;
  }
}

void Session::press_driving(Command wanted) {
  const auto hold_key = [&](int direction, bool slow) {
    key_direction_ = direction;
    slow_ = slow;
    latched_ = 0;
    drive();
  };
  switch (wanted) {
    case Command::forward:
      return hold_key(1, false);
    case Command::back:
      return hold_key(-1, false);
    case Command::forward_slow:
      return hold_key(1, true);
    case Command::back_slow:
      return hold_key(-1, true);
    default:
      return command(wanted);
  }
}

void Session::command(Command wanted) {
  switch (wanted) {
    case Command::forward_on:
      latched_ = 1;
      return drive();
    case Command::back_on:
      latched_ = -1;
      return drive();
    case Command::stop:
      key_direction_ = button_direction_ = latched_ = 0;
      return drive();
    case Command::log:
      if (screen == Screen::start) return begin();
      if (menu_open && line.text.empty()) {
        log_draft();
        return;
      }
      return log_line();
    case Command::complete:
      if (const std::string rest = ghost(); !rest.empty()) {
        // The completion's own letters, so that its case is kept.
        const auto index = static_cast<std::size_t>(completion_) % entry_.completions.size();
        line.set(entry_.completions[index]);
        line_changed();
      }
      return;
    case Command::next_completion:
      ++completion_;
      return;
    case Command::help:
      help_open = !help_open;
      return;
    case Command::units:
      settings.unit =
          settings.unit == base::LengthUnit::metres ? base::LengthUnit::feet : base::LengthUnit::metres;
      if (screen == Screen::driving) line_changed();
      if (screen == Screen::review) items_ = review_items(exercise_, settings.unit);
      return;
    case Command::log_list:
      list_open = !list_open;
      return;
    case Command::code_menu:
      menu_open = !menu_open;
      if (!menu_open) drawn.reset();
      return;
    case Command::long_section:
      section_open = !section_open;
      return;
    case Command::contrast:
      settings.strong_contrast = !settings.strong_contrast;
      return;
    case Command::finish:
      return finish();
    case Command::full_screen:
      full_screen_wanted = !full_screen_wanted;
      return;
    case Command::larger:
      return larger_text(settings);
    case Command::smaller:
      return smaller_text(settings);
    case Command::undo:
      if (screen == Screen::driving && !exercise_.record().observations.empty()) {
        remove(exercise_.record().observations.back().id);
      }
      return;
    case Command::quit:
      quit_wanted = true;
      return;
    case Command::leave:
      if (help_open)
        help_open = false;
      else if (menu_open)
        command(Command::code_menu);
      else if (list_open)
        list_open = false;
      else if (!line.text.empty()) {
        line.clear();
        line_changed();
      } else
        section_open = false;
      return;
    case Command::forward:
    case Command::back:
    case Command::forward_slow:
    case Command::back_slow:
    case Command::paste:
      return;
  }
}

Look Session::look() const {
  Look now;
  now.time_s = screen == Screen::driving ? exercise_.time_s() : clock_s_;
  now.pose = look_z_m_ ? scene::pose_at(exercise_.scene(), *look_z_m_) : exercise_.pose();
  now.highlight_fault = lit_fault_;
  return now;
}

}  // namespace haunch::window
