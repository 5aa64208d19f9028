// SPDX-License-Identifier: Apache-2.0
#include "exchange/split_row.hpp"

#include <algorithm>

namespace haunch::exchange {

void Row::split(std::string_view line, char separator, char quote, std::size_t most) {
  fields.clear();
  unquoted_.clear();
  bad_quote = std::string_view::npos;
  unclosed = false;
  const char* const begin = line.data();
  const char* const end = begin + line.size();
  const char* at = begin;
  for (;;) {
    if (quote != 0 && at < end && *at == quote) {
      at = begin + quoted_field(line, static_cast<std::size_t>(at - begin), separator, quote);
    } else {
      const char* const from = at;
      while (at < end && *at != separator) ++at;
      fields.push_back(
          {{from, static_cast<std::size_t>(at - from)}, static_cast<std::size_t>(from - begin), false});
    }
    if (at >= end || fields.size() > most) return;
    ++at;  // the separator
  }
}

std::size_t Row::quoted_field(std::string_view line, std::size_t at, char separator, char quote) {
  const std::size_t opened = at++;
  const std::size_t from = at;
  bool doubled = false, closed = false;
  for (; at < line.size() && !closed; ++at) {
    if (line[at] != quote) continue;
    closed = at + 1 >= line.size() || line[at + 1] != quote;
    if (closed) break;
    doubled = true;
    ++at;
  }
  std::string_view text = line.substr(from, std::min(at, line.size()) - from);
  if (doubled) {
    // Room for all of the line, so that earlier texts stay where they are.
    if (unquoted_.empty()) unquoted_.reserve(line.size());
    const std::size_t start = unquoted_.size();
    for (std::size_t i = 0; i < text.size(); ++i) {
      unquoted_ += text[i];
      if (text[i] == quote) ++i;
    }
    text = std::string_view(unquoted_).substr(start);
  }
  fields.push_back({text, opened, true});
  if (!closed) {
    bad_quote = opened;
    unclosed = true;
    return line.size();
  }
  ++at;
  if (at < line.size() && line[at] != separator) {
    if (bad_quote == std::string_view::npos) bad_quote = at;
    while (at < line.size() && line[at] != separator) ++at;
  }
  return at;
}

bool Row::all_blank() const {
  return std::all_of(fields.begin(), fields.end(),
                     [](const Field& one) { return trimmed(one.text).empty(); });
}

}  // namespace haunch::exchange
