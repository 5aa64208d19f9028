// SPDX-License-Identifier: Apache-2.0
// What the readers of the three formats have in common. Inside exchange.
#pragma once

#include <memory>
#include <string>

#include "exchange/bytes.hpp"
#include "exchange/inspections.hpp"

namespace haunch::exchange {

struct Walk {
  Walk() = default;
  Walk(const Walk&) = delete;
  Walk& operator=(const Walk&) = delete;
  virtual ~Walk() = default;
  /// The next inspection, in place of what stands in `into`.
  virtual bool next(Inspection& into) = 0;

  base::Problems problems;  ///< of the file as a whole
  std::optional<TextStyle> style;
  std::optional<std::string> language;  ///< that the file itself names
};

std::unique_ptr<Walk> walk_exchange_text(Bytes bytes, const std::string& file_name);
std::unique_ptr<Walk> walk_csv(Bytes bytes, const std::string& file_name);
std::unique_ptr<Walk> walk_json(Bytes bytes, const std::string& file_name);

/// A text that holds one record, or a list of them, and begins at that place of its file; with problems,
/// what could be read all the same.
struct JsonRecords {
  std::vector<PlacedRecord> records;
  base::Problems problems;
  std::optional<std::string> language;
};
JsonRecords json_records(const std::string& text, const base::Place& begins);

/// All that is left of a walk, or every problem in the order of the file.
base::Result<std::vector<PlacedRecord>> all_of(Walk& walk, std::vector<TextLayout>* layouts = nullptr);

}  // namespace haunch::exchange
