// SPDX-License-Identifier: Apache-2.0
// Exchange text, inspection by inspection. Inside exchange.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "exchange/charset.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/inspections.hpp"

namespace haunch::exchange {

class TextWriter {
 public:
  explicit TextWriter(TextStyle style);

  void head();
  void add(const coding::Record& record, const TextLayout& layout, const coding::RecordPlaces& places,
           const base::Place& place);

  std::string out;          ///< in the style's character set
  base::Problems problems;  ///< what the style cannot hold, where it stands in the Record's file
  /// What the style lacks, if anything.
  bool lacks_quote = false, lacks_character = false;

 private:
  void field(std::string_view text, bool habit);
  void quoted(std::string_view text);
  void put(std::string_view text);
  void text(std::string_view text, bool habit);
  void number(const coding::Number& number, bool habit);
  void hour(const std::optional<int>& hour, const TextLayout::Column& column);
  void end_line();
  void tell(base::Severity severity, std::string what, std::string expected);

  void header(const std::vector<coding::HeaderField>& fields, const TextLayout& layout);
  void header_line(const coding::HeaderField* fields, const TextLayout::HeaderLine& line);
  void header_value(const coding::HeaderField& field, bool habit, bool alone);
  void row(const coding::Observation& one);
  void letter(char letter, const coding::Observation& one, const TextLayout::Column& column);

  struct Column {
    TextLayout::Column as;
    char letter = 0;      ///< 0 for an unknown column
    std::size_t nth = 0;  ///< of that name
  };
  void choose_columns(const coding::Record& record, const TextLayout& layout);

  TextStyle style_;
  Charset charset_ = Charset::utf8;
  std::vector<Column> columns_;
  bool first_ = true;  ///< of the line
  base::Place place_;  ///< of what is being written, in its own file
  std::string name_;   ///< the same in words
  std::string scratch_;
};

}  // namespace haunch::exchange
