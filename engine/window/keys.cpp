// SPDX-License-Identifier: Apache-2.0
// The table of keys, and what each key and each visible control sets going.
#include "window/keys.hpp"

#include <algorithm>

#include "window/language.hpp"
#include "window/session.hpp"

namespace haunch::window {

const std::vector<Binding>& bindings() {
  // Letters always type, so that a sentence can be begun at any moment: driving is on the arrows.
  static const std::vector<Binding> all = {
      {Command::forward, {Key::up}, "Up", "drive forward while held", true},
      {Command::back, {Key::down}, "Down", "drive back while held", true},
      {Command::forward_slow, {Key::up, false, true}, "Shift Up", "creep forward while held"},
      {Command::back_slow, {Key::down, false, true}, "Shift Down", "creep back while held"},
      {Command::forward_on, {Key::up, true, false}, "Ctrl Up", "keep driving forward until stopped"},
      {Command::back_on, {Key::down, true, false}, "Ctrl Down", "keep driving back until stopped"},
      {Command::stop, {}, "Space", "stop (while the line is empty)"},
      {Command::turn_left,
       {Key::left, true, false},
       "Ctrl Left",
       "turn a crawler's head left while held, or drag the picture with the right button"},
      {Command::turn_right, {Key::right, true, false}, "Ctrl Right", "turn the head right while held"},
      {Command::turn_up, {Key::page_up}, "Page Up", "turn the head up while held"},
      {Command::turn_down, {Key::page_down}, "Page Down", "turn the head down while held"},
      {Command::look_ahead, {Key::f8}, "F8", "look along the pipe again"},
      {Command::log, {Key::enter}, "Enter", "log the line at the distance shown", true},
      {Command::complete, {Key::tab}, "Tab", "take the completion shown", true},
      {Command::next_completion, {Key::tab, false, true}, "Shift Tab", "show the next completion"},
      {Command::code_menu, {Key::f4}, "F4", "build an observation with the mouse"},
      {Command::plumb_left,
       {Key::left, false, true},
       "Shift Left",
       "turn the plumb mark to the left, to where you take the bottom to be"},
      {Command::plumb_right,
       {Key::right, false, true},
       "Shift Right",
       "turn the plumb mark to the right; Shift Left to the left"},
      {Command::edit_last,
       {Key::letter_e, true, false},
       "Ctrl E",
       "what was logged last back in the line, to be changed; again: the one before"},
      {Command::undo,
       {Key::letter_z, true, false},
       "Ctrl Z",
       "take back what was logged, changed or removed last"},
      {Command::redo, {Key::letter_y, true, false}, "Ctrl Y", "do again what was taken back"},
      {Command::keep_picture,
       {Key::letter_p, true, false},
       "Ctrl P",
       "keep the picture, with what was logged here"},
      {Command::guide, {Key::f12}, "F12", "look up codes by what is in the line"},
      {Command::hint, {Key::letter_h, true, false}, "Ctrl H", "a hint; again says more. Hints are counted"},
      {Command::log_list, {Key::f3}, "F3", "what you logged, with a way to remove it", true},
      {Command::long_section, {Key::f5}, "F5", "the run from the side"},
      {Command::units, {Key::f2}, "F2", "metres or feet"},
      {Command::larger, {Key::plus, true, false}, "Ctrl +", "larger text"},
      {Command::smaller, {Key::minus, true, false}, "Ctrl -", "smaller text"},
      {Command::contrast, {Key::f6}, "F6", "stronger contrast"},
      {Command::ring, {Key::f7}, "F7", "the ring on the wall where the distance is read"},
      {Command::full_screen, {Key::f11}, "F11", "whole screen and back"},
      {Command::paste, {Key::letter_v, true, false}, "Ctrl V", "paste into the line"},
      {Command::help, {Key::f1}, "F1", "all keys and settings"},
      {Command::finish, {Key::f10}, "F10", "finish: give classes, then be marked", true},
      {Command::resume, {Key::f9}, "F9", "while giving classes: back to coding"},
      {Command::leave, {Key::escape}, "Esc", "close what is open; clear the line"},
      {Command::start_page,
       {Key::home, true, false},
       "Ctrl Home",
       "to the start page; a run that is not finished is kept and can be taken up"},
      {Command::quit, {Key::letter_q, true, false}, "Ctrl Q", "leave the program"},
  };
  return all;
}

std::optional<Command> command_for(const Press& press) {
  if (press.key == Key::none) return std::nullopt;
  const auto& all = bindings();
  auto found = std::find_if(all.begin(), all.end(), [&](const Binding& b) { return b.press == press; });
  // Layouts differ on whether plus needs Shift.
  if (found == all.end() && press.shift && (press.key == Key::plus || press.key == Key::minus)) {
    return command_for({press.key, press.ctrl, false});
  }
  if (found == all.end()) return std::nullopt;
  return found->command;
}

std::optional<Command> command_for_pad(unsigned button) {
  switch (button) {
    case 0:
      return Command::log;
    case 1:
      return Command::leave;
    case 2:
      return Command::code_menu;
    case 3:
      return Command::keep_picture;
    case 4:
      return Command::plumb_left;
    case 5:
      return Command::plumb_right;
    case 6:
      return Command::log_list;
    case 7:
      return Command::finish;
    default:
      return std::nullopt;
  }
}

std::string key_of(Command command) {
  for (const Binding& b : bindings()) {
    if (b.command == command) return b.key;
  }
  return {};
}

namespace {

/// Held down these go on and on; any other key does its work once, however long it is held.
bool may_repeat(const Press& press) {
  switch (press.key) {
    case Key::up:
    case Key::down:
    case Key::left:
    case Key::right:
    case Key::page_up:
    case Key::page_down:
    case Key::backspace:
    case Key::del:
    case Key::plus:
    case Key::minus:
      return true;
    default:
      return false;
  }
}

}  // namespace

void Session::press(const Press& press, bool repeated) {
  if (repeated && (!may_repeat(press) || screen == Screen::start)) return;
  if (const auto away = command_for(press); away == Command::quit || away == Command::start_page)
    return command(*away);
  if (screen == Screen::start) {
    const auto wanted = command_for(press);
    if (wanted == Command::forward || wanted == Command::forward_slow || wanted == Command::forward_on) {
      begin();  // and is obeyed
      return press_driving(*wanted);
    }
    if (press.key == Key::enter) begin();
    if (wanted == Command::resume) go_on();
    if (press.key == Key::backspace && asking_name) name.backspace();
    if (wanted == Command::units || wanted == Command::larger || wanted == Command::smaller ||
        wanted == Command::contrast || wanted == Command::ring || wanted == Command::full_screen) {
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
    case Command::turn_left:
      return turn_held(-1, turn_up_);
    case Command::turn_right:
      return turn_held(1, turn_up_);
    case Command::turn_up:
      return turn_held(turn_right_, 1);
    case Command::turn_down:
      return turn_held(turn_right_, -1);
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
    case Command::look_ahead:
      return turn_to(0, 0);
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
      return unit_changed();
    case Command::log_list:
      list_open = !list_open;
      if (list_open && narrow) menu_open = false;
      return;
    case Command::code_menu:
      menu_open = !menu_open;
      if (menu_open && narrow) list_open = false;
      if (!menu_open) drawn.reset();
      return;
    case Command::long_section:
      section_open = !section_open;
      return;
    case Command::still:
      settings.still = !settings.still;
      return;
    case Command::accent:
      settings.accent = (settings.accent + 1) % accents;
      return;
    case Command::picture_size:
      settings.picture = settings.picture == PictureSize::automatic ? PictureSize::whole
                         : settings.picture == PictureSize::whole   ? PictureSize::half
                                                                    : PictureSize::automatic;
      return;
    case Command::language: {
      const std::vector<std::string> all = languages();
      const auto now = std::find(all.begin(), all.end(), settings.language);
      settings.language = now == all.end() || now + 1 == all.end() ? all.front() : *(now + 1);
      return speak(settings.language);
    }
    case Command::contrast:
      settings.strong_contrast = !settings.strong_contrast;
      return;
    case Command::ring:
      settings.ring = !settings.ring;
      return;
    case Command::finish:
      return finish();
    case Command::resume:
      return resume();
    case Command::full_screen:
      full_screen_wanted = !full_screen_wanted;
      return;
    case Command::larger:
      return larger_text(settings);
    case Command::smaller:
      return smaller_text(settings);
    case Command::undo:
      return undo();
    case Command::redo:
      return redo();
    case Command::edit_last:
      return edit_last();
    case Command::plumb_left:
      return turn_plumb(-1);
    case Command::plumb_right:
      return turn_plumb(1);
    case Command::hint:
      return hint();
    case Command::keep_picture:
      return keep_picture();
    case Command::guide:
      if (exercise_.mode() == play::Mode::exam && screen == Screen::driving)
        return say(tr("In an exam nothing can be looked up."));
      guide_open = !guide_open;
      return;
    case Command::quit:
      quit_wanted = true;
      return;
    case Command::start_page:
      start_page_wanted = true;
      return;
    case Command::leave:
      if (help_open)
        help_open = false;
      else if (guide_open)
        guide_open = false;
      else if (menu_open)
        command(Command::code_menu);
      else if (list_open)
        list_open = false;
      else if (!line.text.empty()) {
        line.clear();
        line_changed();
        editing_.clear();
      } else
        section_open = false;
      return;
    case Command::forward:
    case Command::back:
    case Command::forward_slow:
    case Command::back_slow:
    case Command::turn_left:
    case Command::turn_right:
    case Command::turn_up:
    case Command::turn_down:
    case Command::paste:
      return;
  }
}

}  // namespace haunch::window
