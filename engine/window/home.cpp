// SPDX-License-Identifier: Apache-2.0
#include "window/home.hpp"

#include <algorithm>
#include <stdexcept>

#include "base/words.hpp"
#include "play/attempt.hpp"
#include "window/home_pages.hpp"
#include "window/language.hpp"

namespace haunch::window {

Home::Home(std::string who_is_here, Settings with, Page page)
    : who(std::move(who_is_here)), settings(std::move(with)), page_(std::move(page)) {
  asking_name = who.empty();
  look_again();
}

void Home::look_again() {
  message_.clear();
  const KeptOf kept = kept_of(who, message_);
  shown_ = page_of(page_, who, kept, message_);
  row_ = std::clamp(row_, 0, std::max(0, rows() - 1));
}

void Home::go(Page page) {
  page_ = std::move(page);
  row_ = 0;
  look_again();
}

void Home::back() {
  if (page_.kind == Page::Kind::lesson) return go({Page::Kind::course, page_.course, {}});
  if (page_.kind != Page::Kind::start) go({});
}

std::optional<courses::LessonPicture> Home::picture() const {
  if (rows() == 0) return std::nullopt;
  const auto* look = std::get_if<Look_at>(&row_at(row_).does);
  return look ? std::optional(look->picture) : std::nullopt;
}

int Home::rows() const {
  int count = 0;
  for (const HomeSection& section : shown_.sections) count += static_cast<int>(section.rows.size());
  return count;
}

const HomeRow& Home::row_at(int row) const {
  for (const HomeSection& section : shown_.sections) {
    if (row < static_cast<int>(section.rows.size())) return section.rows[static_cast<std::size_t>(row)];
    row -= static_cast<int>(section.rows.size());
  }
  throw std::out_of_range("no such row on the start page");
}

void Home::choose(int row) { row_ = std::clamp(row, 0, std::max(0, rows() - 1)); }

void Home::take() {
  if (rows() == 0) return;
  const HomeRow row = row_at(row_);  // a copy: the page is made anew
  if (!row.why_not.empty()) {
    message_ = row.why_not;
  } else if (const auto* wanted = std::get_if<Chosen>(&row.does)) {
    chosen = *wanted;
  } else if (const auto* page = std::get_if<Page>(&row.does)) {
    go(*page);
  } else if (const auto* read = std::get_if<LessonRead>(&row.does); read != nullptr && !row.done) {
    try {
      auto store = own_store();
      std::string clock;
      const std::string now = time_to_keep(store, play::utc_now(), clock);
      store.add(scores::Step{play::new_attempt_id(), who, now, read->course, read->lesson});
      look_again();
      choose(row_ + 1);
      if (!clock.empty()) message_ = clock;
    } catch (const std::exception& error) {
      message_ = error.what();
    }
  }
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
  if (const auto wanted = command_for(press);
      wanted == Command::quit || wanted == Command::help || wanted == Command::units ||
      wanted == Command::larger || wanted == Command::smaller || wanted == Command::contrast ||
      wanted == Command::accent || wanted == Command::full_screen || wanted == Command::language)
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
    case Key::escape:
    case Key::backspace:
      return back();
    default:
      return;
  }
}

void Home::type(const std::string& utf8, bool /*repeated*/) {
  if (asking_name) name.insert(utf8);
}

void Home::command(Command wanted) {
  if (change(settings, wanted)) return look_again();
  if (wanted == Command::quit) chosen = Leave{};
  if (wanted == Command::log) take();
  if (wanted == Command::leave) back();
  if (wanted == Command::help) settings_open = !settings_open;
  if (wanted == Command::full_screen) full_screen_wanted = !full_screen_wanted;
}

}  // namespace haunch::window
