// SPDX-License-Identifier: Apache-2.0
// The text exchange format of EN 13508-2 (lines #A1= .. #Z). Read generously, written strictly.
//
// What is written is read back as it was: free text, header values and unknown columns letter by letter.
// Only a line break or a zero byte within text becomes a space, because the format has no place for it;
// codes, numbers and marks of runs lose blanks around them; and text in a number column that is a number
// in the other decimal sign becomes that number.
//
// What is read from a clean file is written back byte by byte. A file is clean when reading it tells
// nothing (but perhaps that the last inspection is not ended), when it is not UTF-16, and when there stands
// in it no empty line, no blank around marks, codes and numbers, one kind of line end, each character that
// must be quoted in quotes, and when each column of an inspection has one habit for quotes that are not
// needed and one for hours ("3" or "03").
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {

enum class LineEnd { lf, crlf, cr };

/// How a file is written: the #A lines, and what they do not say.
struct TextStyle {
  std::string charset = "UTF-8";  ///< A1
  std::string language = "en";    ///< A2
  char separator = ';';           ///< A3: one ASCII sign, no letter, digit or #
  char decimal = '.';             ///< A4: . or ,
  char quote = '"';               ///< A5; 0 when the file names none
  std::string version = "2010";   ///< A6
  LineEnd line_end = LineEnd::lf;
  bool byte_order_mark = false;
  std::string keys = "123456";      ///< the #A lines in their order; what must be there is added
  std::string separator_name = {};  ///< "tab", where the file calls it so

  bool operator==(const TextStyle&) const = default;
};
/// Why nothing can be written so: signs that are alike or stand in codes, an unknown character set.
/// Empty when all is well.
base::Problems problems_of_style(const TextStyle& style);

/// How one inspection stands in its file, beyond what its Record holds. An empty one lets the writer choose.
struct TextLayout {
  struct HeaderLine {
    std::string mark = "#B01";
    std::size_t codes = 0;  ///< how many of the header's fields stand there
    /// A sign for each: '1' its code, '2' its value, '3' both are in quotes that they do not need; else '0'.
    std::string quoted;
    bool operator==(const HeaderLine&) const = default;
  };
  struct Column {
    std::string name;  ///< a letter, or what an unknown column is called
    bool quoted_name = false;
    bool quoted = false;        ///< text that needs no quotes has them all the same
    bool quoted_empty = false;  ///< the same for what is empty
    bool two_digits = false;    ///< "03" for 3 o'clock
    bool operator==(const Column&) const = default;
  };
  std::vector<HeaderLine> header;
  std::vector<Column> columns;
  bool ended = true;          ///< #Z
  bool last_line_end = true;  ///< the last line of the file has an end
  bool operator==(const TextLayout&) const = default;
};

struct ExchangeFile {
  TextStyle style;
  std::vector<PlacedRecord> inspections;
  std::vector<TextLayout> layouts;  ///< one for each
};

/// All inspections, with warnings; or every problem of a file that cannot be read whole.
base::Result<ExchangeFile> exchange_from_text(const std::string& bytes, const std::string& file_name);

/// A style that cannot hold the records is mended: quotes are named where a text needs them, and a
/// character that the set does not have makes the file UTF-8.
std::string exchange_to_text(const std::vector<coding::Record>& inspections, const TextStyle& style = {});
std::string exchange_to_text(const ExchangeFile& file);

}  // namespace haunch::exchange
