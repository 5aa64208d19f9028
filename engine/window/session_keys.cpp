// SPDX-License-Identifier: Apache-2.0
// What each key and each visible control sets going.
#include "window/session.hpp"

namespace haunch::window {

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

}  // namespace haunch::window
