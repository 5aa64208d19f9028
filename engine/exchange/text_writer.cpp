// SPDX-License-Identifier: Apache-2.0
// Fields and lines of exchange text.
#include "exchange/text_writer.hpp"

#include <algorithm>

#include "exchange/exchange_columns.hpp"
#include "exchange/text_marks.hpp"

namespace haunch::exchange {

using base::Severity;

TextWriter::TextWriter(TextStyle style) : style_(std::move(style)) {
  charset_ = style_.byte_order_mark ? Charset::utf8 : charset_named(style_.charset).value_or(Charset::utf8);
}

void TextWriter::tell(Severity severity, std::string what, std::string expected) {
  if (!name_.empty()) what = name_ + ": " + what;
  add_problem(problems, {place_, severity, std::move(what), std::move(expected), {}});
}

void TextWriter::head() {
  if (style_.byte_order_mark) out += "\xEF\xBB\xBF";
  std::string keys = style_.keys;
  // What is added stands where the standard has it, before the next one that is there.
  for (const char key : std::string_view(style_.quote != 0 ? "123456" : "12346"))
    if (keys.find(key) == std::string::npos)
      keys.insert(std::find_if(keys.begin(), keys.end(), [key](char there) { return there > key; }), key);
  const bool named = style_.separator == '\t' && !style_.separator_name.empty();
  for (const char key : keys) {
    if (key < '1' || key > '6') continue;
    out += std::string("#A") + key + '=';
    name_ = std::string("#A") + key;
    if (key == '1') put(style_.charset);
    if (key == '2') put(style_.language);
    if (key == '3')
      put(named ? std::string_view(style_.separator_name) : std::string_view(&style_.separator, 1));
    if (key == '4') out += style_.decimal;
    if (key == '5' && style_.quote != 0) out += style_.quote;
    if (key == '6') put(style_.version);
    end_line();
  }
  name_.clear();
}

void TextWriter::end_line() {
  out += style_.line_end == LineEnd::crlf ? "\r\n" : style_.line_end == LineEnd::cr ? "\r" : "\n";
  first_ = true;
}

/// In the file's character set.
void TextWriter::put(std::string_view text) {
  if (is_ascii(text)) {
    out += text;
    return;
  }
  const std::size_t lacking = first_lacking(text, charset_);
  if (lacking == std::string_view::npos) {
    out += charset_ == Charset::utf8 ? std::string(text) : *from_utf8(text, charset_);
    return;
  }
  if (first_foreign_byte(text, Charset::utf8) != std::string_view::npos) {
    tell(Severity::warning, "bytes that are no text became \xEF\xBF\xBD", "text as UTF-8");
    return put(to_utf8(text, Charset::utf8));
  }
  lacks_character = true;
  std::size_t length = 1;
  while (lacking + length < text.size() &&
         (static_cast<unsigned char>(text[lacking + length]) & 0xC0U) == 0x80U)
    ++length;
  tell(Severity::error,
       "the character \"" + std::string(text.substr(lacking, length)) + "\" does not exist in " +
           style_.charset,
       "a character set that has it, such as UTF-8");
}

void TextWriter::quoted(std::string_view text) {
  out += style_.quote;
  for (std::size_t from = 0;;) {
    const std::size_t end = text.find(style_.quote, from);
    put(text.substr(from, end - from));
    if (end == std::string_view::npos) break;
    out += style_.quote;
    out += style_.quote;
    from = end + 1;
  }
  out += style_.quote;
}

void TextWriter::field(std::string_view text, bool habit) {
  const bool needed = needs_quotes(text, style_, first_);
  if (style_.quote != 0 && (needed || habit)) return quoted(text);
  if (needed) {
    lacks_quote = true;
    tell(Severity::error,
         "the text \"" + std::string(text.substr(0, 60)) + "\" needs quotes and the file has none",
         "a quote (#A5)");
  }
  put(text);
}

/// No rule for a line break inside a field is known, so it becomes a space.
void TextWriter::text(std::string_view text, bool habit) {
  const auto breaks = [](char c) { return c == '\n' || c == '\r' || c == '\0'; };
  if (std::none_of(text.begin(), text.end(), breaks)) return field(text, habit);
  scratch_ = text;
  std::replace_if(scratch_.begin(), scratch_.end(), breaks, ' ');
  tell(Severity::warning, "a line break inside text became a space", "text on one line");
  field(scratch_, habit);
}

void TextWriter::number(const coding::Number& number, bool habit) {
  if (style_.decimal == '.' && !number.text.empty()) return text(number.text, habit);
  std::string shown = number.show();
  if (number.value && style_.decimal != '.') std::replace(shown.begin(), shown.end(), '.', style_.decimal);
  text(shown, habit);
}

void TextWriter::hour(const std::optional<int>& hour, const TextLayout::Column& column) {
  if (!hour) return field({}, column.quoted_empty);
  std::string shown = std::to_string(*hour);
  if (column.two_digits && shown.size() == 1) shown.insert(0, 1, '0');
  field(shown, column.quoted);
}

}  // namespace haunch::exchange
