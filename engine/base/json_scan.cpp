// SPDX-License-Identifier: Apache-2.0
// The JSON grammar (RFC 8259) walked once by hand, so that a slip is told in words and with its place.
#include "base/json_scan.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <locale>
#include <optional>
#include <sstream>
#include <system_error>
#include <unordered_set>
#include <utility>

#include "base/utf8.hpp"

namespace haunch::base {
namespace {

/// Thrown inside this file to leave the recursion at the first breach of the grammar.
struct Stop {
  std::size_t at;
  std::string what;
  std::string expected;
};

/// Larger than a double can hold. What is too small for one is simply 0.
bool past_a_double(std::string_view number) {
  double value = 0;
  if (std::from_chars(number.data(), number.data() + number.size(), value).ec == std::errc()) return false;
  // That says "out of range" of both ends; a stream tells them apart, and takes no account of the locale
  // either.
  std::istringstream slow{std::string(number)};
  slow.imbue(std::locale::classic());
  slow >> value;
  return std::abs(value) >= std::numeric_limits<double>::max();
}

class Scanner {
 public:
  Scanner(std::string_view text, const Place& begins) : text_(text), lines_(text, begins) {}

  JsonScan run() {
    try {
      if (text_.substr(0, 3) == byte_order_mark) at_ = 3;
      space();
      if (end())
        stop(at_ > 0 && text_.size() > 3 ? "the file holds nothing but blanks" : "the file is empty",
             "a JSON object: { ... }");
      value("", 0);
      space();
      if (!end()) stop("there is more text after the end: " + found(), "nothing after the last bracket");
    } catch (Stop& stopped) {
      add(stopped.at, std::move(stopped.what), std::move(stopped.expected));
    }
    return std::move(scan_);
  }

 private:
  bool end() const { return at_ >= text_.size(); }
  char peek() const { return end() ? '\0' : text_[at_]; }
  [[noreturn]] void stop(std::string what, std::string expected) const {
    throw Stop{std::min(at_, text_.size()), std::move(what), std::move(expected)};
  }
  void add(std::size_t at, std::string what, std::string expected) {
    scan_.problems.push_back({lines_.at(at), Severity::error, std::move(what), std::move(expected), {}});
  }

  /// What stands at the place, for a message.
  std::string found() const {
    if (end()) return "the file ends here";
    const unsigned char c = static_cast<unsigned char>(text_[at_]);
    if (c == '\n' || c == '\r') return "the line ends here";
    if (c < 0x20) return "found a control character";
    std::size_t length = 1;
    while (at_ + length < text_.size() && (static_cast<unsigned char>(text_[at_ + length]) & 0xC0U) == 0x80U)
      ++length;
    if (std::isalnum(c) != 0)
      while (at_ + length < text_.size() && length < 20 &&
             std::isalnum(static_cast<unsigned char>(text_[at_ + length])) != 0)
        ++length;
    return "found " + std::string(text_.substr(at_, length));
  }

  void space() {
    while (!end() && (peek() == ' ' || peek() == '\t' || peek() == '\n' || peek() == '\r')) ++at_;
    if (peek() == '/' && at_ + 1 < text_.size() && (text_[at_ + 1] == '/' || text_[at_ + 1] == '*'))
      stop("JSON has no comments: found /" + std::string(1, text_[at_ + 1]), "the comment taken out");
  }

  void value(const std::string& pointer, int depth) {
    scan_.values.emplace(pointer, at_);
    switch (peek()) {
      case '{':
        return object(pointer, depth + 1);
      case '[':
        return list(pointer, depth + 1);
      case '"':
        text();
        return;
      case 't':
        return word("true");
      case 'f':
        return word("false");
      case 'n':
        return word("null");
      case '\'':
        stop("text is in single quotes", "double quotes: \"...\"");
      case '}':
      case ']':
        stop("a value is missing before " + std::string(1, peek()), "a value, or no comma before it");
      case ',':
        stop("a value is missing before the comma", "a value");
      default:
        break;
    }
    if (peek() == '-' || (peek() >= '0' && peek() <= '9')) return number();
    if (peek() == '+') stop("a number begins with +", "the number without +");
    if (peek() == '.') stop("a number begins with a point", "a digit before the point: 0.5");
    stop("a value is missing: " + found(), "text in double quotes, a number, true, false, null, { or [");
  }

