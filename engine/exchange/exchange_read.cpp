// SPDX-License-Identifier: Apache-2.0
// Reads exchange text generously: whatever can be understood is, with a warning; the rest is reported,
// all of it, with line and column.
#include <algorithm>
#include <map>
#include <set>

#include "base/words.hpp"
#include "exchange/charset.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/observation_row.hpp"
#include "exchange/split_row.hpp"

namespace haunch::exchange {
namespace {

using base::Severity;

constexpr std::size_t problem_limit = 500;

struct Line {
  std::string_view text;
  int number = 0;
};

std::vector<Line> lines_of(std::string_view text) {
  std::vector<Line> lines;
  int number = 1;
  for (std::size_t from = 0; from < text.size(); ++number) {
    const std::size_t end = std::min(text.find_first_of("\r\n", from), text.size());
    lines.push_back({text.substr(from, end - from), number});
    from = end + (text.substr(end, 2) == "\r\n" ? 2 : 1);
  }
  return lines;
}

enum class Tag { none, how, header, columns, end, broken };

struct Tagged {
  Tag tag = Tag::none;
  int number = 0;          ///< of #A and #B lines
  std::string_view value;  ///< after the first '='
  std::size_t value_at = 0;
};

/// Only #A1= #B01= #C= and #Z at the start of a line are marks; any other # is text.
Tagged tagged(std::string_view line) {
  if (line.size() < 2 || line[0] != '#') return {};
  const char letter = line[1];
  if (letter != 'A' && letter != 'B' && letter != 'C' && letter != 'Z') return {};
  std::size_t at = 2;
  while (at < line.size() && line[at] >= '0' && line[at] <= '9') ++at;
  const std::string digits(line.substr(2, at - 2));
  while (at < line.size() && (line[at] == ' ' || line[at] == '\t')) ++at;
  if (letter == 'Z') return {at == line.size() && digits.empty() ? Tag::end : Tag::broken, 0, {}, 0};
  if (at >= line.size() || line[at] != '=' || digits.size() > 4 || (letter == 'A' && digits.empty()) ||
      (letter == 'C' && !digits.empty()))
    return {Tag::broken, 0, {}, 0};
  const int number = digits.empty() ? 1 : std::stoi(digits);
  const Tag tag = letter == 'A' ? Tag::how : letter == 'B' ? Tag::header : Tag::columns;
  return {tag, number, line.substr(at + 1), at + 1};
}

class Reader {
 public:
  Reader(std::string_view text, const std::string& file_name)
      : file_name_(file_name), lines_(lines_of(text)) {
    const auto first_end = text.find_first_of("\r\n");
    file_.style.crlf = first_end != std::string_view::npos && text.substr(first_end, 2) == "\r\n";
  }

  base::Result<ExchangeFile> run(base::Problems before) {
    problems_ = std::move(before);
    read_how();
    if (usable_) read_inspections();
    if (base::has_errors(problems_)) return std::move(problems_);
    return {std::move(file_), std::move(problems_)};
  }

 private:
  void say(Severity severity, int line, int column, std::string what, std::string expected,
           std::string suggestion = {}) {
    if (problems_.size() == problem_limit) {
      what = "there are more problems than these";
      expected = "the ones above mended first";
    }
    if (problems_.size() > problem_limit) return;
    problems_.push_back(
        {{file_name_, line, column}, severity, std::move(what), std::move(expected), std::move(suggestion)});
  }
  void error(const Line& line, std::size_t byte, std::string what, std::string expected,
             std::string suggestion = {}) {
    say(Severity::error, line.number, column_of(line.text, byte), std::move(what), std::move(expected),
        std::move(suggestion));
  }
  void warn(const Line& line, std::size_t byte, std::string what, std::string expected) {
    say(Severity::warning, line.number, column_of(line.text, byte), std::move(what), std::move(expected));
  }
  void note(const Line& line, std::string what, std::string expected) {
    say(Severity::note, line.number, 1, std::move(what), std::move(expected));
  }

  // ---- the #A lines

