// SPDX-License-Identifier: Apache-2.0
#include "exchange/csv_rows.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "base/words.hpp"
#include "exchange/lines.hpp"

namespace haunch::exchange {

char separator_told(std::string_view line) {
  if (line.size() != 5 || base::lower(line.substr(0, 4)) != "sep=") return 0;
  const char sign = line[4];
  return sign == '\t' || std::string_view(";,|:^~").find(sign) != std::string_view::npos ? sign : '\0';
}

CsvRows::CsvRows(Bytes bytes) : bytes_(std::move(bytes)) {
  std::size_t looked_at = 0;
  while (bytes_.window().find_first_of("\r\n", looked_at) == std::string_view::npos &&
         bytes_.window().size() <= longest_line) {
    looked_at = bytes_.window().size();
    if (!bytes_.more()) break;
  }
  const std::string_view first = bytes_.window().substr(0, bytes_.window().find_first_of("\r\n"));
  if (const char told = separator_told(first); told != 0) {
    separator_ = told;
    const std::size_t length = first.size();
    bytes_.fill(length + 2);
    const std::string_view window = bytes_.window();
    given_ = std::min(window.size(), length + (window.substr(length, 2) == "\r\n" ? 2 : 1));
    line_ = 2;
    return;
  }
  // A spreadsheet writes the separator of its country.
  for (const char sign : {';', '\t'})
    if (std::count(first.begin(), first.end(), sign) > std::count(first.begin(), first.end(), separator_))
      separator_ = sign;
}

std::size_t CsvRows::length_of_row(std::string_view window) const {
  const std::size_t end = window.find_first_of("\r\n");
  const std::size_t quote = window.substr(0, end).find('"');
  if (quote == std::string_view::npos) return end;
  bool start = true, inside = false;
  for (std::size_t i = 0; i < window.size(); ++i) {
    const char c = window[i];
    if (inside) {
      if (c != '"') continue;
      if (i + 1 == window.size()) return std::string_view::npos;
      inside = window[i + 1] == '"';
      i += inside ? 1 : 0;
    } else if (c == '\n' || c == '\r') {
      return i;
    } else {
      inside = start && c == '"';
      start = c == separator_;
    }
  }
  return std::string_view::npos;
}

CsvRows::State CsvRows::look_at_row(std::string_view text) {
  if (bytes_.any_zero() && text.find('\0') != std::string_view::npos) return State::zero_byte;
  if (bytes_.any_foreign() && !is_ascii(text)) {
    const bool utf8 = first_foreign_byte(text, Charset::utf8) == std::string_view::npos;
    // Old spreadsheets write Windows characters; the first row that has any shows which they are.
    if (!decided_) charset_ = utf8 ? Charset::utf8 : Charset::windows1252;
    decided_ = true;
    if (charset_ == Charset::utf8 && !utf8) return State::foreign_byte;
    if (charset_ != Charset::utf8) {
      decoded_ = to_utf8(text, charset_);
      text = decoded_;
    }
  }
  row_.split(text, separator_, '"', most_columns);
  text_ = text;
  return State::row;
}

std::pair<int, int> CsvRows::place_of(std::size_t cell) const {
  const std::string_view before = text_.substr(0, row_.fields[cell].at);
  const auto breaks = static_cast<int>(std::count(before.begin(), before.end(), '\n'));
  const std::string_view line = before.substr(before.rfind('\n') + 1);
  return {row_line_ + breaks, base::characters(line) + 1};
}

void CsvRows::pass_line() {
  std::size_t end = bytes_.window().find_first_of("\r\n");
  while (end == std::string_view::npos) {
    bytes_.pass(bytes_.window().size());
    if (!bytes_.more()) return;
    end = bytes_.window().find_first_of("\r\n");
  }
  bytes_.pass(end);
}

CsvRows::State CsvRows::next() {
  if (again_) {
    again_ = false;
    return last_;
  }
  for (;;) {
    bytes_.pass(given_);
    given_ = 0;
    row_line_ = line_;
    // What stands past the limit is not looked at, so that nothing depends on how the file comes in blocks.
    const auto look = [this] { return length_of_row(bytes_.window().substr(0, longest_line + 1)); };
    std::size_t length = look();
    while (length == std::string_view::npos && bytes_.window().size() <= longest_line && bytes_.more())
      length = look();
    if (bytes_.window().empty()) return last_ = State::end;
    // A quote that is never closed would swallow the rest, so the next row begins at the next line.
    if (length == std::string_view::npos)
      length = std::min(bytes_.window().find_first_of("\r\n"), bytes_.window().size());
    const bool too_long = length > longest_line;
    if (too_long) {
      pass_line();
      length = 0;
    }
    bytes_.fill(length + 2);
    const std::string_view window = bytes_.window();
    const std::string_view text = window.substr(0, length);
    given_ = std::min(window.size(), length + (window.substr(length, 2) == "\r\n" ? 2 : 1));
    line_ += 1 + static_cast<int>(std::count(text.begin(), text.end(), '\n'));
    if (too_long) return last_ = State::too_long;
    if (trimmed(text).empty()) continue;
    return last_ = look_at_row(text);
  }
}

}  // namespace haunch::exchange
