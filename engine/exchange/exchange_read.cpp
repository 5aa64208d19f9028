// SPDX-License-Identifier: Apache-2.0
// Reads exchange text generously: whatever can be understood is, with a warning; the rest is reported,
// all of it, with line and column.
#include <algorithm>
#include <set>

#include "base/words.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/observation_row.hpp"
#include "exchange/split_row.hpp"
#include "exchange/text_lines.hpp"

namespace haunch::exchange {
namespace {

using base::Severity;

class Reader {
 public:
  Reader(std::vector<Line> lines, TextStyle style, TextProblems& problems)
      : lines_(std::move(lines)), problems_(problems) {
    file_.style = std::move(style);
  }

  ExchangeFile run() {
    read_inspections();
    return std::move(file_);
  }

 private:
  void read_inspections() {
    bool seen_mark = false;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const Line& line = lines_[i];
      if (base::trim(line.text).empty()) continue;
      const Tagged mark = tagged(line.text);
      seen_mark = seen_mark || mark.tag != Tag::none;
      switch (mark.tag) {
        case Tag::how:
          if (open_ || !file_.inspections.empty())
            problems_.note(line, "an #A line stands after the first inspection", "#A lines at the top only");
          break;
        case Tag::header:
          i = header(i, mark);
          break;
        case Tag::columns:
          columns(line, mark);
          break;
        case Tag::end:
          end(line);
          break;
        case Tag::broken:
          problems_.error(line, 0,
                          "the line begins like a mark of the format but is none: " +
                              std::string(line.text.substr(0, 20)),
                          "#A1= to #A6=, #B01=, #C= or #Z; text that begins so is quoted");
          break;
        case Tag::none:
          row(line);
          break;
      }
    }
    if (open_) {
      problems_.note(lines_.back(), "the last inspection is not ended", "#Z");
      close(lines_.back());
    }
    if (!seen_mark)
      problems_.say(Severity::error, 1, 1,
                    "this is not exchange text: no line begins with #A1=, #B01= or #C=",
                    "the text format of EN 13508-2");
    else if (file_.inspections.empty())
      problems_.say(Severity::error, 1, 1, "the file holds no inspection", "#B01=, its values, #C= and rows");
  }

  void start(const Line&) {
    if (open_) return;
    open_ = true;
    file_.inspections.emplace_back();
    columns_.clear();
    has_columns_ = false;
  }

  std::size_t header(std::size_t i, const Tagged& mark) {
    const Line& line = lines_[i];
    if (open_ && has_columns_) {
      problems_.warn(line, 0, "a new header begins before the last inspection is ended", "#Z before it");
      close(line);
    }
    start(line);
    const SplitRow captions = split_row(mark.value, file_.style.separator, file_.style.quote);
    std::size_t next = i + 1;
    while (next < lines_.size() && base::trim(lines_[next].text).empty()) ++next;
    if (next >= lines_.size() || tagged(lines_[next].text).tag != Tag::none) {
      problems_.error(line, 0, "no values follow the header codes",
                      "a line with " + std::to_string(captions.fields.size()) + " values");
      return i;
    }
    const Line& values_line = lines_[next];
    const SplitRow values = split_row(values_line.text, file_.style.separator, file_.style.quote);
    if (!quotes_good(values_line, values)) return next;
    if (!fits(values_line, values, captions.fields.size(), "header codes")) return next;
    for (std::size_t k = 0; k < captions.fields.size(); ++k)
      header_field(line, mark.value_at + captions.fields[k].at, base::trim(captions.fields[k].text),
                   values.fields[k].text);
    return next;
  }

  void header_field(const Line& line, std::size_t byte, const std::string& code, std::string value) {
    if (code.empty()) return problems_.error(line, byte, "a header code is empty", "a code such as AAA");
    if (coding::header_holds_number(code) && file_.style.decimal == ',') {
      const auto number = number_from(value, ',').number;
      if (number.value) value = number.text;
    }
    auto& header = file_.inspections.back().record.header;
    for (const coding::HeaderField& known : header) {
      if (known.code != code) continue;
      if (known.value == value)
        return problems_.note(line, "header " + code + " is given twice with the same value",
                              "each code once");
      // The general remark can honestly stand there more than once.
      if (code == "ADE") break;
      problems_.warn(
          line, byte,
          "header " + code + " is \"" + known.value + "\" and also \"" + value + "\"; the first counts",
          "one value");
      break;
    }
    header.push_back({code, std::move(value)});
  }

