// SPDX-License-Identifier: Apache-2.0
// The marks of exchange text, and the #A lines that say how the rest is written.
#include "exchange/text_lines.hpp"

#include <algorithm>
#include <cctype>
#include <map>

#include "base/utf8.hpp"
#include "base/words.hpp"
#include "exchange/charset.hpp"

namespace haunch::exchange {

using base::Severity;

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

namespace {

constexpr std::size_t problem_limit = 500;

struct StyleReader {
  const std::vector<Line>& lines;
  TextStyle& style;
  TextProblems& problems;
  bool usable = true;

  bool read() {
    std::map<int, std::pair<std::string, const Line*>> how;
    for (const Line& line : lines) {
      const Tagged mark = tagged(line.text);
      if (mark.tag != Tag::how) continue;
      if (mark.number < 1 || mark.number > 6) {
        problems.warn(line, 0, "#A" + std::to_string(mark.number) + " is not known", "#A1 to #A6");
        continue;
      }
      const auto [known, fresh] = how.emplace(mark.number, std::pair(std::string(mark.value), &line));
      if (!fresh && known->second.first != mark.value)
        problems.error(line, mark.value_at,
                       "#A" + std::to_string(mark.number) + " is given again with another value",
                       "one value for the whole file: \"" + known->second.first + "\"");
    }
    const auto given = [&how](int key) {
      return how.contains(key) ? base::trim(how[key].first) : std::string();
    };
    const auto raw = [&how](int key) { return how.contains(key) ? how[key].first : std::string(); };
    take_text(given(2), "#A2", "the language", style.language);
    take_text(given(6), "#A6", "the version of the format", style.version);
    separator(raw(3), how.contains(3) ? *how[3].second : Line{{}, 1});
    decimal(given(4), how.contains(4) ? *how[4].second : Line{{}, 1});
    quote(given(5), how.contains(5) ? *how[5].second : Line{{}, 1});
    const Line& at = how.contains(3) ? *how[3].second : Line{{}, 1};
    if (style.separator == style.decimal) {
      problems.error(at, 0, std::string("separator (#A3) and decimal sign (#A4) are both ") + style.separator,
                     "two different signs");
      usable = false;
    } else if (style.quote == style.separator) {
      problems.error(at, 0, std::string("separator (#A3) and quote (#A5) are both ") + style.separator,
                     "two different signs");
      usable = false;
    }
    return usable;
  }

  void take_text(const std::string& value, const char* key, const char* what, std::string& into) {
    if (value.empty())
      problems.say(Severity::warning, 1, 1,
                   std::string(key) + ", " + what + ", is missing; \"" + into + "\" is assumed",
                   std::string(key) + "= at the top");
    else
      into = value;
  }

  void separator(const std::string& given, const Line& line) {
    const std::string word = base::lower(base::trim(given));
    if (word == "tab" || word == "\\t" || given == "\t") {
      style.separator = '\t';
    } else if (base::trim(given).size() == 1) {
      style.separator = base::trim(given)[0];
    } else if (word.empty()) {
      style.separator = guessed_separator();
      problems.say(Severity::warning, 1, 1,
                   std::string("#A3, the separator, is missing; ") + style.separator + " is assumed",
                   "#A3= at the top");
    } else {
      problems.error(line, 0, "#A3, the separator, is \"" + given + "\"", "one plain sign such as ;");
      usable = false;
    }
    const auto sign = static_cast<unsigned char>(style.separator);
    if (std::isalnum(sign) != 0 || sign == '#') {
      problems.error(line, 0, std::string("#A3, the separator, is ") + style.separator,
                     "a sign that does not stand in codes, such as ;");
      usable = false;
    }
  }

  /// The letters of a #C line are single, so what stands after the first is the separator.
  char guessed_separator() const {
    for (const Line& line : lines) {
      const Tagged mark = tagged(line.text);
      if (mark.tag == Tag::columns && mark.value.size() > 2 &&
          static_cast<unsigned char>(mark.value[1]) < 0x80 &&
          std::isalnum(static_cast<unsigned char>(mark.value[1])) == 0)
        return mark.value[1];
    }
    return ';';
  }

  void decimal(const std::string& given, const Line& line) {
    if (given.empty()) {
      style.decimal = '.';
      problems.say(Severity::warning, 1, 1, "#A4, the decimal sign, is missing; . is assumed",
                   "#A4= at the top");
    } else if (given == "." || given == ",") {
      style.decimal = given[0];
    } else {
      problems.error(line, 0, "#A4, the decimal sign, is \"" + given + "\"", ". or ,");
    }
  }

