// SPDX-License-Identifier: Apache-2.0
// The header of exchange text: #B lines of codes, each with a line of values after it. Inside exchange.
#pragma once

#include <string>
#include <vector>

#include "exchange/inspections.hpp"
#include "exchange/split_row.hpp"
#include "exchange/text_marks.hpp"

namespace haunch::exchange {

class HeaderReader {
 public:
  explicit HeaderReader(std::string file_name) : file_name_(std::move(file_name)) {}

  base::Problems problems;  ///< of what was read last; who reads on takes them out

  /// A line of codes; a line of their values is awaited then.
  void take_codes(const Line& line, const Tagged& mark, const TextStyle& style);
  bool awaits_values() const { return awaits_; }
  std::size_t size() const { return captions_.size(); }
  /// The values, one for each code, into the header with their places.
  void take_values(const Line& line, const Row& row, const TextStyle& style, Inspection& into);
  /// Another line stands where the values should.
  void lack_values();
  void forget() { awaits_ = false; }

 private:
  struct Caption {
    std::string code;
    std::size_t at = 0;
    bool quoted = false;
  };
  void field(const Caption& caption, const Row::Field& value, bool first, const base::Place& place,
             const TextStyle& style, Inspection& into, TextLayout::HeaderLine& stands);
  void tell(base::Severity severity, int column, std::string what, std::string expected);
  void tell(base::Severity severity, const Caption& caption, std::string what, std::string expected);

  std::string file_name_;
  bool awaits_ = false;
  std::vector<Caption> captions_;
  int line_ = 0;             ///< of the codes
  std::string mark_, text_;  ///< "#B01", and the whole line of the codes
};

}  // namespace haunch::exchange
