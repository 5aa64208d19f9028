// SPDX-License-Identifier: Apache-2.0
// Reads exchange text generously: whatever can be understood is, with a warning; the rest is reported,
// all of it, with line and column. One inspection at a time.
#include <algorithm>
#include <charconv>
#include <cstring>

#include "base/words.hpp"
#include "exchange/exchange_columns.hpp"
#include "exchange/exchange_header.hpp"
#include "exchange/text_marks.hpp"
#include "exchange/walk.hpp"

namespace haunch::exchange {
namespace {

using base::Severity;

class TextWalk final : public Walk {
 public:
  TextWalk(Bytes bytes, std::string file_name) : lines_(std::move(bytes)), file_name_(std::move(file_name)) {
    const Bytes& head = lines_.bytes();  // filled by who opened it
    if (head.window().find_first_not_of(" \t\r\n") == std::string_view::npos) {
      file_error("the file is empty", "exchange text");
      return;
    }
    if (head.any_zero()) {
      zero_byte(head.window());
      return;
    }
    head_ = read_head(head, file_name_, problems);
    style = head_.style;
    // A missing #A2 is assumed, which is not the same.
    if (head_.style.keys.find('2') != std::string::npos) language = head_.style.language;
    reader_.decimal = head_.style.decimal;
    going_ = head_.usable;
  }

  bool next(Inspection& into) override {
    if (!going_) return false;
    begin(into);
    Line line;
    while (going_ && lines_.next(line)) {
      last_line_ = line.number;
      if (!readable(line) || is_blank(line.text, head_.style.separator)) continue;
      if (take(line)) return true;
    }
    if (going_) tell_garbled();
    going_ = false;
    if (open_) {
      if (header_.awaits_values()) no_values();
      tell(Severity::note, last_line_, 1, "the last inspection is not ended", "#Z");
      into.layout.ended = false;
      close(line);
      return true;
    }
    if (lines_.bytes().broken()) file_error("reading stopped half way", "a readable file");
    if (!seen_mark_ && !base::has_errors(problems))
      file_error("this is not exchange text: no line begins with #A1=, #B01= or #C=",
                 "the text format of EN 13508-2");
    else if (count_ == 0 && !base::has_errors(problems))
      file_error("the file holds no inspection", "#B01=, its values, #C= and rows");
    return false;
  }

 private:
  void begin(Inspection& into) {
    into_ = &into;
    into.number = count_ + 1;
    into.place = {};
    into.placed.record.header.clear();
    into.placed.record.observations.clear();
    into.placed.record.judgement.reset();
    into.placed.record.not_visible.clear();
    into.placed.places.header.clear();
    into.placed.places.observations.clear();
    into.placed.places.classes.clear();
    into.placed.places.not_visible.clear();
    into.remarks.clear();
    into.layout.header.clear();
    into.layout.columns.clear();
    into.layout.ended = into.layout.last_line_end = true;
    open_ = has_columns_ = too_large_ = false;
    header_.forget();
    // Most inspections are as long as the one before.
    into.placed.record.observations.reserve(rows_ + rows_ / 4);
    into.placed.places.observations.reserve(rows_ + rows_ / 4);
    rows_ = bytes_ = 0;
  }

  void file_error(std::string what, std::string expected) {
    add_problem(problems, {{file_name_, 1, 1}, Severity::error, std::move(what), std::move(expected), {}});
  }
  /// At the top of the file: none of its lines can be trusted.
  void zero_byte(std::string_view head) {
    const std::string_view before = head.substr(0, head.find('\0'));
    const auto line = static_cast<int>(std::count(before.begin(), before.end(), '\n'));
    add_problem(problems,
                {{file_name_, line + 1, column_of(before.substr(before.rfind('\n') + 1), before.size())},
                 Severity::error,
                 "this is not plain text: a zero byte stands here",
                 "a file saved as UTF-8 or ISO-8859-1",
                 {}});
  }
  void tell(Severity severity, int line, int column, std::string what, std::string expected) {
    add_problem(open_ ? into_->remarks : problems,
                {{file_name_, line, column}, severity, std::move(what), std::move(expected), {}});
  }
  void tell(Severity severity, const Line& line, std::size_t byte, std::string what, std::string expected) {
    tell(severity, line.number, column_of(line.text, byte), std::move(what), std::move(expected));
  }
  void error(const Line& line, std::size_t byte, std::string what, std::string expected) {
    tell(Severity::error, line, byte, std::move(what), std::move(expected));
  }

