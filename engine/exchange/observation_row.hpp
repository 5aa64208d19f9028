// SPDX-License-Identifier: Apache-2.0
// One field of a row into an Observation, by column letter. Inside exchange; text and CSV use it.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "coding/observation.hpp"

namespace haunch::exchange {

struct ReadNumber {
  coding::Number number;       ///< text with '.' where it is a number, as read where it is not
  bool other_decimal = false;  ///< written with the sign that the file does not name
};
ReadNumber number_from(std::string_view text, char decimal);

struct RowReader {
  char decimal = '.';
  base::Problems problems;  ///< without places: the caller knows line and column

  void take(const std::string& letter, const std::string& text, coding::Observation& into);
};

/// 0 to 12 is another way of writing the whole circumference.
void whole_circumference(coding::Observation& one);

/// Column in characters, from 1, of a byte of a line.
int column_of(std::string_view line, std::size_t byte);

}  // namespace haunch::exchange
