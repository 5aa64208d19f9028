// SPDX-License-Identifier: Apache-2.0
#include "play/tokens.hpp"

#include <array>
#include <string_view>
#include <utility>

#include "base/words.hpp"

namespace haunch::play {
namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
}
bool blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

/// Signs that keyboards and other programs put in place of plain ones, with what they stand for.
constexpr std::array<std::pair<std::string_view, std::string_view>, 11> other_signs = {{
    {"\xE2\x80\x93", "-"},
    {"\xE2\x80\x94", "-"},
    {"\xE2\x88\x92", "-"},
    {"\xE2\x80\x90", "-"},
    {"\xC2\xB0", "\xC2\xB0"},
    {"\xC2\xBA", "\xC2\xB0"},
    {"\xE2\x80\x99", "'"},
    {"\xE2\x80\xB2", "'"},
    {"\xC3\x97", "x"},
    {"\xC2\xA0", " "},
    {"\xE2\x86\x92", "-"},
}};

class Cutter {
 public:
  explicit Cutter(const std::string& typed) : typed_(typed) {}

  Line run() {
    while (at_ < typed_.size()) one();
    line_.ends_open = !line_.in_remark && !line_.tokens.empty() && line_.tokens.back().end == typed_.size();
    line_.remark = base::trim(line_.remark);
    return std::move(line_);
  }

 private:
  char here(std::size_t ahead = 0) const { return at_ + ahead < typed_.size() ? typed_[at_ + ahead] : '\0'; }
  char before() const { return at_ > 0 ? typed_[at_ - 1] : '\0'; }

  void add(Token::Kind kind, std::string text, std::size_t length, double value = 0) {
    Token token;
    token.kind = kind;
    token.text = std::move(text);
    token.typed = typed_.substr(at_, length);
    token.value = value;
    token.begin = at_;
    token.end = at_ + length;
    token.glued = !line_.tokens.empty() && line_.tokens.back().end == at_;
    line_.tokens.push_back(std::move(token));
    at_ += length;
  }

  void remark(std::size_t from, std::size_t to) {
    if (!line_.remark.empty()) line_.remark += ' ';
    line_.remark += base::trim(typed_.substr(from, to - from));
  }

  void one() {
    const char c = here();
    if (c == '#') {
      remark(at_ + 1, typed_.size());
      line_.in_remark = true;
      at_ = typed_.size();
    } else if (c == '"') {
      const auto closing = typed_.find('"', at_ + 1);
      remark(at_ + 1, closing == std::string::npos ? typed_.size() : closing);
      line_.in_remark = closing == std::string::npos;
      at_ = closing == std::string::npos ? typed_.size() : closing + 1;
    } else if (digit(c) || (c == '.' && digit(here(1)) && before() != '.')) {
      number();
    } else if (!other_sign()) {
      if (letter(c)) {
        word();
      } else {
        sign();
      }
    }
  }

  void number() {
    std::size_t length = 0;
    while (digit(here(length))) ++length;
    // A comma between digits is the decimal sign of half the world.
    if ((here(length) == '.' || here(length) == ',') && digit(here(length + 1))) {
      ++length;
      while (digit(here(length))) ++length;
    }
    std::string text = typed_.substr(at_, length);
    for (char& sign : text) {
      if (sign == ',') sign = '.';
    }
    double value = 0;
    base::read_number(text.front() == '.' ? "0" + text : text, value);
    add(Token::Kind::number, std::move(text), length, value);
  }

  /// Halves and quarters as one letter, and look-alikes of plain signs.
  bool other_sign() {
    const std::string_view rest = std::string_view(typed_).substr(at_);
    for (const auto& [letter_, value] :
         {std::pair<std::string_view, double>{"\xC2\xBC", 0.25}, {"\xC2\xBD", 0.5}, {"\xC2\xBE", 0.75}}) {
      if (!rest.starts_with(letter_)) continue;
      if (!line_.tokens.empty() && line_.tokens.back().is_number()) {
        Token& whole = line_.tokens.back();
        whole.value += value;
        whole.typed += letter_;
        at_ += letter_.size();
        whole.end = at_;
      } else {
        add(Token::Kind::number, base::show_number(value), letter_.size(), value);
      }
      return true;
    }
    for (const auto& [found, plain] : other_signs) {
      if (!rest.starts_with(found)) continue;
      if (plain == " ") {
        at_ += found.size();
      } else if (plain == "-") {
        dash(found.size());
      } else {
        add(Token::Kind::sign, std::string(plain), found.size());
      }
      return true;
    }
    return false;
  }

  bool look_alike(std::size_t at) const {
    const std::string_view rest = std::string_view(typed_).substr(at);
    for (const auto& [found, plain] : other_signs) {
      if (rest.starts_with(found)) return true;
    }
    return false;
  }

  void word() {
    std::size_t length = 0;
    while ((letter(here(length)) && !look_alike(at_ + length)) ||
           (here(length) == '\'' && letter(here(length + 1)))) {
      ++length;
    }
    std::string text = base::lower(typed_.substr(at_, length));
    add(Token::Kind::word, std::move(text), length);
  }

  /// Between letters a dash only joins words; between numbers it makes a range.
  void dash(std::size_t length) {
    std::size_t ahead = length;
    while (blank(here(ahead))) ++ahead;
    if (digit(here(ahead)) || (here(ahead) == '.' && digit(here(ahead + 1)))) {
      add(Token::Kind::sign, "-", length);
    } else {
      at_ += length;
    }
  }

  void sign() {
    const char c = here();
    if (c == '.' && here(1) == '.') {
      std::size_t length = 2;
      while (here(length) == '.') ++length;
      dash(length);
    } else if (blank(c) || c == ',' || c == ';' || c == '.' || c == '!' || c == '?' || c == '(' || c == ')' ||
               c == '&' || c == '+' || c == '=' || c == '_' ||
               (c == ':' && !(digit(before()) && digit(here(1))))) {
      ++at_;
    } else if (c == '-') {
      dash(1);
    } else if (c == '\'' || c == '/' || c == '%' || c == '@' || c == ':' || c == '*' || c >= ' ') {
      add(Token::Kind::sign, std::string(1, c), 1);
    } else {
      ++at_;  // a control character
    }
  }

  const std::string& typed_;
  std::size_t at_ = 0;
  Line line_;
};

}  // namespace

Line cut(const std::string& typed) { return Cutter(typed).run(); }

}  // namespace haunch::play