  /// The line as UTF-8; false when nothing can be made of it.
  bool readable(Line& line) {
    if (line.too_long) {
      tell(Severity::error, line.number, 1, "the line is longer than 1 MiB and was left out",
           "a row of an inspection");
      return false;
    }
    const Bytes& bytes = lines_.bytes();
    if (bytes.any_zero() && std::memchr(line.text.data(), 0, line.text.size()) != nullptr) {
      error(line, line.text.find('\0'), "this is not plain text: a zero byte stands here",
            "a file saved as UTF-8 or ISO-8859-1; nothing after it was read");
      going_ = false;
      return false;
    }
    if (!bytes.any_foreign() || is_ascii(line.text)) return true;
    if (head_.undecided) decide(line);
    if (first_past_ascii_ == 0) first_past_ascii_ = line.number;
    all_utf8_ = all_utf8_ && first_foreign_byte(line.text, Charset::utf8) == std::string_view::npos;
    const std::size_t foreign = first_foreign_byte(line.text, head_.charset);
    if (foreign != std::string_view::npos)
      error(line, foreign,
            "a byte that does not belong to " +
                std::string(head_.charset == Charset::utf8 ? "UTF-8" : head_.style.charset),
            "the character set that #A1 names");
    else if (head_.charset == Charset::utf8)
      return true;
    decoded_.clear();
    append_as_utf8(decoded_, line.text, head_.charset);
    line.text = decoded_;
    return true;
  }

  /// #A1 is missing, and this is the first line that is not plain ASCII.
  void decide(const Line& line) {
    head_.undecided = false;
    if (first_foreign_byte(line.text, Charset::utf8) == std::string_view::npos) return;
    head_.charset = Charset::latin1;
    head_.style.charset = "ISO-8859-1";
    style = head_.style;
    add_problem(problems, {{file_name_, line.number, 1},
                           Severity::warning,
                           "#A1 is missing and this line is not UTF-8; ISO-8859-1 is assumed",
                           "#A1= at the top",
                           {}});
  }

  /// In a set of single bytes no byte is foreign, so a wrong #A1 shows only in this: text in a
  /// set of single bytes hardly ever forms UTF-8 by chance, and that of a whole file less still.
  void tell_garbled() {
    if (!all_utf8_ || first_past_ascii_ == 0 || head_.charset == Charset::utf8 ||
        head_.charset == Charset::ascii)
      return;
    add_problem(problems, {{file_name_, first_past_ascii_, 1},
                           Severity::warning,
                           "#A1 says " + head_.style.charset +
                               ", but every letter past ASCII, the first of them in this line, is written as "
                               "in UTF-8; read as #A1 says, these letters are garbled",
                           "#A1=UTF-8 at the top",
                           {}});
  }