  void read_how() {
    std::map<int, std::pair<std::string, const Line*>> how;
    for (const Line& line : lines_) {
      const Tagged mark = tagged(line.text);
      if (mark.tag != Tag::how) continue;
      if (mark.number < 1 || mark.number > 6) {
        warn(line, 0, "#A" + std::to_string(mark.number) + " is not known", "#A1 to #A6");
        continue;
      }
      const auto [known, fresh] = how.emplace(mark.number, std::pair(std::string(mark.value), &line));
      if (!fresh && known->second.first != mark.value)
        error(line, mark.value_at, "#A" + std::to_string(mark.number) + " is given again with another value",
              "one value for the whole file: \"" + known->second.first + "\"");
    }
    const auto given = [&how](int key) {
      return how.contains(key) ? base::trim(how[key].first) : std::string();
    };
    const auto raw = [&how](int key) { return how.contains(key) ? how[key].first : std::string(); };
    if (!given(1).empty()) file_.style.charset = given(1);
    take_text(given(2), "#A2", "the language", file_.style.language);
    take_text(given(6), "#A6", "the version of the format", file_.style.version);
    separator(raw(3));
    decimal(given(4), how.contains(4) ? *how[4].second : Line{{}, 1});
    quote(given(5), how.contains(5) ? *how[5].second : Line{{}, 1});
    const Line& at = how.contains(3) ? *how[3].second : Line{{}, 1};
    if (file_.style.separator == file_.style.decimal) {
      error(at, 0, std::string("separator (#A3) and decimal sign (#A4) are both ") + file_.style.separator,
            "two different signs");
      usable_ = false;
    } else if (file_.style.quote == file_.style.separator) {
      error(at, 0, std::string("separator (#A3) and quote (#A5) are both ") + file_.style.separator,
            "two different signs");
      usable_ = false;
    }
  }

  void take_text(const std::string& value, const char* key, const char* what, std::string& into) {
    if (value.empty())
      say(Severity::warning, 1, 1,
          std::string(key) + ", " + what + ", is missing; \"" + into + "\" is assumed",
          std::string(key) + "= at the top");
    else
      into = value;
  }

  void separator(const std::string& given) {
    const std::string word = base::lower(base::trim(given));
    if (word == "tab" || word == "\\t" || given == "\t") {
      file_.style.separator = '\t';
    } else if (base::trim(given).size() == 1) {
      file_.style.separator = base::trim(given)[0];
    } else if (word.empty()) {
      file_.style.separator = guessed_separator();
      say(Severity::warning, 1, 1,
          std::string("#A3, the separator, is missing; ") + file_.style.separator + " is assumed",
          "#A3= at the top");
    } else {
      say(Severity::error, 1, 1, "#A3, the separator, is \"" + given + "\"", "one plain sign such as ;");
      usable_ = false;
    }
    const auto sign = static_cast<unsigned char>(file_.style.separator);
    if (std::isalnum(sign) != 0 || sign == '#') {
      say(Severity::error, 1, 1, std::string("#A3, the separator, is ") + file_.style.separator,
          "a sign that does not stand in codes, such as ;");
      usable_ = false;
    }
  }

  /// The letters of a #C line are single, so what stands after the first is the separator.
  char guessed_separator() const {
    for (const Line& line : lines_) {
      const Tagged mark = tagged(line.text);
      if (mark.tag == Tag::columns && mark.value.size() > 2 &&
          std::isalnum(static_cast<unsigned char>(mark.value[1])) == 0)
        return mark.value[1];
    }
    return ';';
  }

  void decimal(const std::string& given, const Line& line) {
    if (given.empty()) {
      file_.style.decimal = '.';
      say(Severity::warning, 1, 1, "#A4, the decimal sign, is missing; . is assumed", "#A4= at the top");
    } else if (given == "." || given == ",") {
      file_.style.decimal = given[0];
    } else {
      error(line, 0, "#A4, the decimal sign, is \"" + given + "\"", ". or ,");
    }
  }

  void quote(const std::string& given, const Line& line) {
    file_.style.quote = 0;
    if (given.empty()) return;  // no quoting: seen in real files
    if (given.size() == 1 && std::isalnum(static_cast<unsigned char>(given[0])) == 0)
      file_.style.quote = given[0];
    else
      error(line, 0, "#A5, the quote, is \"" + given + "\"", "one sign such as \"");
  }

