// SPDX-License-Identifier: Apache-2.0
// The text exchange format of EN 13508-2 (lines #A1= .. #Z). Read generously, written strictly.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {

/// How a file is written: the #A lines.
struct TextStyle {
  std::string charset = "UTF-8";  ///< A1
  std::string language = "en";    ///< A2
  char separator = ';';           ///< A3
  char decimal = '.';             ///< A4
  char quote = '"';               ///< A5; 0 when the file names none
  std::string version = "2010";   ///< A6
  bool crlf = false;
  bool operator==(const TextStyle&) const = default;
};

struct ExchangeFile {
  TextStyle style;
  std::vector<PlacedRecord> inspections;
};

/// All inspections, with warnings; or every problem of a file that cannot be read whole.
base::Result<ExchangeFile> exchange_from_text(const std::string& bytes, const std::string& file_name);
std::string exchange_to_text(const std::vector<coding::Record>& inspections, const TextStyle& style = {});

}  // namespace haunch::exchange
