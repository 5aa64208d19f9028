// SPDX-License-Identifier: Apache-2.0
// Editing the line, whole UTF-8 characters at a time.
#include "window/line.hpp"

#include <utility>

#include "base/words.hpp"

namespace haunch::window {
namespace {

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::size_t before(const std::string& text, std::size_t at) {
  if (at == 0) return 0;
  --at;
  while (at > 0 && continues(text[at])) --at;
  return at;
}

std::size_t after(const std::string& text, std::size_t at) {
  if (at >= text.size()) return text.size();
  ++at;
  while (at < text.size() && continues(text[at])) ++at;
  return at;
}

}  // namespace

void Line::insert(const std::string& utf8) {
  std::string clean;
  for (char c : utf8) {
    const auto code = static_cast<unsigned char>(c);
    clean += code < 0x20 || code == 0x7F ? ' ' : c;
  }
  text.insert(caret, clean);
  caret += clean.size();
}

void Line::backspace() {
  const std::size_t from = before(text, caret);
  text.erase(from, caret - from);
  caret = from;
}

void Line::erase() { text.erase(caret, after(text, caret) - caret); }
void Line::left() { caret = before(text, caret); }
void Line::right() { caret = after(text, caret); }

void Line::set(std::string new_text) {
  text = std::move(new_text);
  caret = text.size();
}

std::string rest_of(const std::string& typed, const std::string& completion) {
  if (typed.empty() || completion.size() <= typed.size()) return {};
  if (base::lower(completion.substr(0, typed.size())) != base::lower(typed)) return {};
  return completion.substr(typed.size());
}

}  // namespace haunch::window