  // ---- inspections

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
            note(line, "an #A line stands after the first inspection", "#A lines at the top only");
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
          error(line, 0,
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
      note(lines_.back(), "the last inspection is not ended", "#Z");
      close(lines_.back());
    }
    if (!seen_mark)
      say(Severity::error, 1, 1, "this is not exchange text: no line begins with #A1=, #B01= or #C=",
          "the text format of EN 13508-2");
    else if (file_.inspections.empty())
      say(Severity::error, 1, 1, "the file holds no inspection", "#B01=, its values, #C= and rows");
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
      warn(line, 0, "a new header begins before the last inspection is ended", "#Z before it");
      close(line);
    }
    start(line);
    const SplitRow captions = split_row(mark.value, file_.style.separator, file_.style.quote);
    std::size_t next = i + 1;
    while (next < lines_.size() && base::trim(lines_[next].text).empty()) ++next;
    if (next >= lines_.size() || tagged(lines_[next].text).tag != Tag::none) {
      error(line, 0, "no values follow the header codes",
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
    if (code.empty()) return error(line, byte, "a header code is empty", "a code such as AAA");
    if (coding::header_holds_number(code) && file_.style.decimal == ',') {
      const auto number = number_from(value, ',').number;
      if (number.value) value = number.text;
    }
    auto& header = file_.inspections.back().record.header;
    for (const coding::HeaderField& known : header) {
      if (known.code != code) continue;
      if (known.value == value)
        return note(line, "header " + code + " is given twice with the same value", "each code once");
      // The general remark can honestly stand there more than once.
      if (code == "ADE") break;
      warn(line, byte,
           "header " + code + " is \"" + known.value + "\" and also \"" + value + "\"; the first counts",
           "one value");
      break;
    }
    header.push_back({code, std::move(value)});
  }

  void columns(const Line& line, const Tagged& mark) {
    if (!open_) note(line, "the inspection has no header", "#B01= before #C=");
    start(line);
    if (has_columns_) note(line, "the columns are named again inside an inspection", "one #C line");
    has_columns_ = true;
    columns_.clear();
    std::set<std::string> seen;
    for (const Field& field : split_row(mark.value, file_.style.separator, file_.style.quote).fields) {
      const std::string letter = base::trim(field.text);
      const std::size_t byte = mark.value_at + field.at;
      if (letter.empty())
        error(line, byte, "a column has no letter", "a letter from A to N");
      else if (!seen.insert(letter).second)
        error(line, byte, "the column " + letter + " is named twice", "each column once");
      else if (letter.size() != 1 || letter[0] < 'A' || letter[0] > 'N')
        warn(line, byte, "the column \"" + letter + "\" is not known; its text is kept",
             "letters from A to N");
      columns_.push_back(letter);
    }
    if (!seen.contains("A")) error(line, 0, "no column for the main code", "a column A");
    if (!seen.contains("I")) error(line, 0, "no column for the distance", "a column I");
  }

  void end(const Line& line) {
    if (!open_) return note(line, "#Z without an inspection", "an inspection before it");
    close(line);
  }

  void close(const Line& line) {
    open_ = false;
    if (!has_columns_)
      error(line, 0, "the inspection ends without its observations", "a line #C= and rows (none is allowed)");
    coding::number_observations(file_.inspections.back().record);
  }

  bool quotes_good(const Line& line, const SplitRow& row) {
    if (row.bad_quote == std::string_view::npos) return true;
    if (row.unclosed)
      error(line, row.bad_quote, "a quote is not closed in its line",
            "the closing quote; no line break stands inside text");
    else
      error(line, row.bad_quote, "text stands after a closing quote",
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
      warn(line, row.fields[wanted].at,
           "empty values stand after the last of " + std::to_string(wanted) + " " + what,
           "no more values than " + std::string(what));
      return true;
    }
    error(line, row.fields.size() > wanted ? row.fields[wanted].at : line.text.size(),
          "the line has " + found + " for " + std::to_string(wanted) + " " + what,
          std::to_string(wanted) + " values");
    return false;
  }

  void row(const Line& line) {
    if (!open_ || !has_columns_) return error(line, 0, "a row stands outside an inspection", "#C= before it");
    const SplitRow split = split_row(line.text, file_.style.separator, file_.style.quote);
    if (std::all_of(split.fields.begin(), split.fields.end(),
                    [](const Field& f) { return base::trim(f.text).empty(); }))
      return note(line, "a row with nothing in it was left out", "an observation");
    if (!quotes_good(line, split) || !fits(line, split, columns_.size(), "columns")) return;
    RowReader reader{file_.style.decimal, {}};
    coding::Observation one;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      const std::size_t before = reader.problems.size();
      reader.take(columns_[k], split.fields[k].text, one);
      for (std::size_t p = before; p < reader.problems.size(); ++p) {
        const base::Problem& problem = reader.problems[p];
        say(problem.severity, line.number, column_of(line.text, split.fields[k].at), problem.what,
            problem.expected, problem.suggestion);
      }
    }
    whole_circumference(one);
    PlacedRecord& inspection = file_.inspections.back();
    inspection.record.observations.push_back(std::move(one));
    inspection.places.push_back({file_name_, line.number, 1});
  }