  /// True when the inspection is complete.
  bool take(const Line& line) {
    const Tagged mark = tagged(line.text);
    if (mark.tag != Tag::none && !seen_mark_) {
      seen_mark_ = true;
      if (skipped_ > 0) tell_skipped();
    }
    if (header_.awaits_values() && mark.tag == Tag::none) {
      values(line);
      return false;
    }
    if (header_.awaits_values()) no_values();
    switch (mark.tag) {
      case Tag::how:
        if (open_ || count_ > 0) how_again(line, mark);
        return false;
      case Tag::header:
        if (!open_ || !has_columns_) {
          header(line, mark);
          return false;
        }
        tell(Severity::warning, line.number, 1, "a new header begins before the last inspection is ended",
             "#Z before it");
        into_->layout.ended = false;
        lines_.again();
        close(line);
        return true;
      case Tag::columns:
        columns(line, mark);
        return false;
      case Tag::end:
        if (!open_) {
          tell(Severity::note, line.number, 1, "#Z without an inspection", "an inspection before it");
          return false;
        }
        close(line);
        return true;
      case Tag::broken:
        error(
            line, 0,
            "the line begins like a mark of the format but is none: " + std::string(line.text.substr(0, 20)),
            "#A1= to #A6=, #B01=, #C= or #Z; text that begins so is quoted");
        return false;
      case Tag::none:
        row(line);
        return false;
    }
    return false;
  }

  void how_again(const Line& line, const Tagged& mark) {
    tell(Severity::note, line.number, 1, "an #A line stands after the first inspection",
         "#A lines at the top only");
    const TextStyle& said = head_.style;
    const std::string value = base::trim(mark.value);
    const bool other = (mark.number == 3 && value.size() == 1 && value[0] != said.separator) ||
                       (mark.number == 4 && value.size() == 1 && value[0] != said.decimal) ||
                       (mark.number == 5 && value.size() == 1 && value[0] != said.quote) ||
                       (mark.number == 1 && charset_named(value) != charset_named(said.charset));
    if (other)
      error(line, mark.value_at, "#A" + std::to_string(mark.number) + " is given again with another value",
            "one value for the whole file");
  }

  void start(const Line& line) {
    if (open_) return;
    open_ = true;
    into_->place = {file_name_, line.number, 1};
  }

  void header(const Line& line, const Tagged& mark) {
    start(line);
    header_.take_codes(line, mark, head_.style);
    pass_on(header_.problems);
  }

  void values(const Line& line) {
    row_.split(line.text, head_.style.separator, head_.style.quote, most_columns);
    if (quotes_good(line) && fits(line, header_.size(), "header codes"))
      header_.take_values(line, row_, head_.style, *into_);
    header_.forget();
    pass_on(header_.problems);
  }

  void no_values() {
    header_.lack_values();
    pass_on(header_.problems);
  }

  void pass_on(base::Problems& from) {
    for (base::Problem& problem : from) add_problem(open_ ? into_->remarks : problems, std::move(problem));
    from.clear();
  }

  void columns(const Line& line, const Tagged& mark) {
    const bool headless = !open_;
    start(line);
    if (headless) tell(Severity::note, line.number, 1, "the inspection has no header", "#B01= before #C=");
    if (has_columns_)
      tell(Severity::note, line.number, 1, "the columns are named again inside an inspection", "one #C line");
    has_columns_ = true;
    if (!columns_.same(mark.value)) {
      row_.split(mark.value, head_.style.separator, head_.style.quote, most_columns);
      for (ColumnFault& fault : columns_.read(row_, mark.value, head_.style))
        tell(fault.severity, line, fault.whole_line ? 0 : mark.value_at + fault.at, std::move(fault.what),
             std::move(fault.expected));
    }
    columns_.begin(into_->layout);
  }

  void close(const Line& line) {
    into_->layout.last_line_end = line.ended != Ended::not_at_all;
    if (!has_columns_)
      tell(Severity::error, last_line_, 1, "the inspection ends without its observations",
           "a line #C= and rows (none is allowed)");
    if (rows_ > most_observations)
      tell(Severity::error, into_->place.line, 1,
           "an inspection holds " + std::to_string(rows_) + " observations, and no pipe has as many",
           "at most " + std::to_string(most_observations));
    ++count_;
    open_ = false;
  }

  bool quotes_good(const Line& line) { return tell_fault(line, fault_of_quotes(row_)); }

  bool fits(const Line& line, std::size_t wanted, const char* what) {
    return tell_fault(line, fault_of_count(row_, line.text.size(), wanted, what));
  }

