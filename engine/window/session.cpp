// SPDX-License-Identifier: Apache-2.0
// Driving and coding: keys, pointer and time turned into inputs of the exercise.
#include "window/session.hpp"

#include "window/language.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/words.hpp"

namespace haunch::window {

namespace {
constexpr double tick_s = 1.0 / 60;
constexpr double slow_share = 0.25;
constexpr double journal_every_s = 2;
constexpr double longest_catch_up_s = 0.25;  // after a stall, time is lost rather than raced through
}  // namespace

Session::Session(scene::Scene scene, Settings given, Keep keep, Journal journal)
    : settings(given),
      exercise_(std::move(scene)),
      codes_(coding::CodeList::shipped()),
      scheme_(grading::Scheme::shipped()),
      keep_(std::move(keep)),
      journal_(std::move(journal)) {
  exercise_.speak_in(settings.unit);
}

bool Session::act(const play::Input& input) {
  if (careful_look && exercise_.phase() == play::Phase::judging &&
      std::holds_alternative<play::Finish>(input))
    exercise_.set_aside(careful_look());
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

void Session::turn_to(double yaw_deg, double pitch_deg) {
  if (screen != Screen::driving || replaying()) return;
  if (yaw_deg == 0 && pitch_deg == 0 && !exercise_.turned()) return;
  act(play::TurnHead{yaw_deg, pitch_deg});
}

void Session::turn_held(int right, int up) {
  if (right == turn_right_ && up == turn_up_) return;
  turn_right_ = right, turn_up_ = up;
  const scene::CameraPose now = exercise_.pose();
  const double most = scene::most_turn_deg;
  turn_to(right != 0 ? right * most : now.yaw_deg, up != 0 ? up * most : now.pitch_deg);
}

void Session::turn_by(double right_deg, double up_deg) {
  // From where it is turning to: the head comes after the hand.
  const play::TurnHead wanted = exercise_.head_wanted();
  turn_to(wanted.yaw_deg + right_deg, wanted.pitch_deg + up_deg);
}

void Session::release(Key key) {
  if (turn_right_ != 0 && (key == Key::left || key == Key::right)) return turn_held(0, turn_up_);
  if (turn_up_ != 0 && (key == Key::page_up || key == Key::page_down)) return turn_held(turn_right_, 0);
  if (plumb_moved_ && (key == Key::left || key == Key::right)) return plumb_set();
  const int direction = key == Key::up ? 1 : key == Key::down ? -1 : 0;
  if (direction == 0 || direction != key_direction_) return;
  key_direction_ = 0;
  drive();
}

void Session::release_all() {
  if (turn_right_ != 0 || turn_up_ != 0) turn_held(0, 0);
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
  if (waiting_ && screen == Screen::judging) mark_now();
  if (screen == Screen::start || screen == Screen::review) return;
  owed_s_ += std::min(seconds, longest_catch_up_s) * (replaying() ? replay_speed : 1.0);
  while (owed_s_ >= tick_s) {
    owed_s_ -= tick_s;
    while (replaying() && replay_[replay_next_].tick <= exercise_.tick()) {
      act(replay_[replay_next_].input);
      ++replay_next_;
      if (exercise_.phase() == play::Phase::judging && screen == Screen::driving) enter_judging();
      if (exercise_.phase() == play::Phase::driving && screen == Screen::judging) enter_coding();
      if (exercise_.phase() == play::Phase::review) {
        enter_review(true);
        return;
      }
      if (screen == Screen::judging) recall_judgement();
      sent_speed_ = exercise_.speed_m_s();
      if (!replaying()) say(tr("The replay ends here: the rest is yours."));
    }
    exercise_.step();
  }
  // Killed in the middle of a drive it goes on from about where the camera was.
  if (journal_ && !replaying() && exercise_.speed_m_s() != 0 && clock_s_ - journaled_s_ >= journal_every_s) {
    journaled_s_ = clock_s_;
    journal_(exercise_);
  }
  tell();
}

void Session::tell() {
  if (screen != Screen::driving) return;
  const bool stopped = exercise_.at_stop();
  if (stopped && !stopped_) say(tr("The camera goes no farther."), 6);
  stopped_ = stopped;
  const std::vector<play::Exercise::Told> told = exercise_.told();
  if (told.size() <= told_) return;
  std::string words;
  for (; told_ < told.size(); ++told_)
    words += (words.empty() ? "" : " ") + base::show_distance(told[told_].distance_m, settings.unit) + ": " +
             told[told_].words + (told[told_].words.back() == '.' ? "" : ".");
  say(words, 12);
}

void Session::replay(std::vector<play::TimedInput> log) {
  replay_ = std::move(log);
  replay_next_ = 0;
}

void Session::begin() {
  if (screen != Screen::start) return;
  if (asking_name && base::trim(name.text).empty())
    return say(tr("Whose scores are they? A name or a code, such as coder-07."), 8);
  if (asking_name) {
    who = base::trim(name.text);
    asking_name = false;
    if (on_name) on_name(who);
  }
  if (unfinished && on_unfinished) on_unfinished(false);
  unfinished.reset();
  screen = Screen::driving;
  message_until_s_ = 0;  // what the card said is over
  if (mode != play::Mode::practice && !replaying() && exercise_.log().empty()) act(play::Begin{mode});
}

// -- the line -------------------------------------------------------------------------------------

void Session::line_changed() {
  completion_ = 0;
  entry_ = line.text.empty() ? play::Entry{} : play::read_entry(line.text, codes_, settings.unit);
}

void Session::unit_changed() {
  exercise_.speak_in(settings.unit);
  if (screen == Screen::driving) line_changed();
  if (screen == Screen::judging) {
    rows_ = judging_rows(exercise_, scheme_, settings.unit);
    recall_judgement();
  }
  if (screen == Screen::review) {
    items_ = review_items(exercise_, settings.unit);
    notes_ = review_notes(exercise_, settings.unit);
  }
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

std::string Session::counter_words() const {
  const scene::Scenario& scenario = exercise_.scene().scenario;
  const auto shown = [&](double metres) { return base::show_distance(metres, settings.unit); };
  const double first = scene::travel(scenario) > 0 ? 0 : scenario.length_m;
  const bool upstream = scenario.inspection.distance_zero == scene::End::start;
  const scene::Node& node = upstream ? scenario.start : scenario.finish;
  const std::string zero = !node.name.empty() ? node.name
                           : upstream         ? tr("the upstream end")
                                              : tr("the downstream end");
  const double before = scenario.inspection.zero_before_m;
  return tr("The counter reads {0} where the camera goes in and {1} at the far end;",
            {shown(scene::distance_of(scenario, first)),
             shown(scene::distance_of(scenario, scenario.length_m - first))}) +
         " " +
         (before > 0 ? tr("its zero lies {0} outside the pipe, in {1}.", {shown(before), zero})
                     : tr("its zero lies at {0}.", {zero}));
}

std::string Session::distance_text() const {
  return base::show_distance(exercise_.counter_m(), settings.unit);
}

void Session::type(const std::string& utf8, bool repeated) {
  if (help_open || replaying()) return;
  if (repeated && screen != Screen::driving) return;
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
  if (screen == Screen::start && asking_name) return name.insert(utf8);
  if (screen == Screen::start && utf8 != " ") begin();  // and the letter is not lost
  if (screen != Screen::driving) return;
  if (utf8 == " " && line.text.empty()) {
    command(Command::stop);
    return;
  }
  menu_open = false;
  line.insert(utf8);
  line_changed();
}

void Session::put_in_line(const std::string& text) {
  if (screen != Screen::driving || replaying()) return;
  line.set(text);
  line_changed();
}

void Session::paste(const std::string& text) {
  if (screen == Screen::start && asking_name) return name.insert(text.substr(0, 40));
  if (screen != Screen::driving || text.empty()) return;
  line.insert(text.substr(0, 400));
  line_changed();
}

void Session::log_line() {
  if (line.text.empty() || counter_typed()) return;
  if (!entry_.usable()) {
    // The echo says why, just below: said twice it would fill a small window.
    const Echo now = echo();
    const bool said = !now.missing.empty() || !now.not_understood.empty();
    say(said ? tr("Not logged:") : tr("Not logged: no code was recognised."), 6);
    return;
  }
  const std::string sentence = entry_.sentence;
  const bool placed = entry_.observation.distance_m.value.has_value();
  const auto at = entry_.observation.distance_m.value.value_or(exercise_.counter_m());
  if (!editing_.empty()) {
    if (!write_down(play::Change{editing_, entry_.observation})) return;
    say(tr("Changed: {0}", {sentence}));
    editing_.clear();
    line.clear();
    return line_changed();
  }
  if (!write_down(play::Log{entry_.observation})) return;
  // A place that was typed stands in the sentence already.
  say(placed ? tr("Logged: {0}", {sentence})
             : tr("Logged at {0}: {1}", {base::show_distance(at, settings.unit), sentence}));
  line.clear();
  line_changed();
}

bool Session::log_draft() {
  if (!still_needed(draft, codes_).empty()) return false;
  coding::Observation observation = draft.observation;
  if (draft.goes_on) observation.stretch = "A";
  if (!write_down(play::Log{observation})) return false;
  say(tr("Logged at {0}: {1}", {distance_text(), coding::in_words(observation, codes_)}));
  draft = {};
  drawn.reset();
  menu_open = false;
  return true;
}

void Session::end_stretch(const std::string& id) {
  const auto ending = ending_of(exercise_.record(), id);
  if (!ending) return;
  if (write_down(play::Log{*ending})) say(tr("Ends at {0}.", {distance_text()}));
}

void Session::remove(const std::string& id) {
  if (write_down(play::Remove{id})) say(tr("Removed; {0} brings it back.", {key_of(Command::undo)}));
  if (id == editing_) editing_.clear();
}

void Session::go_to(double distance_m) {
  latched_ = 0;
  drive();
  act(play::GoTo{distance_m});
  sent_speed_ = exercise_.speed_m_s();
}

bool Session::moving() const {
  if (screen == Screen::review) return look_z_m_ && driving() != 0;
  return screen != Screen::start && (replaying() || exercise_.speed_m_s() != 0 || exercise_.turning());
}

Look Session::look() const {
  Look now;
  // The picture goes on between two ticks of the exercise, or it would wait for the next.
  const double ahead_s = screen == Screen::driving ? std::min(owed_s_, tick_s) : 0;
  now.time_s = screen == Screen::driving ? exercise_.time_s() + ahead_s : clock_s_;
  now.pose = look_z_m_ ? scene::pose_at(exercise_.scene(), *look_z_m_) : exercise_.pose(ahead_s);
  now.highlight_fault = lit_fault_;
  if (screen == Screen::driving && !look_z_m_ && settings.still) now.wet_ago_s = exercise_.wet_ago_s();
  if (screen == Screen::driving && !look_z_m_ && !settings.still) {
    now.speed_m_s = exercise_.speed_m_s();
    now.wet_ago_s = exercise_.wet_ago_s();
    // How fast it rolls tell two places close by.
    constexpr double apart_m = 0.01;
    const int way = scene::travel(exercise_.scene().scenario);
    const scene::CameraPose on = scene::pose_at(exercise_.scene(), now.pose.lens.z + way * apart_m);
    now.roll_deg_s = (on.roll_deg - now.pose.roll_deg) / apart_m * now.speed_m_s;
  }
  // Nothing of the wall is seen from under water.
  if (screen == Screen::driving && settings.ring && !exercise_.under_water()) {
    now.ring_z_m = exercise_.chainage_at(exercise_.counter_m());
  }
  return now;
}

}  // namespace haunch::window