  std::string file_name_;
  std::vector<Line> lines_;
  ExchangeFile file_;
  base::Problems problems_;
  bool usable_ = true;
  bool open_ = false;
  bool has_columns_ = false;
  std::vector<std::string> columns_;
};

/// The value of #A1 wherever it stands near the top; a byte order mark and other lines may come first.
std::string named_charset(std::string_view bytes) {
  for (std::size_t at = 0; (at = bytes.find("#A1", at)) != std::string_view::npos; ++at) {
    if (at > 0 && bytes[at - 1] != '\n' && bytes[at - 1] != '\r') continue;
    const std::string_view line = bytes.substr(at, bytes.find_first_of("\r\n", at) - at);
    const Tagged mark = tagged(line);
    if (mark.tag == Tag::how && mark.number == 1) return base::trim(mark.value);
  }
  return {};
}

base::Problem at_byte(std::string_view bytes, std::size_t byte, const std::string& file_name,
                      std::string what, std::string expected) {
  const auto lines = lines_of(bytes);
  for (const Line& line : lines) {
    const auto start = static_cast<std::size_t>(line.text.data() - bytes.data());
    if (byte >= start && byte <= start + line.text.size())
      return {{file_name, line.number, static_cast<int>(byte - start) + 1},
              Severity::error,
              std::move(what),
              std::move(expected),
              {}};
  }
  return {{file_name, 1, 1}, Severity::error, std::move(what), std::move(expected), {}};
}

}  // namespace

base::Result<ExchangeFile> exchange_from_text(const std::string& bytes, const std::string& file_name) {
  std::string_view rest = bytes;
  base::Problems before;
  const base::Place top{file_name, 1, 1};
  if (base::trim(rest).empty())
    return base::Problem{top, Severity::error, "the file is empty", "exchange text", {}};
  if (rest.substr(0, 2) == "\xFF\xFE" || rest.substr(0, 2) == "\xFE\xFF" ||
      rest.find('\0') != std::string_view::npos)
    return base::Problem{top,
                         Severity::error,
                         "this is not plain text (zero bytes, or UTF-16)",
                         "a file saved as UTF-8 or ISO-8859-1",
                         {}};
  const bool marked = rest.substr(0, 3) == "\xEF\xBB\xBF";
  if (marked) rest.remove_prefix(3);

  const std::string named = named_charset(rest);
  const bool plain = first_foreign_byte(rest, Charset::ascii) == std::string_view::npos;
  auto charset = charset_named(named);
  if (marked) {
    if (charset && charset != Charset::utf8 && !plain)
      before.push_back({top,
                        Severity::warning,
                        "#A1 says " + named + " but the file begins as UTF-8 does; UTF-8 is taken",
                        "one of the two",
                        {}});
    charset = Charset::utf8;
  } else if (named.empty()) {
    charset =
        first_foreign_byte(rest, Charset::utf8) == std::string_view::npos ? Charset::utf8 : Charset::latin1;
    before.push_back({top,
                      Severity::warning,
                      std::string("#A1, the character set, is missing; ") +
                          (charset == Charset::utf8 ? "UTF-8" : "ISO-8859-1") + " is assumed",
                      "#A1= at the top",
                      {}});
  } else if (!charset) {
    if (!plain)
      return base::Problem{top,
                           Severity::error,
                           "the character set \"" + named + "\" (#A1) is not known",
                           "UTF-8, ISO-8859-1, ISO-8859-15, Windows-1252 or ASCII",
                           {}};
    before.push_back({top,
                      Severity::warning,
                      "the character set \"" + named + "\" (#A1) is not known; the file needs none",
                      "UTF-8 or ISO-8859-1",
                      {}});
    charset = Charset::ascii;
  }
  if (const std::size_t foreign = first_foreign_byte(rest, *charset); foreign != std::string_view::npos)
    return at_byte(rest, foreign, file_name,
                   "a byte that does not belong to " + (named.empty() ? "UTF-8" : named),
                   "the character set that #A1 names");
  const std::string text = to_utf8(rest, *charset);
  auto result = Reader(text, file_name).run(std::move(before));
  if (result && named.empty() && charset == Charset::latin1) result.value().style.charset = "ISO-8859-1";
  return result;
}

}  // namespace haunch::exchange