  void check_depth(int depth) const {
    if (depth > json_depth_limit)
      stop("brackets are nested deeper than " + std::to_string(json_depth_limit) + " levels",
           "at most " + std::to_string(json_depth_limit) + " levels");
  }

  void object(const std::string& pointer, int depth) {
    check_depth(depth);
    const std::size_t opened = at_++;
    std::unordered_set<std::string> seen;
    space();
    if (peek() == '}') {
      ++at_;
      return;
    }
    for (;;) {
      space();
      if (end()) stop("the file ends inside { opened " + where(opened), "the closing }");
      if (peek() == '}') stop("a comma stands before }", "a key, or no comma after the last value");
      if (peek() != '"') stop("a key is missing: " + found(), "a key in double quotes");
      const std::size_t key_at = at_;
      const std::string key = text();
      const std::string here = pointer_to(pointer, key);
      if (!seen.insert(key).second)
        add(key_at,
            "the key \"" + key + "\" is given twice; the first is in line " +
                std::to_string(lines_.at(scan_.keys[here]).line),
            "each key once");
      scan_.keys.emplace(here, key_at);
      space();
      if (peek() != ':') stop("no colon after the key \"" + key + "\": " + found(), ":");
      ++at_;
      space();
      if (end()) stop("the file ends after the key \"" + key + "\"", "a value");
      value(here, depth);
      space();
      if (peek() == ',') {
        ++at_;
        continue;
      }
      if (peek() == '}' && !end()) {
        ++at_;
        return;
      }
      if (end()) stop("the file ends inside { opened " + where(opened), "the closing }");
      stop("no comma or } after the value of \"" + key + "\": " + found(), ", or }");
    }
  }

  void list(const std::string& pointer, int depth) {
    check_depth(depth);
    const std::size_t opened = at_++;
    space();
    if (peek() == ']') {
      ++at_;
      return;
    }
    for (std::size_t index = 0;; ++index) {
      space();
      if (end()) stop("the file ends inside [ opened " + where(opened), "the closing ]");
      if (peek() == ']') stop("a comma stands before ]", "a value, or no comma after the last value");
      value(pointer_to(pointer, std::to_string(index)), depth);
      space();
      if (peek() == ',') {
        ++at_;
        continue;
      }
      if (peek() == ']') {
        ++at_;
        return;
      }
      if (end()) stop("the file ends inside [ opened " + where(opened), "the closing ]");
      stop("no comma or ] after a value of the list: " + found(), ", or ]");
    }
  }

  std::string where(std::size_t byte) const { return "in line " + std::to_string(lines_.at(byte).line); }

  void word(std::string_view wanted) {
    if (text_.substr(at_, wanted.size()) != wanted)
      stop("a value is missing: " + found(), "text in double quotes, a number, true, false, null, { or [");
    at_ += wanted.size();
  }

  bool digits() {
    const std::size_t from = at_;
    while (peek() >= '0' && peek() <= '9') ++at_;
    return at_ > from;
  }

  void number() {
    const std::size_t from = at_;
    if (peek() == '-') ++at_;
    if (peek() == '0' && at_ + 1 < text_.size() && text_[at_ + 1] >= '0' && text_[at_ + 1] <= '9')
      stop("a number begins with a needless 0", "the number without it");
    if (!digits()) stop("a number is broken off: " + found(), "a digit");
    if (peek() == '.') {
      ++at_;
      if (!digits()) stop("a number is broken off after its point: " + found(), "a digit");
    }
    if (peek() == 'e' || peek() == 'E') {
      ++at_;
      if (peek() == '+' || peek() == '-') ++at_;
      if (!digits()) stop("a number is broken off in its exponent: " + found(), "a digit");
    }
    if (at_ - from > 400) stop("a number is longer than 400 digits", "a shorter number");
    if (past_a_double(text_.substr(from, at_ - from)))
      add(from, "a number is too large to work with", "numbers below 1e308");
  }

  std::uint32_t four_hex() {
    std::uint32_t code = 0;
    for (int i = 0; i < 4; ++i, ++at_) {
      const char c = peek();
      if (c >= '0' && c <= '9')
        code = code * 16 + static_cast<std::uint32_t>(c - '0');
      else if (c >= 'a' && c <= 'f')
        code = code * 16 + static_cast<std::uint32_t>(c - 'a' + 10);
      else if (c >= 'A' && c <= 'F')
        code = code * 16 + static_cast<std::uint32_t>(c - 'A' + 10);
      else
        stop("\\u is not followed by four hexadecimal digits: " + found(), "for instance \\u00e9");
    }
    return code;
  }

