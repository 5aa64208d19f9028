// SPDX-License-Identifier: Apache-2.0
// One line of separated values into its fields, with quotes. Inside exchange.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace haunch::exchange {

/// A separator counts only outside quotes, and a quote only at the start of a field; inside it is
/// written twice. The views hold as long as the line and the row.
struct Row {
  struct Field {
    std::string_view text;
    std::size_t at = 0;  ///< byte in the line where the field begins
    bool quoted = false;
  };
  std::vector<Field> fields;
  /// Byte of a quote that is never closed, or of text after a closing quote; npos when all is well.
  std::size_t bad_quote = std::string_view::npos;
  bool unclosed = false;

  /// `quote` 0 means that nothing is quoted. Stops after `most` fields and one.
  void split(std::string_view line, char separator, char quote, std::size_t most);
  bool all_blank() const;

 private:
  std::size_t quoted_field(std::string_view line, std::size_t at, char separator, char quote);
  std::string unquoted_;  ///< texts that held quotes
};

/// Ours: the standard has 14 columns and about a hundred header codes.
inline constexpr std::size_t most_columns = 1000;

/// Without blanks at its ends.
inline std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

}  // namespace haunch::exchange
