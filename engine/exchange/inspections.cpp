// SPDX-License-Identifier: Apache-2.0
// Tells the kinds of file apart by what stands in them, and walks them.
#include "exchange/inspections.hpp"

#include <algorithm>

#include "base/files.hpp"
#include "base/words.hpp"
#include "exchange/csv_rows.hpp"
#include "exchange/lines.hpp"
#include "exchange/text_marks.hpp"
#include "exchange/walk.hpp"

namespace haunch::exchange {
namespace fs = std::filesystem;
namespace {

std::optional<FileKind> kind_of(std::string_view bytes) {
  const auto first = bytes.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  if (bytes[first] == '{' || bytes[first] == '[') return FileKind::record_json;
  for (std::size_t at = 0; (at = bytes.find('#', at)) != std::string_view::npos; ++at)
    if ((at == 0 || bytes[at - 1] == '\n' || bytes[at - 1] == '\r') && at + 1 < bytes.size() &&
        bytes[at + 1] >= 'A' && bytes[at + 1] <= 'C')
      return FileKind::exchange_text;
  const auto line_at = [bytes](std::size_t at) {
    return bytes.substr(at, std::min(bytes.find_first_of("\r\n", at), bytes.size()) - at);
  };
  std::string_view line = line_at(first);
  const char told = separator_told(line);
  if (told != 0) line = line_at(std::min(bytes.find_first_not_of("\r\n", first + line.size()), bytes.size()));
  for (const char separator : {',', ';', '\t', told})
    for (const std::string& name : base::split(line, separator))
      if (const std::string small = base::lower(base::trim(name)); small == "code" || small == "\"code\"")
        return FileKind::csv;
  return {};
}

/// By what stands there, and where that tells nothing by the name.
std::optional<FileKind> kind_of(const Bytes& bytes, const fs::path& path) {
  const std::string extension = base::lower(path.extension().string());
  auto kind = kind_of(bytes.window());
  if (!kind && extension == ".json") kind = FileKind::record_json;
  if (!kind && extension == ".csv") kind = FileKind::csv;
  return kind;
}

std::unique_ptr<Walk> walk_as(FileKind kind, Bytes bytes, const std::string& name) {
  if (kind == FileKind::record_json) return walk_json(std::move(bytes), name);
  if (kind == FileKind::csv) return walk_csv(std::move(bytes), name);
  return walk_exchange_text(std::move(bytes), name);
}

base::Problem no_record(const Bytes& bytes, const fs::path& path) {
  return {{path.string(), 1, 1},
          base::Severity::error,
          base::trim(bytes.window()).empty() ? "the file is empty" : "the file is no record that we know",
          "a record as JSON, exchange text (#A1=, #B01=, #C=) or CSV with a column \"code\"",
          {}};
}

}  // namespace

FileKind kind_for_writing(const fs::path& path) {
  const std::string extension = base::lower(path.extension().string());
  if (extension == ".json") return FileKind::record_json;
  return extension == ".csv" ? FileKind::csv : FileKind::exchange_text;
}

base::Result<std::vector<PlacedRecord>> all_of(Walk& walk, std::vector<TextLayout>* layouts) {
  std::vector<PlacedRecord> all;
  base::Problems problems;
  for (Inspection one; walk.next(one); one = {}) {
    for (base::Problem& remark : one.remarks) add_problem(problems, std::move(remark));
    all.push_back(std::move(one.placed));
    if (layouts != nullptr) layouts->push_back(std::move(one.layout));
  }
  for (const base::Problem& problem : walk.problems) add_problem(problems, problem);
  std::stable_sort(problems.begin(), problems.end(), [](const base::Problem& a, const base::Problem& b) {
    return a.place.line < b.place.line;
  });
  if (base::has_errors(problems)) return problems;
  return {std::move(all), std::move(problems)};
}

base::Result<std::vector<PlacedRecord>> read_records(const fs::path& path) {
  const auto text = base::read_file(path);
  if (!text) return text.problems();
  Bytes bytes = Bytes::over(text.value());
  const auto kind = kind_of(bytes, path);
  if (!kind) return no_record(bytes, path);
  return all_of(*walk_as(*kind, std::move(bytes), path.string()));
}

struct Inspections::Inside {
  std::optional<FileKind> kind;
  std::unique_ptr<Walk> walk;
  base::Problems problems;  ///< of a file that cannot be walked
};

Inspections::Inspections(const fs::path& file, Blocks blocks) : inside_(std::make_unique<Inside>()) {
  auto bytes = Bytes::open(file, blocks.bytes);
  if (!bytes) {
    inside_->problems = bytes.problems();
    return;
  }
  bytes.value().fill(blocks.head);
  inside_->kind = kind_of(bytes.value(), file);
  if (inside_->kind)
    inside_->walk = walk_as(*inside_->kind, std::move(bytes).value(), file.string());
  else
    inside_->problems = {no_record(bytes.value(), file)};
}
Inspections::Inspections(Inspections&&) noexcept = default;
Inspections& Inspections::operator=(Inspections&&) noexcept = default;
Inspections::~Inspections() = default;

std::optional<Inspection> Inspections::next() {
  Inspection one;
  if (!next(one)) return {};
  return one;
}

bool Inspections::next(Inspection& into) { return inside_->walk && inside_->walk->next(into); }

const base::Problems& Inspections::problems() const {
  return inside_->walk ? inside_->walk->problems : inside_->problems;
}

std::optional<FileKind> Inspections::kind() const { return inside_->kind; }

std::optional<std::string> Inspections::language() const {
  return inside_->walk ? inside_->walk->language : std::nullopt;
}

std::optional<TextStyle> Inspections::style() const {
  return inside_->walk ? inside_->walk->style : std::nullopt;
}

}  // namespace haunch::exchange