  void quote(const std::string& given, const Line& line) {
    style.quote = 0;
    if (given.empty()) return;  // no quoting: seen in real files
    if (given.size() == 1 && std::isalnum(static_cast<unsigned char>(given[0])) == 0)
      style.quote = given[0];
    else
      problems.error(line, 0, "#A5, the quote, is \"" + given + "\"", "one sign such as \"");
  }
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

}  // namespace

void TextProblems::say(Severity severity, int line, int column, std::string what, std::string expected) {
  if (problems_.size() > problem_limit) return;
  if (problems_.size() == problem_limit) {
    // Whatever is left out may hold an error, so the last line is one.
    severity = Severity::error;
    what = "there are more problems than these";
    expected = "the ones above mended first";
  }
  problems_.push_back({{file_name_, line, column}, severity, std::move(what), std::move(expected), {}});
}
void TextProblems::error(const Line& line, std::size_t byte, std::string what, std::string expected) {
  say(Severity::error, line.number, base::characters(line.text.substr(0, byte)) + 1, std::move(what),
      std::move(expected));
}
void TextProblems::warn(const Line& line, std::size_t byte, std::string what, std::string expected) {
  say(Severity::warning, line.number, base::characters(line.text.substr(0, byte)) + 1, std::move(what),
      std::move(expected));
}
void TextProblems::note(const Line& line, std::string what, std::string expected) {
  say(Severity::note, line.number, 1, std::move(what), std::move(expected));
}

std::optional<std::string> decoded(std::string_view bytes, TextStyle& style, TextProblems& problems) {
  const auto refuse = [&problems](std::string what, std::string expected) {
    problems.say(Severity::error, 1, 1, std::move(what), std::move(expected));
    return std::optional<std::string>();
  };
  const std::string_view start = bytes.substr(0, 2);
  if (start == "\xFF\xFE" || start == "\xFE\xFF" || bytes.find('\0') != std::string_view::npos)
    return refuse("this is not plain text (zero bytes, or UTF-16)", "a file saved as UTF-8 or ISO-8859-1");
  const bool marked = bytes.substr(0, 3) == base::byte_order_mark;
  if (marked) bytes.remove_prefix(3);
  if (base::trim(bytes).empty()) return refuse("the file is empty", "exchange text");

  const std::string named = named_charset(bytes);
  if (!named.empty()) style.charset = named;
  const bool plain = first_foreign_byte(bytes, Charset::ascii) == std::string_view::npos;
  auto charset = charset_named(named);
  if (marked) {
    if (charset && charset != Charset::utf8 && !plain) {
      problems.say(Severity::warning, 1, 1,
                   "#A1 says " + named + " but the file begins as UTF-8 does; UTF-8 is taken",
                   "one of the two");
      style.charset = "UTF-8";
    }
    charset = Charset::utf8;
  } else if (named.empty()) {
    const bool utf8 = first_foreign_byte(bytes, Charset::utf8) == std::string_view::npos;
    charset = utf8 ? Charset::utf8 : Charset::latin1;
    style.charset = utf8 ? "UTF-8" : "ISO-8859-1";
    problems.say(Severity::warning, 1, 1,
                 "#A1, the character set, is missing; " + style.charset + " is assumed", "#A1= at the top");
  } else if (!charset) {
    if (!plain)
      return refuse("the character set \"" + named + "\" (#A1) is not known",
                    "UTF-8, ISO-8859-1, ISO-8859-15, Windows-1252 or ASCII");
    problems.say(Severity::warning, 1, 1,
                 "the character set \"" + named + "\" (#A1) is not known; the file needs none",
                 "UTF-8 or ISO-8859-1");
    charset = Charset::ascii;
  }
  const std::size_t foreign = first_foreign_byte(bytes, *charset);
  if (foreign == std::string_view::npos) return to_utf8(bytes, *charset);
  const auto lines = lines_of(bytes.substr(0, foreign + 1));
  const Line& line = lines.back();
  problems.error(line, line.text.size() - 1,
                 "a byte that does not belong to " + (named.empty() || marked ? "UTF-8" : named),
                 "the character set that #A1 names");
  return {};
}

bool read_style(const std::vector<Line>& lines, TextStyle& style, TextProblems& problems) {
  return StyleReader{lines, style, problems}.read();
}

}  // namespace haunch::exchange
