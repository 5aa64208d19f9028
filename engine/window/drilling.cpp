// SPDX-License-Identifier: Apache-2.0
#include "window/drilling.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "coding/code_list.hpp"
#include "play/attempt.hpp"
#include "window/language.hpp"

namespace haunch::window {
namespace {

using drills::Kind;

constexpr double turn_h = 0.1;
constexpr int most_failures = 5;

bool is_number(Kind kind) { return kind == Kind::size_it || kind == Kind::water_depth; }

}  // namespace

Drilling::Drilling(play::DrillSet set, Settings with, Keep keep)
    : settings(std::move(with)), set_(std::move(set)), keep_(std::move(keep)) {}

std::optional<drills::Wanted> Drilling::wanted() {
  if (state_ == State::over || asked_for_) return std::nullopt;
  auto next = nothing_more_ ? std::nullopt : set_.next();
  nothing_more_ = !next;
  if (!next && state_ == State::waiting) state_ = State::over;
  asked_for_ = next.has_value();
  return next;
}

void Drilling::ask(std::shared_ptr<const drills::Item> item) {
  item_ = std::move(item);
  asked_for_ = false;
  failures_ = 0;
  answer_ = {};
  line.clear();
  sentence_.clear();
  message_.clear();
  shown_s_ = clip_s_ = 0;
  if (item_->wanted.kind == Kind::find_bottom) answer_.bottom_h = 6;
  state_ = State::asking;
}

void Drilling::none_came(const std::string& why) {
  asked_for_ = false;
  // Another seed gives another; where none does, nobody waits for ever.
  if (++failures_ < most_failures && set_.plan().form.empty()) return;
  message_ = why;
  state_ = State::over;
}

void Drilling::tick(double seconds) {
  if (state_ == State::asking || state_ == State::answered) clip_s_ += seconds;
  if (state_ != State::asking) return;
  shown_s_ += seconds;
  set_.spend(seconds);
}

Look Drilling::look() const {
  Look now;
  if (!item_) return now;
  now.pose = drills::pose_at(item_->scene, item_->clip, clip_s_);
  now.time_s = clip_s_;
  if (state_ == State::answered && set_.plan().feedback) now.highlight_fault = item_->fault;
  now.ring_z_m = drills::ring_z_m(item_->scene, item_->clip, item_->wanted.kind);
  if (moving() && !settings.still && item_->clip.seconds > 0)
    now.speed_m_s = std::abs(item_->clip.to_z_m - item_->clip.from_z_m) / item_->clip.seconds;
  return now;
}

bool Drilling::moving() const {
  return item_ && (state_ == State::asking || state_ == State::answered) && clip_s_ < item_->clip.seconds;
}

bool Drilling::ready_to_answer() const {
  return state_ == State::asking && item_ && drills::answers(*item_, answer_);
}

void Drilling::choose(int option) {
  if (state_ != State::asking || !item_) return;
  if (option < 0 || option >= static_cast<int>(item_->options.size())) return;
  answer_.option = item_->options[static_cast<std::size_t>(option)].value;
  confirm();
}

void Drilling::step_number(double by) {
  if (state_ != State::asking || !item_ || !is_number(item_->wanted.kind)) return;
  answer_.number = std::max(0.0, answer_.number.value_or(0) + by);
  line.set(base::show_number(*answer_.number));
}

void Drilling::turn_bottom(double by_h) { set_bottom(answer_.bottom_h.value_or(6) + by_h); }

void Drilling::set_bottom(double hour_h) {
  if (state_ != State::asking || !item_ || item_->wanted.kind != Kind::find_bottom) return;
  answer_.bottom_h = base::wrap_hours(hour_h);
}

void Drilling::set_hour(int hour) {
  if (state_ != State::asking || !item_ || item_->wanted.kind != Kind::clock) return;
  const bool range = item_->there.clock_to.has_value();
  if (!answer_.clock_from || answer_.clock_to || !range) {
    answer_.clock_from = hour;
    answer_.clock_to.reset();
  } else {
    answer_.clock_to = hour;
  }
  line.set(drills::show(answer_));
}

void Drilling::give_class(const std::string& goal, int grade) {
  if (state_ != State::asking || !item_ || item_->wanted.kind != Kind::grade_it) return;
  answer_.classes[goal] = grade;
}

void Drilling::read_line() {
  if (!item_) return;
  const std::string text = base::trim(line.text);
  switch (item_->wanted.kind) {
    case Kind::size_it:
    case Kind::water_depth: {
      double number = 0;
      answer_.number.reset();
      if (base::read_number(text, number) && std::isfinite(number)) answer_.number = number;
      return;
    }
    case Kind::clock: {
      // "10 2", "10-2", "10 to 2"
      std::string numbers;
      for (const char c : text) numbers += c >= '0' && c <= '9' ? c : ' ';
      answer_.clock_from.reset();
      answer_.clock_to.reset();
      for (const std::string& word : base::split(numbers, ' ')) {
        double hour = 0;
        if (word.empty() || !base::read_number(word, hour) || hour < 1 || hour > 12) continue;
        (answer_.clock_from ? answer_.clock_to : answer_.clock_from) = static_cast<int>(hour);
      }
      return;
    }
    case Kind::name_it: {
      std::string code = text;
      std::transform(code.begin(), code.end(), code.begin(),
                     [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
      answer_.option = coding::CodeList::shipped().find(code) ? code : std::string();
      return;
    }
    default:
      return;
  }
}

void Drilling::confirm() {
  if (state_ == State::answered) return finish_or_wait();
  if (!ready_to_answer()) return;
  const auto done = set_.answer(*item_, answer_, shown_s_, play::utc_now(), play::new_attempt_id());
  line.clear();
  sentence_ = done.verdict.sentence;
  credit_ = done.verdict.credit;
  if (keep_) message_ = keep_(done.row);
  if (set_.plan().feedback) {
    state_ = State::answered;
    clip_s_ = item_->clip.seconds;
  } else {
    finish_or_wait();
  }
}

void Drilling::finish_or_wait() { state_ = set_.over() ? State::over : State::waiting; }

void Drilling::show_again() { clip_s_ = 0; }

void Drilling::stop() {
  if (state_ == State::over)
    left = true;
  else
    state_ = State::over;
}

void Drilling::press(const Press& press, bool repeated) {
  const bool goes_on = press.key == Key::left || press.key == Key::right || press.key == Key::up ||
                       press.key == Key::down || press.key == Key::backspace;
  if (repeated && !goes_on) return;
  if (const auto wanted = command_for(press); wanted == Command::quit || wanted == Command::larger ||
                                              wanted == Command::smaller || wanted == Command::contrast ||
                                              wanted == Command::full_screen || wanted == Command::start_page)
    return command(*wanted);
  switch (press.key) {
    case Key::enter:
      if (state_ == State::over) left = true;
      return confirm();
    case Key::escape:
      if (!line.text.empty()) {
        line.clear();
        return read_line();
      }
      return stop();
    case Key::backspace:
      if (state_ != State::asking) return;
      line.backspace();
      return read_line();
    case Key::left:
      return turn_bottom(-turn_h);
    case Key::right:
      return turn_bottom(turn_h);
    case Key::up:
      return step_number(1);
    case Key::down:
      return step_number(-1);
    case Key::f8:
      return show_again();
    default:
      return;
  }
}

void Drilling::type(const std::string& utf8, bool /*repeated*/) {
  if (state_ != State::asking || !item_) return;
  const bool digit = utf8.size() == 1 && utf8[0] >= '1' && utf8[0] <= '9';
  const Kind kind = item_->wanted.kind;
  if (digit && !item_->options.empty() && line.text.empty()) return choose(utf8[0] - '1');
  if (kind == Kind::grade_it && utf8.size() == 1 && utf8[0] >= '1' && utf8[0] < '1' + item_->worst_class) {
    for (const std::string& goal : item_->goals)
      if (!answer_.classes.contains(goal)) return give_class(goal, utf8[0] - '0');
    return;
  }
  if (is_number(kind) || kind == Kind::clock || kind == Kind::name_it) {
    line.insert(utf8);
    read_line();
  }
}

void Drilling::command(Command wanted) {
  if (change(settings, wanted)) return;
  if (wanted == Command::quit) quit_wanted = true;
  if (wanted == Command::start_page) left = true;
  if (wanted == Command::log) confirm();
  if (wanted == Command::full_screen) full_screen_wanted = !full_screen_wanted;
}

}  // namespace haunch::window
