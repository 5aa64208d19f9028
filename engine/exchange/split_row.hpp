// SPDX-License-Identifier: Apache-2.0
// One line of separated values into its fields, with quotes. Inside exchange; text and CSV use it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace haunch::exchange {

struct Field {
  std::string text;
  std::size_t at = 0;  ///< byte in the line where the field begins
};

struct SplitRow {
  std::vector<Field> fields;
  /// Byte of a quote that is never closed, or of text after a closing quote; npos when all is well.
  std::size_t bad_quote = std::string_view::npos;
  bool unclosed = false;
};

/// `quote` 0 means that nothing is quoted. A quote counts only at the start of a field; inside it is
/// written twice.
inline SplitRow split_row(std::string_view line, char separator, char quote) {
  SplitRow row;
  std::size_t at = 0;
  for (;;) {
    Field field{{}, at};
    if (quote != 0 && at < line.size() && line[at] == quote) {
      const std::size_t opened = at++;
      bool closed = false;
      while (at < line.size() && !closed) {
        if (line[at] != quote) {
          field.text += line[at++];
        } else if (at + 1 < line.size() && line[at + 1] == quote) {
          field.text += quote;
          at += 2;
        } else {
          closed = true;
          ++at;
        }
      }
      if (!closed) {
        row.bad_quote = opened;
        row.unclosed = true;
      } else if (at < line.size() && line[at] != separator) {
        if (row.bad_quote == std::string_view::npos) row.bad_quote = at;
        while (at < line.size() && line[at] != separator) field.text += line[at++];
      }
    } else {
      while (at < line.size() && line[at] != separator) field.text += line[at++];
    }
    row.fields.push_back(std::move(field));
    if (at >= line.size()) return row;
    ++at;  // the separator
  }
}

}  // namespace haunch::exchange
