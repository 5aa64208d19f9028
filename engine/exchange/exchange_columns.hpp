// SPDX-License-Identifier: Apache-2.0
// The #C line of exchange text, and its rows by it. Inside exchange.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/exchange_text.hpp"
#include "exchange/observation_row.hpp"
#include "exchange/split_row.hpp"

namespace haunch::exchange {

/// Ours: what one inspection may hold in memory.
inline constexpr std::size_t largest_inspection = std::size_t{64} << 20U;

/// Must a field of such a file stand in quotes, so that it is read as it is? The first of a line may look
/// like a mark.
bool needs_quotes(std::string_view text, const TextStyle& style, bool first);

struct ColumnFault {
  base::Severity severity;
  std::size_t at = 0;  ///< byte in the #C line's value
  bool whole_line = false;
  std::string what, expected;
};

/// What is wrong with the quotes of a row; nothing when all is well.
std::optional<ColumnFault> fault_of_quotes(const Row& row);
/// More or fewer values than there are columns or header codes (`what`); a warning when those too many are
/// empty. `length` is that of the line in bytes.
std::optional<ColumnFault> fault_of_count(const Row& row, std::size_t length, std::size_t wanted,
                                          const std::string& what);

class ColumnReader {
 public:
  /// Was the last #C line the same, and no error in it? Most files name their columns alike throughout,
  /// and a warning is told once.
  bool same(std::string_view value) const { return sound_ && value == value_; }
  std::vector<ColumnFault> read(const Row& row, std::string_view value, const TextStyle& style);
  /// An inspection with these columns begins; its habits are not known yet.
  void begin(TextLayout& layout);
  std::size_t size() const { return columns_.size(); }

  /// The row, which has a field for each column.
  void take(const Row& row, RowReader& reader, TextLayout& layout, coding::Observation& into);
  /// The field that the reader's n-th problem is of.
  std::size_t of_problem(std::size_t n) const { return problem_fields_[n]; }
  void forget_problems() { problem_fields_.clear(); }

 private:
  void habit(std::size_t k, const Row::Field& field, TextLayout::Column& column);

  /// Which habits of a column have shown themselves.
  struct Seen {
    bool text = false, empty = false, hour = false;
  };
  TextStyle style_;
  std::string value_;
  bool sound_ = false;
  std::vector<TextLayout::Column> columns_;
  std::vector<char> letters_;  ///< 0 for an unknown column
  std::vector<Seen> seen_;
  std::vector<std::size_t> problem_fields_;
};

}  // namespace haunch::exchange
