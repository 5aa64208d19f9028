// SPDX-License-Identifier: Apache-2.0
// Exchange text as lines with marks, and how the file says it is written. Inside exchange.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "exchange/exchange_text.hpp"

namespace haunch::exchange {

struct Line {
  std::string_view text;
  int number = 0;
};
/// Ends at LF, CR LF or CR.
std::vector<Line> lines_of(std::string_view text);

enum class Tag { none, how, header, columns, end, broken };
struct Tagged {
  Tag tag = Tag::none;
  int number = 0;          ///< of #A and #B lines
  std::string_view value;  ///< after the first '='
  std::size_t value_at = 0;
};
/// Only #A1= #B01= #C= and #Z at the start of a line are marks; any other # is text.
Tagged tagged(std::string_view line);

/// Gathers problems with line and column, up to a limit: a file of another kind would give one a line.
class TextProblems {
 public:
  explicit TextProblems(std::string file_name) : file_name_(std::move(file_name)) {}
  void say(base::Severity severity, int line, int column, std::string what, std::string expected);
  void error(const Line& line, std::size_t byte, std::string what, std::string expected);
  void warn(const Line& line, std::size_t byte, std::string what, std::string expected);
  void note(const Line& line, std::string what, std::string expected);
  const std::string& file_name() const { return file_name_; }
  bool has_errors() const { return base::has_errors(problems_); }
  base::Problems take() { return std::move(problems_); }

 private:
  std::string file_name_;
  base::Problems problems_;
};

/// The bytes as UTF-8, by what #A1 and a byte order mark say; nothing when they cannot be read.
std::optional<std::string> decoded(std::string_view bytes, TextStyle& style, TextProblems& problems);

/// #A2 to #A6 and the line ends. False when the rows cannot be split by them.
bool read_style(const std::vector<Line>& lines, TextStyle& style, TextProblems& problems);

}  // namespace haunch::exchange
