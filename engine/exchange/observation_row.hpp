// SPDX-License-Identifier: Apache-2.0
// One field of a row into an Observation, by column letter. Inside exchange; text and CSV use it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "coding/observation.hpp"

namespace haunch::exchange {

/// Text with '.' where it is a number, as read where it is not. True when it is written with the sign
/// that the file does not name.
bool read_number_into(coding::Number& number, std::string_view text, char decimal);

struct RowReader {
  char decimal = '.';
  base::Problems problems{};  ///< without places: the caller knows line and column

  /// The field of a column 'A' to 'N'.
  void take(char letter, std::string_view text, coding::Observation& into);

 private:
  void say(base::Severity severity, std::string what, std::string expected);
  void number(std::string_view plain, const char* name, coding::Number& into);
  void hour(std::string_view plain, const char* name, std::optional<int>& into);
  void joint(std::string_view plain, coding::Observation& into);
};

/// 0 to 12 is another way of writing the whole circumference.
void whole_circumference(coding::Observation& one);

/// May an unknown column be called so? Neither like a letter that has a meaning, nor empty, nor with
/// blanks at its ends.
bool is_extra_name(std::string_view name);

/// Names of unknown columns, each as often as one observation has it.
std::vector<std::string> extra_names(const std::vector<coding::Observation>& observations);
/// Of the n-th column of that name (from 0); nothing when the observation has none.
const std::string* extra_text(const coding::Observation& one, std::string_view name, std::size_t n);

/// Column in characters, from 1, of a byte of a line.
int column_of(std::string_view line, std::size_t byte);

}  // namespace haunch::exchange
