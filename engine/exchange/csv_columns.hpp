// SPDX-License-Identifier: Apache-2.0
// The columns of the spreadsheet form. Inside exchange.
#pragma once

#include <array>
#include <string_view>

namespace haunch::exchange {

/// Column names, and the letter that exchange text has for the same thing (0 for none).
struct CsvColumn {
  const char* name;
  char letter;
};
inline constexpr std::array<CsvColumn, 19> csv_columns{{{"inspection", 0},
                                                        {"row", 0},
                                                        {"id", 0},
                                                        {"distance_m", 'I'},
                                                        {"code", 'A'},
                                                        {"ch1", 'B'},
                                                        {"ch2", 'C'},
                                                        {"q1", 'D'},
                                                        {"q2", 'E'},
                                                        {"clock_from", 'G'},
                                                        {"clock_to", 'H'},
                                                        {"at_joint", 0},
                                                        {"stretch", 'J'},
                                                        {"remark", 'F'},
                                                        {"manhole_place", 'L'},
                                                        {"photo", 'M'},
                                                        {"video", 'N'},
                                                        {"reason", 0},
                                                        {"value", 0}}};
/// Before the name of an unknown column.
inline constexpr std::string_view csv_extra_prefix = "extra:";

/// A spreadsheet runs a cell that begins with one of these; an apostrophe in front stops it.
inline bool csv_would_run(std::string_view text) {
  return !text.empty() && std::string_view("=+-@\t\r'").find(text[0]) != std::string_view::npos;
}

}  // namespace haunch::exchange
