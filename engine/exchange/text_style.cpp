// SPDX-License-Identifier: Apache-2.0
// How a file says it is written: the #A lines, wherever near the top they stand.
#include <algorithm>
#include <array>
#include <cctype>

#include "base/utf8.hpp"
#include "base/words.hpp"
#include "exchange/charset.hpp"
#include "exchange/text_marks.hpp"

namespace haunch::exchange {
namespace {

using base::Severity;

struct HowLine {
  std::string value;
  base::Place place;
  bool given = false;
};

bool plain_sign(char sign) {
  const auto byte = static_cast<unsigned char>(sign);
  return byte < 0x80 && byte != 0 && std::isalnum(byte) == 0 && sign != '#' && sign != '\n' && sign != '\r';
}

struct StyleReader {
  std::string file_name;
  base::Problems& problems;
  TextStyle style{};
  bool usable = true;
  std::array<HowLine, 7> how{};
  bool undecided = false;
  std::string columns{};  ///< what follows the first #C=

  void say(Severity severity, base::Place place, std::string what, std::string expected) {
    add_problem(problems, {std::move(place), severity, std::move(what), std::move(expected), {}});
  }
  void error(const HowLine& line, std::string what, std::string expected) {
    say(Severity::error, line.given ? line.place : top(), std::move(what), std::move(expected));
  }
  void missing(std::string what, std::string expected) {
    say(Severity::warning, top(), std::move(what), std::move(expected));
  }
  base::Place top() const { return {file_name, 1, 1}; }

  /// Up to the first #C line: what stands below belongs to inspections.
  void gather(std::string_view head) {
    style.keys.clear();
    int number = 1;
    for (std::size_t from = 0; from < head.size() && columns.empty(); ++number) {
      const std::size_t end = std::min(head.find_first_of("\r\n", from), head.size());
      const std::string_view line = head.substr(from, end - from);
      if (from == 0)
        style.line_end = head.substr(end, 2) == "\r\n" ? LineEnd::crlf
                         : head.substr(end, 1) == "\r" ? LineEnd::cr
                                                       : LineEnd::lf;
      take(line, tagged(line), number);
      from = end + (head.substr(end, 2) == "\r\n" ? 2 : 1);
    }
  }

  void take(std::string_view line, const Tagged& mark, int number) {
    if (mark.tag == Tag::columns) columns = mark.value.empty() ? " " : std::string(mark.value);
    if (mark.tag != Tag::how) return;
    const auto place = [&](std::size_t byte) {
      return base::Place{file_name, number, base::characters(line.substr(0, byte)) + 1};
    };
    if (mark.number < 1 || mark.number > 6)
      return say(Severity::warning, place(0), "#A" + std::to_string(mark.number) + " is not known",
                 "#A1 to #A6");
    style.keys += static_cast<char>('0' + mark.number);
    HowLine& known = how[static_cast<std::size_t>(mark.number)];
    if (!known.given)
      known = {std::string(mark.value), place(0), true};
    else if (known.value != mark.value && !(mark.number == 1 && same_charset(known.value, mark.value)))
      say(Severity::error, place(mark.value_at),
          "#A" + std::to_string(mark.number) + " is given again with another value",
          "one value for the whole file: \"" + known.value + "\"");
  }

  static bool same_charset(std::string_view a, std::string_view b) {
    return charset_named(a) && charset_named(a) == charset_named(b);
  }

  void words(Charset charset) {
    const auto text = [&](const HowLine& line, const char* key, const char* what, std::string& into) {
      const std::string value = to_utf8(base::trim(line.value), charset);
      if (value.empty())
        missing(std::string(key) + ", " + what + ", is missing; \"" + into + "\" is assumed",
                std::string(key) + "= at the top");
      else
        into = value;
    };
    text(how[2], "#A2", "the language", style.language);
    text(how[6], "#A6", "the version of the format", style.version);
  }

  void signs() {
    separator(how[3]);
    decimal(how[4]);
    quote(how[5]);
    base::Problems alike = problems_of_style(style);
    for (base::Problem& problem : alike) {
      // Signs that are wrong by themselves have been told.
      if (problem.what.find(" are both ") == std::string::npos) continue;
      problem.place = how[3].given ? how[3].place : top();
      usable = false;
      add_problem(problems, std::move(problem));
    }
  }

  void separator(const HowLine& line) {
    const std::string plain = base::trim(line.value);
    const std::string word = base::lower(plain);
    if (word == "tab" || word == "\\t" || line.value == "\t") {
      style.separator = '\t';
      if (line.value != "\t") style.separator_name = plain;
    } else if (line.value == " ") {
      style.separator = ' ';
    } else if (word.empty()) {
      // The letters of a #C line are single, so what stands after the first is the separator.
      style.separator = columns.size() > 2 && plain_sign(columns[1]) ? columns[1] : ';';
      missing(std::string("#A3, the separator, is missing; ") + style.separator + " is assumed",
              "#A3= at the top");
    } else if (plain.size() > 1) {
      error(line, "#A3, the separator, is \"" + to_utf8(line.value, Charset::ascii) + "\"",
            "one plain sign such as ;");
      usable = false;
    } else {
      style.separator = plain[0];
      if (plain_sign(style.separator)) return;
      error(line, "#A3, the separator, is " + to_utf8(plain, Charset::ascii),
            "a sign that does not stand in codes, such as ;");
      usable = false;
    }
  }

