// SPDX-License-Identifier: Apache-2.0
// The spreadsheet form, inspection by inspection. Inside exchange.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "coding/record.hpp"

namespace haunch::exchange {

class CsvWriter {
 public:
  /// The unknown columns of all that will be added.
  explicit CsvWriter(std::vector<std::string> extra) : extra_(std::move(extra)) {}
  void captions();
  void add(const coding::Record& record);

  std::string out;

 private:
  void cell(std::string_view text, bool may_run = false);
  void number(const coding::Number& number);
  void hour(const std::optional<int>& hour);
  void empty_cells(std::size_t cells);
  void end_row();
  void observation(const std::string& inspection, const coding::Observation& one);

  std::vector<std::string> extra_;
  std::size_t count_ = 0;
  bool first_ = true;
};

}  // namespace haunch::exchange
