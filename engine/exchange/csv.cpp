// SPDX-License-Identifier: Apache-2.0
// Records as a spreadsheet, both ways. Quoting as RFC 4180.
#include <algorithm>
#include <array>

#include "base/utf8.hpp"
#include "base/words.hpp"
#include "exchange/charset.hpp"
#include "exchange/observation_row.hpp"
#include "exchange/read_records.hpp"

namespace haunch::exchange {
namespace {

using base::Severity;
using coding::Observation;

/// Column names, and the letter that the text format has for the same thing ("" for none).
struct Column {
  const char* name;
  const char* letter;
};
constexpr std::array<Column, 19> columns{{{"inspection", ""},
                                          {"row", ""},
                                          {"id", ""},
                                          {"distance_m", "I"},
                                          {"code", "A"},
                                          {"ch1", "B"},
                                          {"ch2", "C"},
                                          {"q1", "D"},
                                          {"q2", "E"},
                                          {"clock_from", "G"},
                                          {"clock_to", "H"},
                                          {"at_joint", ""},
                                          {"stretch", "J"},
                                          {"remark", "F"},
                                          {"manhole_place", "L"},
                                          {"photo", "M"},
                                          {"video", "N"},
                                          {"reason", ""},
                                          {"value", ""}}};
constexpr std::string_view extra_prefix = "extra:";

/// A spreadsheet runs a cell that begins with one of these; an apostrophe in front stops it.
bool would_run(std::string_view text) {
  return !text.empty() && std::string_view("=+-@\t\r'").find(text[0]) != std::string_view::npos;
}

std::string cell(std::string text) {
  if (would_run(text)) text.insert(text.begin(), '\'');
  if (text.find_first_of(",;\"\r\n") == std::string::npos && base::trim(text) == text) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c;
    if (c == '"') quoted += c;
  }
  return quoted + '"';
}

std::string number_cell(const coding::Number& number) {
  return number.value ? number.show() : cell(number.text);
}

std::string plain_text(std::string text) {
  if (text.size() > 1 && text[0] == '\'' && would_run(std::string_view(text).substr(1))) text.erase(0, 1);
  return text;
}

struct Row {
  std::vector<std::string> cells;
  int line = 0;
  bool bad_quote = false;
};

/// Rows of the whole text: a quoted cell may hold line breaks.
std::vector<Row> rows_of(std::string_view text, char separator) {
  std::vector<Row> rows;
  int line = 1;
  std::size_t at = 0;
  while (at < text.size()) {
    Row row;
    row.line = line;
    bool more = true;
    while (more) {
      std::string value;
      if (at < text.size() && text[at] == '"') {
        ++at;
        bool closed = false;
        while (at < text.size() && !closed) {
          if (text[at] == '"' && at + 1 < text.size() && text[at + 1] == '"') {
            value += '"';
            at += 2;
          } else if (text[at] == '"') {
            closed = true;
            ++at;
          } else {
            line += text[at] == '\n' ? 1 : 0;
            value += text[at++];
          }
        }
        if (!closed || (at < text.size() && text[at] != separator && text[at] != '\n' && text[at] != '\r'))
          row.bad_quote = true;
      }
      while (at < text.size() && text[at] != separator && text[at] != '\n' && text[at] != '\r')
        value += text[at++];
      row.cells.push_back(std::move(value));
      more = at < text.size() && text[at] == separator;
      if (more) ++at;
    }
    if (text.substr(at, 2) == "\r\n")
      at += 2;
    else if (at < text.size())
      ++at;
    ++line;
    if (row.cells.size() > 1 || !base::trim(row.cells[0]).empty()) rows.push_back(std::move(row));
  }
  return rows;
}

bool yes(const std::string& text) {
  const std::string word = base::lower(base::trim(text));
  return word == "yes" || word == "true" || word == "1" || word == "a" || word == "x";
}
bool no(const std::string& text) {
  const std::string word = base::lower(base::trim(text));
  return word.empty() || word == "no" || word == "false" || word == "0";
}

class Reader {
 public:
  explicit Reader(std::string file_name) : file_name_(std::move(file_name)) {}