  void decimal(const HowLine& line) {
    const std::string given = base::trim(line.value);
    style.decimal = '.';
    if (given.empty())
      missing("#A4, the decimal sign, is missing; . is assumed", "#A4= at the top");
    else if (given == "." || given == ",")
      style.decimal = given[0];
    else
      error(line, "#A4, the decimal sign, is \"" + to_utf8(given, Charset::ascii) + "\"", ". or ,");
  }

  void quote(const HowLine& line) {
    const std::string given = base::trim(line.value);
    style.quote = 0;
    if (given.empty()) return;  // no quoting: seen in real files
    if (given.size() == 1 && plain_sign(given[0]))
      style.quote = given[0];
    else
      error(line, "#A5, the quote, is \"" + to_utf8(given, Charset::ascii) + "\"", "one sign such as \"");
  }

  /// The character set, from #A1, a byte order mark and the first bytes themselves.
  Charset characters(const Bytes& bytes) {
    const std::string named = to_utf8(base::trim(how[1].value), Charset::ascii);
    const auto charset = charset_named(named);
    style.byte_order_mark = bytes.marked();
    if (charset) style.charset = named;
    if (bytes.marked()) {
      const bool wide = base::lower(named).rfind("utf-16", 0) == 0;
      const bool other = bytes.utf16() ? !wide : charset && charset != Charset::utf8 && bytes.any_foreign();
      const std::string real = bytes.utf16() ? "UTF-16" : "UTF-8";
      if (other)
        say(Severity::warning, top(),
            "#A1 says " + (named.empty() ? "nothing" : named) + " but the file begins as " + real +
                " does; " + real + " is taken",
            "one of the two");
      if (other || bytes.utf16()) style.charset = "UTF-8";
      return Charset::utf8;
    }
    if (named.empty()) {
      const bool utf8 = cut_whole(bytes.window()) == std::string_view::npos;
      undecided = !bytes.any_foreign();
      style.charset = utf8 ? "UTF-8" : "ISO-8859-1";
      missing("#A1, the character set, is missing; " + style.charset + " is assumed", "#A1= at the top");
      return utf8 ? Charset::utf8 : Charset::latin1;
    }
    if (charset) return *charset;
    if (bytes.any_foreign()) {
      say(Severity::error, top(), "the character set \"" + named + "\" (#A1) is not known", known_charsets);
      usable = false;
    } else {
      say(Severity::warning, top(),
          "the character set \"" + named + "\" (#A1) is not known; the file needs none",
          "UTF-8 or ISO-8859-1");
    }
    return Charset::ascii;
  }

  /// The window may end within a character.
  static std::size_t cut_whole(std::string_view window) {
    const std::size_t foreign = first_foreign_byte(window, Charset::utf8);
    return foreign != std::string_view::npos && foreign + 4 > window.size() &&
                   static_cast<unsigned char>(window[foreign]) >= 0xC2 && window.size() >= longest_line
               ? std::string_view::npos
               : foreign;
  }
};

}  // namespace

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

bool is_blank(std::string_view text, char separator) {
  return std::all_of(text.begin(), text.end(),
                     [separator](char c) { return (c == ' ' || c == '\t') && c != separator; });
}

void add_problem(base::Problems& to, base::Problem problem) {
  if (to.size() > most_problems) {
    // What is left out may be worse than what is told.
    if (problem.severity == Severity::error) to.back().severity = Severity::error;
    return;
  }
  if (to.size() == most_problems) {
    problem.what = "there are more problems than these";
    problem.expected = "the ones above mended first";
    problem.suggestion.clear();
  }
  to.push_back(std::move(problem));
}

base::Problems problems_of_style(const TextStyle& style) {
  base::Problems problems;
  const auto refuse = [&problems](std::string what, std::string expected) {
    problems.push_back({{}, Severity::error, std::move(what), std::move(expected), {}});
  };
  const auto named = [](char sign) { return std::string(1, sign); };
  if (!plain_sign(style.separator))
    refuse("the separator is " + named(style.separator), "a sign that does not stand in codes, such as ;");
  if (style.decimal != '.' && style.decimal != ',')
    refuse("the decimal sign is " + named(style.decimal), ". or ,");
  if (style.quote != 0 && (!plain_sign(style.quote) || style.quote == ' ' || style.quote == '\t'))
    refuse("the quote is " + named(style.quote), "one sign such as \"");
  if (style.separator == style.decimal)
    refuse("separator (#A3) and decimal sign (#A4) are both " + named(style.separator),
           "two different signs");
  if (style.separator == style.quote)
    refuse("separator (#A3) and quote (#A5) are both " + named(style.separator), "two different signs");
  if (style.decimal == style.quote)
    refuse("decimal sign (#A4) and quote (#A5) are both " + named(style.decimal), "two different signs");
  for (const std::string& word : {style.language, style.version})
    if (word.find_first_of(std::string_view("\r\n\0", 3)) != std::string::npos)
      refuse("the language or the version holds a line break", "one line");
  if (!charset_named(style.charset))
    refuse("the character set \"" + style.charset + "\" is not known", known_charsets);
  return problems;
}

Head read_head(const Bytes& bytes, const std::string& file_name, base::Problems& problems) {
  StyleReader reader{file_name, problems};
  reader.gather(bytes.window());
  Head head;
  head.charset = reader.characters(bytes);
  head.undecided = reader.undecided;
  reader.words(head.charset);
  if (reader.usable) reader.signs();
  head.style = std::move(reader.style);
  head.usable = reader.usable;
  return head;
}

}  // namespace haunch::exchange