  void escape(std::string& out) {
    ++at_;  // the backslash
    const char c = peek();
    static constexpr std::string_view plain = "\"\\/bfnrt";
    static constexpr std::string_view meant = "\"\\/\b\f\n\r\t";
    const auto which = end() ? std::string_view::npos : plain.find(c);
    if (which != std::string_view::npos) {
      out += meant[which];
      ++at_;
      return;
    }
    if (c != 'u') {
      --at_;
      stop("\\ is followed by something that JSON does not know", "\\\\ for a backslash itself");
    }
    ++at_;
    std::uint32_t code = four_hex();
    if (code >= 0xD800 && code < 0xDC00 && text_.substr(at_, 2) == "\\u") {
      at_ += 2;
      const std::uint32_t low = four_hex();
      if (low < 0xDC00 || low > 0xDFFF) stop("half a character: a lone \\u surrogate", "both halves");
      code = 0x10000 + ((code - 0xD800) << 10U) + (low - 0xDC00);
    } else if (code >= 0xD800 && code < 0xE000) {
      stop("half a character: a lone \\u surrogate", "both halves");
    }
    append_utf8(out, code);
  }

  std::string text() {
    const std::size_t opened = at_++;
    std::string out;
    for (;;) {
      if (end()) {
        at_ = opened;
        stop("the file ends inside the text that begins here", "the closing \"");
      }
      const unsigned char c = static_cast<unsigned char>(peek());
      if (c == '"') {
        ++at_;
        return out;
      }
      if (c == '\\') {
        escape(out);
        continue;
      }
      if (c == '\n' || c == '\r') {
        at_ = opened;
        stop("the line ends inside the text that begins here", "the closing \" in the same line");
      }
      if (c < 0x20) stop("a control character stands inside text", "an escape such as \\t");
      if (c < 0x80) {
        out += peek();
        ++at_;
        continue;
      }
      const std::size_t length = utf8_length(text_, at_);
      if (length == 0) stop("a byte that is not UTF-8", "the file saved as UTF-8");
      out += text_.substr(at_, length);
      at_ += length;
    }
  }

  std::string_view text_;
  LinePlaces lines_;
  std::size_t at_ = 0;
  JsonScan scan_;
};

}  // namespace

JsonScan scan_json(std::string_view text, const Place& begins) { return Scanner(text, begins).run(); }

std::string pointer_to(const std::string& parent, std::string_view key) {
  std::string pointer = parent + '/';
  for (const char c : key) {
    if (c == '~')
      pointer += "~0";
    else if (c == '/')
      pointer += "~1";
    else
      pointer += c;
  }
  return pointer;
}

namespace {

constexpr std::size_t step = 256;

bool begins_character(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }

}  // namespace

LinePlaces::LinePlaces(std::string_view text, Place begins) : text_(text), begins_(std::move(begins)) {
  line_starts_.push_back(text.substr(0, 3) == byte_order_mark ? 3 : 0);
  int before = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i % step == 0) characters_before_.push_back(before);
    if (begins_character(text[i])) ++before;
    if (text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n')))
      line_starts_.push_back(i + 1);
  }
  if (text.size() % step == 0) characters_before_.push_back(before);
}

int LinePlaces::characters_before(std::size_t byte) const {
  int count = characters_before_[byte / step];
  for (std::size_t i = byte / step * step; i < byte; ++i)
    if (begins_character(text_[i])) ++count;
  return count;
}

Place LinePlaces::at(std::size_t byte) const {
  byte = std::min(byte, text_.size());
  const auto next = std::upper_bound(line_starts_.begin(), line_starts_.end(), byte);
  if (next == line_starts_.begin()) return begins_;
  const std::size_t start = *(next - 1);
  const auto line = static_cast<int>(next - line_starts_.begin());
  const int column = characters_before(byte) - characters_before(start) + 1;
  return {begins_.file, begins_.line + line - 1, line == 1 ? begins_.column + column - 1 : column};
}

}  // namespace haunch::base