  base::Result<std::vector<PlacedRecord>> run(std::string_view text) {
    if (text.substr(0, 3) == base::byte_order_mark) text.remove_prefix(3);
    const std::string_view first = text.substr(0, text.find_first_of("\r\n"));
    separator_ =
        std::count(first.begin(), first.end(), ';') > std::count(first.begin(), first.end(), ',') ? ';' : ',';
    const auto rows = rows_of(text, separator_);
    if (rows.empty())
      return base::Problem{
          {file_name_, 1, 1}, Severity::error, "the file is empty", "a line of column names", {}};
    captions(rows.front());
    if (!base::has_errors(problems_))
      for (std::size_t i = 1; i < rows.size(); ++i) row(rows[i]);
    for (PlacedRecord& placed : records_) coding::number_observations(placed.record);
    if (records_.empty() && problems_.empty())
      say(Severity::error, 1, "the file holds no rows", "an inspection");
    if (base::has_errors(problems_)) return std::move(problems_);
    return {std::move(records_), std::move(problems_)};
  }

 private:
  void say(Severity severity, int line, std::string what, std::string expected, std::string suggestion = {}) {
    problems_.push_back(
        {{file_name_, line, 1}, severity, std::move(what), std::move(expected), std::move(suggestion)});
  }

  void captions(const Row& row) {
    std::vector<std::string> known;
    for (const Column& column : columns) known.emplace_back(column.name);
    for (const std::string& given : row.cells) {
      const std::string name = plain_text(base::trim(given));
      if (std::find(names_.begin(), names_.end(), name) != names_.end())
        say(Severity::error, row.line, "the column \"" + name + "\" is named twice", "each column once");
      else if (std::find(known.begin(), known.end(), name) == known.end() && name.rfind(extra_prefix, 0) != 0)
        say(Severity::error, row.line, "the column \"" + name + "\" is not known",
            "one of: " + base::join(known, ", "), base::nearest_word(name, known));
      names_.push_back(name);
    }
    if (std::find(names_.begin(), names_.end(), "code") == names_.end())
      say(Severity::error, row.line, "no column \"code\"", "a column code");
  }

  std::string value(const Row& row, std::string_view name) const {
    for (std::size_t k = 0; k < names_.size(); ++k)
      if (names_[k] == name) return plain_text(row.cells[k]);
    return {};
  }

  /// Rows of one inspection carry its number; a file without that column holds one.
  PlacedRecord& inspection(const std::string& number) {
    for (std::size_t i = 0; i < numbers_.size(); ++i)
      if (numbers_[i] == number) return records_[i];
    numbers_.push_back(number);
    return records_.emplace_back();
  }

  void row(const Row& row) {
    if (row.bad_quote)
      return say(Severity::error, row.line, "a quote is not closed, or text stands after it",
                 "cells quoted whole, with \"\" for a quote inside");
    if (row.cells.size() != names_.size())
      return say(Severity::error, row.line,
                 "the row has " + std::to_string(row.cells.size()) + " cells for " +
                     std::to_string(names_.size()) + " columns",
                 std::to_string(names_.size()) + " cells");
    PlacedRecord& into = inspection(base::trim(value(row, "inspection")));
    const std::string code = base::trim(value(row, "code"));
    const std::string kind = base::lower(base::trim(value(row, "row")));
    const bool header_code = code.size() == 3 && code[0] == 'A' && code[1] >= 'A' && code[1] <= 'D';
    if (kind == "inspection") return;
    if (kind == "header" || (kind.empty() && header_code)) {
      into.record.header.push_back({code, value(row, "value")});
      return;
    }
    if (!kind.empty() && kind != "observation")
      return say(Severity::error, row.line, "the kind of row is \"" + kind + "\"",
                 "inspection, header or observation",
                 base::nearest_word(kind, {"inspection", "header", "observation"}));
    observation(row, into);
  }