  void columns(const Line& line, const Tagged& mark) {
    if (!open_) problems_.note(line, "the inspection has no header", "#B01= before #C=");
    start(line);
    if (has_columns_) problems_.note(line, "the columns are named again inside an inspection", "one #C line");
    has_columns_ = true;
    columns_.clear();
    std::set<std::string> seen;
    for (const Field& field : split_row(mark.value, file_.style.separator, file_.style.quote).fields) {
      const std::string letter = base::trim(field.text);
      const std::size_t byte = mark.value_at + field.at;
      if (letter.empty())
        problems_.error(line, byte, "a column has no letter", "a letter from A to N");
      else if (!seen.insert(letter).second)
        problems_.error(line, byte, "the column " + letter + " is named twice", "each column once");
      else if (letter.size() != 1 || letter[0] < 'A' || letter[0] > 'N')
        problems_.warn(line, byte, "the column \"" + letter + "\" is not known; its text is kept",
                       "letters from A to N");
      columns_.push_back(letter);
    }
    if (!seen.contains("A")) problems_.error(line, 0, "no column for the main code", "a column A");
    if (!seen.contains("I")) problems_.error(line, 0, "no column for the distance", "a column I");
  }

  void end(const Line& line) {
    if (!open_) return problems_.note(line, "#Z without an inspection", "an inspection before it");
    close(line);
  }

  void close(const Line& line) {
    open_ = false;
    if (!has_columns_)
      problems_.error(line, 0, "the inspection ends without its observations",
                      "a line #C= and rows (none is allowed)");
    coding::number_observations(file_.inspections.back().record);
  }

  bool quotes_good(const Line& line, const SplitRow& row) {
    if (row.bad_quote == std::string_view::npos) return true;
    if (row.unclosed)
      problems_.error(line, row.bad_quote, "a quote is not closed in its line",
                      "the closing quote; no line break stands inside text");
    else
      problems_.error(line, row.bad_quote, "text stands after a closing quote",
                      "the separator, or the quote written twice inside text");
    return false;
  }

  bool fits(const Line& line, const SplitRow& row, std::size_t wanted, const char* what) {
    if (row.fields.size() == wanted) return true;
    const std::string found =
        std::to_string(row.fields.size()) + (row.fields.size() == 1 ? " value" : " values");
    if (row.fields.size() > wanted &&
        std::all_of(row.fields.begin() + static_cast<std::ptrdiff_t>(wanted), row.fields.end(),
                    [](const Field& f) { return base::trim(f.text).empty(); })) {
      problems_.warn(line, row.fields[wanted].at,
                     "empty values stand after the last of " + std::to_string(wanted) + " " + what,
                     "no more values than " + std::string(what));
      return true;
    }
    problems_.error(line, row.fields.size() > wanted ? row.fields[wanted].at : line.text.size(),
                    "the line has " + found + " for " + std::to_string(wanted) + " " + what,
                    std::to_string(wanted) + " values");
    return false;
  }

  void row(const Line& line) {
    if (!open_ || !has_columns_)
      return problems_.error(line, 0, "a row stands outside an inspection", "#C= before it");
    const SplitRow split = split_row(line.text, file_.style.separator, file_.style.quote);
    if (std::all_of(split.fields.begin(), split.fields.end(),
                    [](const Field& f) { return base::trim(f.text).empty(); }))
      return problems_.note(line, "a row with nothing in it was left out", "an observation");
    if (!quotes_good(line, split) || !fits(line, split, columns_.size(), "columns")) return;
    RowReader reader{file_.style.decimal, {}};
    coding::Observation one;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      const std::size_t before = reader.problems.size();
      reader.take(columns_[k], split.fields[k].text, one);
      for (std::size_t p = before; p < reader.problems.size(); ++p) {
        const base::Problem& problem = reader.problems[p];
        problems_.say(problem.severity, line.number, column_of(line.text, split.fields[k].at), problem.what,
                      problem.expected);
      }
    }
    whole_circumference(one);
    PlacedRecord& inspection = file_.inspections.back();
    inspection.record.observations.push_back(std::move(one));
    inspection.places.observations.push_back({problems_.file_name(), line.number, 1});
  }

  std::vector<Line> lines_;
  ExchangeFile file_;
  TextProblems& problems_;
  bool open_ = false;
  bool has_columns_ = false;
  std::vector<std::string> columns_;
};

}  // namespace

base::Result<ExchangeFile> exchange_from_text(const std::string& bytes, const std::string& file_name) {
  TextProblems problems(file_name);
  TextStyle style;
  const auto text = decoded(bytes, style, problems);
  if (!text) return problems.take();
  std::vector<Line> lines = lines_of(*text);
  style.crlf = text->substr(std::min(text->find_first_of("\r\n"), text->size()), 2) == "\r\n";
  if (!read_style(lines, style, problems)) return problems.take();
  ExchangeFile file = Reader(std::move(lines), std::move(style), problems).run();
  if (problems.has_errors()) return problems.take();
  return {std::move(file), problems.take()};
}

}  // namespace haunch::exchange
