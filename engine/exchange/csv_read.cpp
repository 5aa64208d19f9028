// SPDX-License-Identifier: Apache-2.0
// Records from a spreadsheet, one inspection at a time.
#include <algorithm>
#include <charconv>
#include <unordered_set>

#include "base/words.hpp"
#include "exchange/csv_columns.hpp"
#include "exchange/csv_rows.hpp"
#include "exchange/exchange_columns.hpp"
#include "exchange/text_marks.hpp"
#include "exchange/walk.hpp"

namespace haunch::exchange {
namespace {

using base::Severity;

std::string_view plain_text(std::string_view text) {
  if (text.size() > 1 && text[0] == '\'' && csv_would_run(text.substr(1))) text.remove_prefix(1);
  return text;
}

bool yes(std::string_view text) {
  const std::string word = base::lower(trimmed(text));
  return word == "yes" || word == "true" || word == "1" || word == "a" || word == "x";
}
bool no(std::string_view text) {
  const std::string word = base::lower(trimmed(text));
  return word.empty() || word == "no" || word == "false" || word == "0";
}

/// Numbers of inspections that are done with: mostly 1, 2, 3 .., which take no memory.
class Done {
 public:
  bool add(const std::string& number) {
    std::uint64_t value = 0;
    const char* const end = number.data() + number.size();
    const auto read = std::from_chars(number.data(), end, value);
    if (read.ec == std::errc() && read.ptr == end && number[0] != '0') {
      if (value == up_to_ + 1) {
        ++up_to_;
        return !others_.contains(number);
      }
      if (value <= up_to_) return false;
    }
    return others_.insert(number).second;
  }

 private:
  std::uint64_t up_to_ = 0;
  std::unordered_set<std::string> others_;
};

class CsvWalk final : public Walk {
 public:
  CsvWalk(Bytes bytes, std::string file_name) : rows_(std::move(bytes)), file_name_(std::move(file_name)) {
    if (rows_.next() != CsvRows::State::row) {
      say(Severity::error, 1, "the file is empty", "a line of column names");
      return;
    }
    captions();
    going_ = !base::has_errors(problems);
    reader_.decimal = rows_.separator() == ';' ? ',' : '.';
  }

  bool next(Inspection& into) override {
    if (!going_) return false;
    into = {};
    into.number = count_ + 1;
    into_ = &into;
    open_ = named_ = false;
    stored_ = bytes_ = 0;
    for (;;) {
      const CsvRows::State state = rows_.next();
      if (state == CsvRows::State::end) break;
      if (!good(state)) {
        if (state == CsvRows::State::zero_byte) break;
        continue;
      }
      const std::string number(trimmed(cell(inspection_)));
      if (open_ && number != number_) {
        rows_.again();
        return close();
      }
      if (!open_) open(number);
      row();
    }
    going_ = false;
    if (open_) return close();
    if (rows_.broken()) say(Severity::error, rows_.line(), "reading stopped half way", "a readable file");
    if (count_ == 0 && problems.empty()) say(Severity::error, 1, "the file holds no rows", "an inspection");
    return false;
  }

 private:
  void say(Severity severity, int line, std::string what, std::string expected, std::string suggestion = {}) {
    add_problem(
        open_ ? into_->remarks : problems,
        {{file_name_, line, 1}, severity, std::move(what), std::move(expected), std::move(suggestion)});
  }
  void error(std::string what, std::string expected, std::string suggestion = {}) {
    say(Severity::error, rows_.line(), std::move(what), std::move(expected), std::move(suggestion));
  }

  std::string_view cell(std::size_t k) const {
    return k < names_.size() ? plain_text(rows_.cells().fields[k].text) : std::string_view();
  }

  void captions() {
    std::vector<std::string> known;
    for (const CsvColumn& column : csv_columns) known.emplace_back(column.name);
    if (rows_.cells().fields.size() > most_columns)
      error("the file has more than " + std::to_string(most_columns) + " columns", "the columns of a record");
    for (const Row::Field& given : rows_.cells().fields) {
      std::string name(plain_text(given.text));
      const bool extra = base::lower(name).rfind(csv_extra_prefix, 0) == 0;
      if (!extra) name = plain_text(trimmed(given.text));
      // Spreadsheets and people begin captions with a capital.
      if (const std::string small = base::lower(name);
          !extra && std::find(known.begin(), known.end(), small) != known.end())
        name = small;
      const auto column = std::find_if(csv_columns.begin(), csv_columns.end(),
                                       [&name](const CsvColumn& one) { return name == one.name; });
      if (!extra && std::find(names_.begin(), names_.end(), name) != names_.end())
        error("the column \"" + name + "\" is named twice", "each column once");
      else if (!extra && column == csv_columns.end())
        error("the column \"" + name + "\" is not known", "one of: " + base::join(known, ", "),
              base::nearest_word(name, known));
      names_.push_back(name);
      letters_.push_back(column == csv_columns.end() ? '\0' : column->letter);
      if (extra) extras_.push_back(names_.size() - 1);
    }
    const auto place_of = [this](const char* name) {
      return static_cast<std::size_t>(std::find(names_.begin(), names_.end(), name) - names_.begin());
    };
    inspection_ = place_of("inspection");
    row_kind_ = place_of("row");
    code_ = place_of("code");
    value_ = place_of("value");
    joint_ = place_of("at_joint");
    id_ = place_of("id");
    reason_ = place_of("reason");
    if (code_ == names_.size()) error("no column \"code\"", "a column code");
  }

