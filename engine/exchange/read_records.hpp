// SPDX-License-Identifier: Apache-2.0
// Any file that holds Records, told apart by what stands in it.
#pragma once

#include <filesystem>
#include <vector>

#include "base/result.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {

enum class FileKind { record_json, exchange_text, csv };

/// By extension for writing (.json, .csv, else exchange text).
FileKind kind_for_writing(const std::filesystem::path& path);

/// Ours: five for each metre of the longest pipe there could be. A larger one is refused.
inline constexpr std::size_t most_observations = 50000;

/// Reads JSON, exchange text or our CSV, by content. One Record for each inspection.
base::Result<std::vector<PlacedRecord>> read_records(const std::filesystem::path& path);
std::string write_records(const std::vector<coding::Record>& records, FileKind kind);

/// Spreadsheet form: one row an observation, fixed English column names, header fields as rows
/// whose code column is the header code. Cells that a spreadsheet would run as a formula are
/// written so that it does not.
std::string records_to_csv(const std::vector<coding::Record>& records);
/// Read with commas, semicolons or tabs between cells, or what a first line such as "sep=;" says; captions in
/// any letter case.
base::Result<std::vector<PlacedRecord>> records_from_csv(const std::string& text,
                                                         const std::string& file_name);

}  // namespace haunch::exchange
