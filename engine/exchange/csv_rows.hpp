// SPDX-License-Identifier: Apache-2.0
// Rows of a spreadsheet file of any size, quoted as RFC 4180: a quoted cell may hold line breaks.
// Inside exchange.
#pragma once

#include <string>
#include <string_view>
#include <utility>

#include "exchange/bytes.hpp"
#include "exchange/charset.hpp"
#include "exchange/split_row.hpp"

namespace haunch::exchange {

/// The sign of a first line "sep=;", by which spreadsheets tell one another what stands between cells; 0 when
/// it is no such line.
char separator_told(std::string_view line);

class CsvRows {
 public:
  explicit CsvRows(Bytes bytes);
  enum class State { row, end, too_long, foreign_byte, zero_byte };
  /// The next row that has anything but blanks; its cells are good until the next call.
  State next();
  /// The next call gives the last row once more.
  void again() { again_ = true; }

  const Row& cells() const { return row_; }
  int line() const { return row_line_; }  ///< where the row begins
  /// Line and column, in characters, of a cell of the row.
  std::pair<int, int> place_of(std::size_t cell) const;
  char separator() const { return separator_; }
  bool broken() const { return bytes_.broken(); }

 private:
  /// Bytes of the row that begins the window, without its end; npos when more must be read.
  std::size_t length_of_row(std::string_view window) const;
  /// To the end of the line, which may be longer than memory.
  void pass_line();
  State look_at_row(std::string_view text);

  Bytes bytes_;
  char separator_ = ',';
  int line_ = 1, row_line_ = 1;
  bool again_ = false, decided_ = false;
  State last_ = State::end;
  Charset charset_ = Charset::utf8;
  std::size_t given_ = 0;
  Row row_;
  std::string decoded_;
  std::string_view text_;  ///< of the row
};

}  // namespace haunch::exchange
