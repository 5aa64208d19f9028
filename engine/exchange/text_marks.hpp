// SPDX-License-Identifier: Apache-2.0
// The marks of exchange text, and what is said of its lines. Inside exchange.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "exchange/charset.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/lines.hpp"

namespace haunch::exchange {

enum class Tag { none, how, header, columns, end, broken };
struct Tagged {
  Tag tag = Tag::none;
  int number = 0;          ///< of #A and #B lines
  std::string_view value;  ///< after the first '='
  std::size_t value_at = 0;
};
/// Only #A1= #B01= #C= and #Z at the start of a line are marks; any other # is text.
Tagged tagged(std::string_view line);

/// Nothing but blanks; a separator is none.
bool is_blank(std::string_view text, char separator);

/// Problems told of one file or of one inspection: a file of another kind would give one a line.
inline constexpr std::size_t most_problems = 500;
/// Adds one; past the limit, once, that there are more, which is an error where an error is left out.
void add_problem(base::Problems& to, base::Problem problem);

/// How the file says it is written, from the #A lines of its first bytes; `usable` is false when rows
/// cannot be split so.
struct Head {
  TextStyle style;
  bool usable = true;
  Charset charset = Charset::utf8;  ///< of the bytes, whatever #A1 says
  bool undecided = false;           ///< #A1 is missing and nothing past ASCII has been seen
};
Head read_head(const Bytes& bytes, const std::string& file_name, base::Problems& problems);

}  // namespace haunch::exchange