  /// False when it leaves nothing to read.
  bool tell_fault(const Line& line, std::optional<ColumnFault> fault) {
    if (!fault) return true;
    tell(fault->severity, line, fault->at, std::move(fault->what), std::move(fault->expected));
    return fault->severity != Severity::error;
  }

  void row(const Line& line) {
    if (!seen_mark_) {
      if (skipped_++ == 0) first_skipped_ = line.number;
      return;
    }
    if (!open_ || !has_columns_) return error(line, 0, "a row stands outside an inspection", "#C= before it");
    row_.split(line.text, head_.style.separator, head_.style.quote, most_columns);
    if (row_.all_blank())
      return tell(Severity::note, line.number, 1, "a row with nothing in it was left out", "an observation");
    if (!quotes_good(line) || !fits(line, columns_.size(), "columns")) return;
    if (!room_for(line)) return;
    PlacedRecord& placed = into_->placed;
    coding::Observation& one = placed.record.observations.emplace_back();
    name(one, placed.record.observations.size());
    columns_.take(row_, reader_, into_->layout, one);
    whole_circumference(one);
    placed.places.observations.push_back({file_name_, line.number, 1});
    if (!reader_.problems.empty()) tell_fields(line);
  }

  /// One inspection is held in memory at a time, so it has its limits.
  bool room_for(const Line& line) {
    if (++rows_ > most_observations) return false;
    bytes_ += line.text.size();
    if (bytes_ <= largest_inspection) return true;
    if (!too_large_) error(line, 0, "the inspection is larger than 64 MiB", "fewer or shorter rows");
    too_large_ = true;
    return false;
  }

  static void name(coding::Observation& one, std::size_t number) {
    char digits[24];
    const auto done = std::to_chars(digits, digits + sizeof digits, number);
    one.id.assign(1, 'o').append(digits, done.ptr);
  }

  void tell_fields(const Line& line) {
    for (std::size_t i = 0; i < reader_.problems.size(); ++i)
      tell(reader_.problems[i].severity, line, row_.fields[columns_.of_problem(i)].at,
           std::move(reader_.problems[i].what), std::move(reader_.problems[i].expected));
    reader_.problems.clear();
    columns_.forget_problems();
  }

  void tell_skipped() {
    add_problem(problems, {{file_name_, first_skipped_, 1},
                           Severity::warning,
                           std::to_string(skipped_) + (skipped_ == 1 ? " line" : " lines") +
                               " before the first mark of the format told nothing and were left out",
                           "#A1= at the top",
                           {}});
  }

  Lines lines_;
  std::string file_name_;
  Head head_;
  bool going_ = false, seen_mark_ = false;
  bool all_utf8_ = true;
  int count_ = 0, last_line_ = 1, first_past_ascii_ = 0;  ///< a line; 0: none yet
  std::size_t skipped_ = 0;
  int first_skipped_ = 0;

  // The inspection that is being read.
  Inspection* into_ = nullptr;
  bool open_ = false, has_columns_ = false, too_large_ = false;
  std::size_t rows_ = 0, bytes_ = 0;
  HeaderReader header_{file_name_};
  ColumnReader columns_;
  RowReader reader_;
  Row row_;
  std::string decoded_;
};

}  // namespace

std::unique_ptr<Walk> walk_exchange_text(Bytes bytes, const std::string& file_name) {
  return std::make_unique<TextWalk>(std::move(bytes), file_name);
}

base::Result<ExchangeFile> exchange_from_text(const std::string& bytes, const std::string& file_name) {
  const auto walk = walk_exchange_text(Bytes::over(bytes), file_name);
  ExchangeFile file;
  auto all = all_of(*walk, &file.layouts);
  if (!all) return all.problems();
  file.style = *walk->style;
  base::Problems remarks = all.problems();
  file.inspections = std::move(all).value();
  return {std::move(file), std::move(remarks)};
}

}  // namespace haunch::exchange
