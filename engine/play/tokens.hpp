// SPDX-License-Identifier: Apache-2.0
// A typed line cut into words, numbers and signs. Each is marked once something has made use of it,
// so that what is left over can be told to the person who typed it.
#pragma once

#include <string>
#include <vector>

namespace haunch::play {

struct Token {
  enum class Kind { word, number, sign };
  Kind kind = Kind::word;
  std::string text;    ///< words in small letters; signs: "%" "-" "@" "/" "x"... ; numbers as typed
  std::string typed;   ///< as typed
  double value = 0;    ///< numbers
  bool glued = false;  ///< nothing stands between this and the one before
  bool used = false;
  std::size_t begin = 0, end = 0;  ///< bytes of the line

  bool is_word(const char* word) const { return kind == Kind::word && text == word; }
  bool is_number() const { return kind == Kind::number; }
  /// A whole number that a clock could show.
  bool is_hour() const {
    return is_number() && value >= 1 && value <= 12 && value == static_cast<int>(value);
  }
};

struct Line {
  std::vector<Token> tokens;
  std::string remark;      ///< after '#' and what stands in double quotes
  bool in_remark = false;  ///< the line ends inside a remark
  bool ends_open = false;  ///< the last token may still be typed on: nothing stands after it
};

Line cut(const std::string& typed);

}  // namespace haunch::play