  bool good(CsvRows::State state) {
    const Row& row = rows_.cells();
    if (state == CsvRows::State::too_long)
      error("the row is longer than 1 MiB and was left out; is a quote not closed?",
            "a row of an inspection");
    else if (state == CsvRows::State::zero_byte)
      error("this is not plain text: a zero byte stands here",
            "a file saved as UTF-8; nothing after it was read");
    else if (state == CsvRows::State::foreign_byte)
      error("a byte that does not belong to UTF-8", "one character set throughout, UTF-8 or Windows-1252");
    else if (row.bad_quote != std::string_view::npos)
      error("a quote is not closed, or text stands after it",
            "cells quoted whole, with \"\" for a quote inside");
    else if (row.fields.size() != names_.size())
      error("the row has " + std::to_string(row.fields.size()) + " cells for " +
                std::to_string(names_.size()) + " columns",
            std::to_string(names_.size()) + " cells");
    else if (row.all_blank())
      say(Severity::note, rows_.line(), "a row with nothing in it was left out", "a row of an inspection");
    else
      return true;
    return false;
  }

  void open(const std::string& number) {
    open_ = true;
    number_ = number;
    into_->place = {file_name_, rows_.line(), 1};
    if (!done_.add(number))
      error("the rows of inspection \"" + number + "\" do not stand together",
            "a file sorted by the column inspection");
  }

  bool close() {
    auto& observations = into_->placed.record.observations;
    if (named_) coding::number_observations(into_->placed.record);
    for (std::size_t i = 0; !named_ && i < observations.size(); ++i)
      observations[i].id = "o" + std::to_string(i + 1);
    if (stored_ > most_observations)
      say(Severity::error, into_->place.line,
          "an inspection holds " + std::to_string(stored_) + " observations, and no pipe has as many",
          "at most " + std::to_string(most_observations));
    if (bytes_ > largest_inspection)
      say(Severity::error, into_->place.line, "the inspection is larger than 64 MiB",
          "fewer or shorter rows");
    ++count_;
    open_ = false;
    return true;
  }

  void row() {
    const std::string_view code = trimmed(cell(code_));
    const std::string kind = base::lower(trimmed(cell(row_kind_)));
    const bool header_code = code.size() == 3 && code[0] == 'A' && code[1] >= 'A' && code[1] <= 'D';
    for (const Row::Field& field : rows_.cells().fields) bytes_ += field.text.size();
    if (kind == "inspection" || bytes_ > largest_inspection) return;
    if (kind == "header" || (kind.empty() && header_code))
      header(code);
    else if (kind.empty() || kind == "observation")
      observation();
    else
      error("the kind of row is \"" + kind + "\"", "inspection, header or observation",
            base::nearest_word(kind, {"inspection", "header", "observation"}));
  }

  void header(std::string_view code) {
    std::string value(cell(value_));
    // As in the cells of observations: a spreadsheet writes the decimal sign of its country.
    if (coding::header_holds_number(code)) {
      coding::Number number;
      read_number_into(number, value, reader_.decimal);
      if (number.value) value = std::move(number.text);
    }
    into_->placed.record.header.push_back({std::string(code), std::move(value)});
    const auto [line, column] = value_ < names_.size() ? rows_.place_of(value_) : std::pair(rows_.line(), 1);
    into_->placed.places.header.push_back({file_name_, line, column});
  }

  void observation() {
    if (++stored_ > most_observations) return;
    coding::Observation& one = into_->placed.record.observations.emplace_back();
    into_->placed.places.observations.push_back({file_name_, rows_.line(), 1});
    for (std::size_t k = 0; k < names_.size(); ++k)
      if (letters_[k] != 0) reader_.take(letters_[k], cell(k), one);
    for (const std::size_t k : extras_)
      if (!cell(k).empty()) one.extra.emplace_back(names_[k].substr(csv_extra_prefix.size()), cell(k));
    for (base::Problem& problem : reader_.problems)
      // A spreadsheet writes the decimal sign of its country, which is no fault of the person.
      if (problem.severity == Severity::error) error(std::move(problem.what), std::move(problem.expected));
    reader_.problems.clear();
    const std::string_view joint = cell(joint_);
    one.at_joint = yes(joint);
    if (!yes(joint) && !no(joint)) error("at_joint is \"" + std::string(joint) + "\"", "yes or nothing");
    one.id = trimmed(cell(id_));
    named_ = named_ || !one.id.empty();
    one.reason = cell(reason_);
    whole_circumference(one);
  }

  CsvRows rows_;
  std::string file_name_;
  bool going_ = false;
  int count_ = 0;
  std::vector<std::string> names_;
  std::vector<char> letters_;
  std::vector<std::size_t> extras_;
  std::size_t inspection_ = 0, row_kind_ = 0, code_ = 0, value_ = 0, joint_ = 0, id_ = 0, reason_ = 0;
  Done done_;

  // The inspection that is being read.
  Inspection* into_ = nullptr;
  bool open_ = false, named_ = false;
  std::string number_;
  std::size_t stored_ = 0, bytes_ = 0;
  RowReader reader_;
};

}  // namespace

std::unique_ptr<Walk> walk_csv(Bytes bytes, const std::string& file_name) {
  return std::make_unique<CsvWalk>(std::move(bytes), file_name);
}

base::Result<std::vector<PlacedRecord>> records_from_csv(const std::string& text,
                                                         const std::string& file_name) {
  return all_of(*walk_csv(Bytes::over(text), file_name));
}

}  // namespace haunch::exchange
