// SPDX-License-Identifier: Apache-2.0
// The table of keys.
#include "window/keys.hpp"

#include <algorithm>

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
      {Command::log, {Key::enter}, "Enter", "log the line at the distance shown", true},
      {Command::complete, {Key::tab}, "Tab", "take the completion shown", true},
      {Command::next_completion, {Key::tab, false, true}, "Shift Tab", "show the next completion"},
      {Command::code_menu, {Key::f4}, "F4", "build an observation with the mouse"},
      {Command::undo, {Key::letter_z, true, false}, "Ctrl Z", "take back what was logged last"},
      {Command::log_list, {Key::f3}, "F3", "what you logged, with a way to remove it", true},
      {Command::long_section, {Key::f5}, "F5", "the run from the side"},
      {Command::units, {Key::f2}, "F2", "metres or feet"},
      {Command::larger, {Key::plus, true, false}, "Ctrl +", "larger text"},
      {Command::smaller, {Key::minus, true, false}, "Ctrl -", "smaller text"},
      {Command::contrast, {Key::f6}, "F6", "stronger contrast"},
      {Command::full_screen, {Key::f11}, "F11", "whole screen and back"},
      {Command::paste, {Key::letter_v, true, false}, "Ctrl V", "paste into the line"},
      {Command::help, {Key::f1}, "F1", "all keys and settings"},
      {Command::finish, {Key::f10}, "F10", "finish: give classes, then be marked", true},
      {Command::leave, {Key::escape}, "Esc", "close what is open; clear the line"},
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

std::string key_of(Command command) {
  for (const Binding& b : bindings()) {
    if (b.command == command) return b.key;
  }
  return {};
}

}  // namespace haunch::window
