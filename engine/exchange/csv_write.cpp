// SPDX-License-Identifier: Apache-2.0
// Records as a spreadsheet. Quoting as RFC 4180.
#include "exchange/csv_writer.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "exchange/charset.hpp"
#include "exchange/csv_columns.hpp"
#include "exchange/inspection_writer.hpp"
#include "exchange/observation_row.hpp"
#include "exchange/read_records.hpp"
#include "exchange/split_row.hpp"

namespace haunch::exchange {

void CsvWriter::cell(std::string_view text, bool may_run) {
  if (!first_) out += ',';
  first_ = false;
  const bool run = !may_run && csv_would_run(text);
  if (!run && text.find_first_of(",;\"\r\n") == std::string_view::npos && trimmed(text) == text &&
      text.find('\0') == std::string_view::npos &&
      first_foreign_byte(text, Charset::utf8) == std::string_view::npos) {
    out += text;
    return;
  }
  std::string clean = to_utf8(text, Charset::utf8);
  if (run) clean.insert(clean.begin(), '\'');
  const bool quotes = clean.find_first_of(",;\"\r\n") != std::string::npos || trimmed(clean) != clean;
  if (quotes) out += '"';
  for (const char c : clean) {
    // No spreadsheet reads on after a zero byte.
    out += c == '\0' ? ' ' : c;
    if (c == '"') out += c;
  }
  if (quotes) out += '"';
}

void CsvWriter::number(const coding::Number& number) { cell(number.show(), number.value.has_value()); }

void CsvWriter::hour(const std::optional<int>& hour) { cell(hour ? std::to_string(*hour) : std::string()); }

void CsvWriter::end_row() {
  out += "\r\n";
  first_ = true;
}

void CsvWriter::captions() {
  for (const CsvColumn& column : csv_columns) cell(column.name);
  for (const std::string& name : extra_) cell(std::string(csv_extra_prefix) + name);
  end_row();
}

void CsvWriter::empty_cells(std::size_t cells) { out.append(cells, ','); }

void CsvWriter::add(const coding::Record& record) {
  const std::string number_text = std::to_string(++count_);
  const std::size_t all = csv_columns.size() + extra_.size();
  cell(number_text);
  cell("inspection");
  empty_cells(all - 2);
  end_row();
  for (const coding::HeaderField& field : record.header) {
    cell(number_text);
    cell("header");
    empty_cells(2);
    cell(field.code);
    empty_cells(csv_columns.size() - 6);
    cell(field.value);
    empty_cells(extra_.size());
    end_row();
  }
  for (const coding::Observation& one : record.observations) observation(number_text, one);
}

void CsvWriter::observation(const std::string& inspection, const coding::Observation& one) {
  cell(inspection);
  cell("observation");
  cell(one.id);
  number(one.distance_m);
  for (const std::string* text : {&one.code, &one.ch1, &one.ch2}) cell(*text);
  number(one.q1);
  number(one.q2);
  hour(one.clock_from);
  hour(one.clock_to);
  cell(one.at_joint ? "yes" : "");
  for (const std::string* text :
       {&one.stretch, &one.remark, &one.manhole_place, &one.photo, &one.video, &one.reason})
    cell(*text);
  cell("");
  for (std::size_t k = 0; k < extra_.size(); ++k) {
    std::size_t nth = 0;
    for (std::size_t before = 0; before < k; ++before) nth += extra_[before] == extra_[k] ? 1 : 0;
    const std::string* text = extra_text(one, extra_[k], nth);
    cell(text != nullptr ? *text : std::string());
  }
  end_row();
}

void gather_extra_columns(std::vector<std::string>& names, const coding::Record& record) {
  std::vector<std::string> here = extra_names(record.observations);
  for (const std::string& name : names)
    if (const auto found = std::find(here.begin(), here.end(), name); found != here.end()) here.erase(found);
  names.insert(names.end(), here.begin(), here.end());
}

std::string records_to_csv(const std::vector<coding::Record>& records) {
  std::vector<std::string> extra;
  for (const coding::Record& record : records) gather_extra_columns(extra, record);
  CsvWriter writer(std::move(extra));
  writer.captions();
  for (const coding::Record& record : records) writer.add(record);
  return std::move(writer.out);
}

}  // namespace haunch::exchange
