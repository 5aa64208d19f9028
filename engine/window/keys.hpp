// SPDX-License-Identifier: Apache-2.0
// Keys by name, free of any window library, and what each does. The start card and the help list
// are written from this table, so that they cannot disagree with the program.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace haunch::window {

enum class Key {
  none,
  up,
  down,
  left,
  right,
  home,
  end,
  page_up,
  page_down,
  enter,
  escape,
  tab,
  backspace,
  del,
  plus,
  minus,
  letter_e,
  letter_h,
  letter_p,
  letter_q,
  letter_v,
  letter_y,
  letter_z,
  f1,
  f2,
  f3,
  f4,
  f5,
  f6,
  f7,
  f8,
  f9,
  f10,
  f11,
  f12
};

struct Press {
  Key key = Key::none;
  bool ctrl = false;
  bool shift = false;
  bool operator==(const Press&) const = default;
};

enum class Command {
  forward,
  back,
  forward_slow,
  back_slow,
  forward_on,
  back_on,
  stop,
  turn_left,
  turn_right,
  turn_up,
  turn_down,
  look_ahead,
  log,
  complete,
  next_completion,
  help,
  units,
  log_list,
  code_menu,
  long_section,
  contrast,
  ring,
  finish,
  resume,
  full_screen,
  larger,
  smaller,
  undo,
  redo,
  edit_last,
  plumb_left,
  plumb_right,
  hint,
  keep_picture,
  guide,
  still,
  accent,
  picture_size,
  language,
  paste,
  leave,
  start_page,
  quit
};

struct Binding {
  Command command;
  Press press;           ///< Key::none where the key is a typed character (the space bar)
  std::string key;       ///< as people call it: "F2", "Ctrl +"
  std::string does;      ///< in words
  bool on_card = false;  ///< one of the few that the start card explains
};

const std::vector<Binding>& bindings();
std::optional<Command> command_for(const Press& press);
/// What a gamepad's button does, by the order that SFML gives them in; nothing for one that does nothing
/// here.
std::optional<Command> command_for_pad(unsigned button);
/// The key's name for a command, for the label of its visible control.
std::string key_of(Command command);

}  // namespace haunch::window
