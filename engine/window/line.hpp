// SPDX-License-Identifier: Apache-2.0
// The one line at the foot: text with a caret, edited a character at a time. Our own rather than a
// toolkit's field, because it must take typing whatever else has the mouse, and leave the arrows
// that drive alone.
#pragma once

#include <string>
#include <vector>

namespace haunch::window {

struct Line {
  std::string text;       ///< UTF-8
  std::size_t caret = 0;  ///< bytes before the caret

  bool operator==(const Line&) const = default;
  void insert(const std::string& utf8);  ///< control characters and line ends become spaces
  void backspace();
  void erase();  ///< the character after the caret
  void left();
  void right();
  void home() { caret = 0; }
  void end() { caret = text.size(); }
  void set(std::string new_text);
  void clear() { set({}); }
  bool at_end() const { return caret == text.size(); }
};

/// The rest of a completion after what is typed ("offset jo" + "offset joint" -> "int"), when the
/// completion continues it whatever the letter case; else empty.
std::string rest_of(const std::string& typed, const std::string& completion);

}  // namespace haunch::window