  void observation(const Row& row, PlacedRecord& into) {
    Observation one;
    RowReader reader{separator_ == ';' ? ',' : '.', {}};
    for (std::size_t k = 0; k < names_.size(); ++k) {
      const auto column =
          std::find_if(columns.begin(), columns.end(), [&](const Column& c) { return names_[k] == c.name; });
      if (column != columns.end() && column->letter[0] != 0)
        reader.take(column->letter, plain_text(row.cells[k]), one);
      if (names_[k].rfind(extra_prefix, 0) == 0 && !row.cells[k].empty())
        one.extra.emplace_back(names_[k].substr(extra_prefix.size()), plain_text(row.cells[k]));
    }
    for (const base::Problem& problem : reader.problems)
      // A spreadsheet writes the decimal sign of its country, which is no fault of the person.
      if (problem.severity == Severity::error)
        say(problem.severity, row.line, problem.what, problem.expected);
    const std::string joint = value(row, "at_joint");
    one.at_joint = yes(joint);
    if (!yes(joint) && !no(joint))
      say(Severity::error, row.line, "at_joint is \"" + joint + "\"", "yes or nothing");
    one.id = base::trim(value(row, "id"));
    one.reason = value(row, "reason");
    whole_circumference(one);
    into.record.observations.push_back(std::move(one));
    into.places.observations.push_back({file_name_, row.line, 1});
  }

  std::string file_name_;
  char separator_ = ',';
  std::vector<std::string> names_;
  std::vector<std::string> numbers_;
  std::vector<PlacedRecord> records_;
  base::Problems problems_;
};

}  // namespace

std::string records_to_csv(const std::vector<coding::Record>& records) {
  std::vector<std::string> extra;
  for (const coding::Record& record : records)
    for (const Observation& one : record.observations)
      for (const auto& [name, text] : one.extra)
        if (std::find(extra.begin(), extra.end(), name) == extra.end()) extra.push_back(name);
  std::vector<std::string> names;
  for (const Column& column : columns) names.emplace_back(column.name);
  for (const std::string& name : extra) names.push_back(cell(std::string(extra_prefix) + name));
  std::string out = base::join(names, ",") + "\r\n";
  const auto hour = [](const std::optional<int>& clock) {
    return clock ? std::to_string(*clock) : std::string();
  };
  for (std::size_t i = 0; i < records.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    const auto row = [&](std::vector<std::string> cells) {
      cells.resize(names.size());
      out += base::join(cells, ",") + "\r\n";
    };
    row({number, "inspection"});
    for (const coding::HeaderField& field : records[i].header) {
      std::vector<std::string> cells(columns.size());
      cells[0] = number;
      cells[1] = "header";
      cells[4] = cell(field.code);
      cells[columns.size() - 1] = cell(field.value);
      row(std::move(cells));
    }
    for (const Observation& one : records[i].observations) {
      std::vector<std::string> cells{number,
                                     "observation",
                                     cell(one.id),
                                     number_cell(one.distance_m),
                                     cell(one.code),
                                     cell(one.ch1),
                                     cell(one.ch2),
                                     number_cell(one.q1),
                                     number_cell(one.q2),
                                     hour(one.clock_from),
                                     hour(one.clock_to),
                                     one.at_joint ? "yes" : "",
                                     cell(one.stretch),
                                     cell(one.remark),
                                     cell(one.manhole_place),
                                     cell(one.photo),
                                     cell(one.video),
                                     cell(one.reason),
                                     ""};
      for (const std::string& name : extra) {
        const auto found = std::find_if(one.extra.begin(), one.extra.end(),
                                        [&name](const auto& pair) { return pair.first == name; });
        cells.push_back(found == one.extra.end() ? std::string() : cell(found->second));
      }
      row(std::move(cells));
    }
  }
  return out;
}

base::Result<std::vector<PlacedRecord>> records_from_csv(const std::string& text,
                                                         const std::string& file_name) {
  if (first_foreign_byte(text, Charset::utf8) != std::string::npos)
    return Reader(file_name).run(to_utf8(text, Charset::windows1252));
  return Reader(file_name).run(text);
}

}  // namespace haunch::exchange
