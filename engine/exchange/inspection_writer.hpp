// SPDX-License-Identifier: Apache-2.0
// Writes inspections one after another, so that a file of any size needs memory for one of them.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/files.hpp"
#include "base/result.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/inspections.hpp"
#include "exchange/read_records.hpp"

namespace haunch::exchange {

struct WriteAs {
  FileKind kind = FileKind::exchange_text;
  TextStyle style{};  ///< of exchange text
  /// Unknown columns of all inspections, which a CSV names in its first line: see `gather_extra_columns`.
  std::vector<std::string> extra_columns{};
  /// Of the remarks, where it is known: kept by JSON; exchange text has that of its style, CSV no place.
  std::optional<std::string> language{};
};

/// Adds the unknown columns of one more inspection, each as often as one observation has it.
void gather_extra_columns(std::vector<std::string>& names, const coding::Record& record);

class InspectionWriter {
 public:
  /// Writes to a temporary file beside `file`, which gets its name only when all is well.
  InspectionWriter(const std::filesystem::path& file, WriteAs as,
                   base::Overwrite overwrite = base::Overwrite::no);
  InspectionWriter(InspectionWriter&&) noexcept;
  InspectionWriter& operator=(InspectionWriter&&) noexcept;
  ~InspectionWriter();

  /// Exchange text keeps the inspection's layout, as far as it holds the Record.
  void add(const Inspection& inspection);
  void add(const coding::Record& record);

  /// Gives the file its name. With an error among the problems there is no new file; the rest are what the
  /// format has no place for. Places are those of what was added, in its own file.
  base::Problems finish();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::exchange
