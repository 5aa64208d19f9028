// SPDX-License-Identifier: Apache-2.0
// Tells the kinds of file apart by what stands in them.
#include "exchange/read_records.hpp"

#include "base/files.hpp"
#include "base/utf8.hpp"
#include "base/words.hpp"
#include "exchange/exchange_text.hpp"

namespace haunch::exchange {
namespace {

std::optional<FileKind> kind_of(std::string_view bytes) {
  if (bytes.substr(0, 3) == base::byte_order_mark) bytes.remove_prefix(3);
  const auto first = bytes.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  if (bytes[first] == '{' || bytes[first] == '[') return FileKind::record_json;
  for (std::size_t at = 0; (at = bytes.find('#', at)) != std::string_view::npos; ++at)
    if ((at == 0 || bytes[at - 1] == '\n' || bytes[at - 1] == '\r') && at + 1 < bytes.size() &&
        bytes[at + 1] >= 'A' && bytes[at + 1] <= 'C')
      return FileKind::exchange_text;
  const std::string line(bytes.substr(first, bytes.find_first_of("\r\n", first) - first));
  for (const char separator : {',', ';'})
    for (const std::string& name : base::split(line, separator))
      if (base::trim(name) == "code" || base::trim(name) == "\"code\"") return FileKind::csv;
  return {};
}

base::Result<std::vector<PlacedRecord>> read_as(FileKind kind, const std::string& bytes,
                                                const std::string& name) {
  if (kind == FileKind::record_json) return records_from_json(bytes, name);
  if (kind == FileKind::csv) return records_from_csv(bytes, name);
  auto file = exchange_from_text(bytes, name);
  if (!file) return file.problems();
  return {std::move(file.value().inspections), file.problems()};
}

}  // namespace

FileKind kind_for_writing(const std::filesystem::path& path) {
  const std::string extension = base::lower(path.extension().string());
  if (extension == ".json") return FileKind::record_json;
  return extension == ".csv" ? FileKind::csv : FileKind::exchange_text;
}

base::Result<std::vector<PlacedRecord>> read_records(const std::filesystem::path& path) {
  const auto bytes = base::read_file(path);
  if (!bytes) return bytes.problems();
  const std::string extension = base::lower(path.extension().string());
  auto kind = kind_of(bytes.value());
  if (!kind && extension == ".json") kind = FileKind::record_json;
  if (!kind && extension == ".csv") kind = FileKind::csv;
  if (!kind)
    return base::Problem{
        {path.string(), 1, 1},
        base::Severity::error,
        base::trim(bytes.value()).empty() ? "the file is empty" : "the file is no record that we know",
        "a record as JSON, exchange text (#A1=, #B01=, #C=) or CSV with a column \"code\"",
        {}};
  auto records = read_as(*kind, bytes.value(), path.string());
  if (!records) return records;
  base::Problems too_large;
  for (const PlacedRecord& one : records.value())
    if (one.record.observations.size() > most_observations)
      too_large.push_back({{path.string(), 1, 1},
                           base::Severity::error,
                           "an inspection holds " + std::to_string(one.record.observations.size()) +
                               " observations, and no pipe has as many",
                           "at most " + std::to_string(most_observations),
                           {}});
  if (!too_large.empty()) return too_large;
  return records;
}

std::string write_records(const std::vector<coding::Record>& records, FileKind kind) {
  if (kind == FileKind::record_json) return records_to_json(records);
  return kind == FileKind::csv ? records_to_csv(records) : exchange_to_text(records);
}

}  // namespace haunch::exchange
