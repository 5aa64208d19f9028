// SPDX-License-Identifier: Apache-2.0
// Writes exchange text strictly: every field that could be misread is quoted, and nothing is lost.
#include <algorithm>

#include "base/words.hpp"
#include "exchange/charset.hpp"
#include "exchange/exchange_text.hpp"

namespace haunch::exchange {
namespace {

using coding::Observation;

struct Writer {
  TextStyle style;
  bool needed_quote = false;  ///< a field wanted quoting though the style names no quote
  std::string out;

  /// No rule for a line break inside a field is known, so it becomes a space.
  static std::string one_line(std::string text) {
    std::replace_if(
        text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r' || c == '\0'; }, ' ');
    return text;
  }

  std::string field(const std::string& given, bool alone = false) {
    std::string text = one_line(given);
    const bool risky = text.find(style.separator) != std::string::npos ||
                       (style.quote != 0 && text.find(style.quote) != std::string::npos) ||
                       (!text.empty() && text[0] == '#') || (alone && base::trim(text).empty());
    if (!risky) return text;
    if (style.quote == 0) {
      needed_quote = true;
      return text;
    }
    std::string quoted(1, style.quote);
    for (const char c : text) {
      quoted += c;
      if (c == style.quote) quoted += c;
    }
    return quoted + style.quote;
  }

  std::string number(const coding::Number& number) {
    std::string text = number.show();
    if (number.value && style.decimal != '.') std::replace(text.begin(), text.end(), '.', style.decimal);
    return field(text);
  }

  void line(const std::string& text) { out += text + (style.crlf ? "\r\n" : "\n"); }

  void row(const std::vector<std::string>& fields) {
    line(base::join(fields, std::string(1, style.separator)));
  }

  static std::string hour(const std::optional<int>& clock) {
    return clock ? std::to_string(*clock) : std::string();
  }

  void how() {
    line("#A1=" + one_line(style.charset));
    line("#A2=" + one_line(style.language));
    line(std::string("#A3=") + style.separator);
    line(std::string("#A4=") + style.decimal);
    if (style.quote != 0) line(std::string("#A5=") + style.quote);
    line("#A6=" + one_line(style.version));
  }

  std::string header_value(const coding::HeaderField& one, bool alone) {
    std::string value = one.value;
    double number = 0;
    if (style.decimal != '.' && coding::header_holds_number(one.code) &&
        base::read_number(base::trim(value), number))
      std::replace(value.begin(), value.end(), '.', style.decimal);
    return field(value, alone);
  }

  /// A code that stands there twice begins a new #B line, so that no line names a code twice.
  void header(const std::vector<coding::HeaderField>& fields) {
    int number = 0;
    for (std::size_t from = 0; from < fields.size();) {
      std::size_t to = from;
      const auto named_before = [&](const std::string& code) {
        return std::any_of(fields.begin() + static_cast<std::ptrdiff_t>(from),
                           fields.begin() + static_cast<std::ptrdiff_t>(to),
                           [&code](const coding::HeaderField& one) { return one.code == code; });
      };
      while (to < fields.size() && !named_before(fields[to].code)) ++to;
      std::vector<std::string> codes, values;
      const bool blank =
          std::all_of(fields.begin() + static_cast<std::ptrdiff_t>(from),
                      fields.begin() + static_cast<std::ptrdiff_t>(to),
                      [](const coding::HeaderField& one) { return base::trim(one.value).empty(); });
      for (std::size_t i = from; i < to; ++i) {
        codes.push_back(field(fields[i].code));
        values.push_back(
            header_value(fields[i], i == from && blank && (to - from == 1 || style.separator == '\t')));
      }
      const std::string digits = std::to_string(++number);
      line("#B" + (digits.size() < 2 ? "0" + digits : digits) + "=" +
           base::join(codes, std::string(1, style.separator)));
      row(values);
      from = to;
    }
  }

  static std::vector<std::string> unknown_columns(const std::vector<Observation>& observations) {
    std::vector<std::string> names;
    for (const Observation& one : observations)
      for (const auto& [name, text] : one.extra)
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    return names;
  }

  void observations(const coding::Record& record) {
    const auto extra = unknown_columns(record.observations);
    std::vector<std::string> captions;
    for (const char letter : std::string_view("IABCDEGHJKLFMN")) captions.emplace_back(1, letter);
    for (const std::string& name : extra) captions.push_back(field(name));
    line("#C=" + base::join(captions, std::string(1, style.separator)));
    for (const Observation& one : record.observations) {
      std::vector<std::string> fields{number(one.distance_m),  field(one.code),          field(one.ch1),
                                      field(one.ch2),          number(one.q1),           number(one.q2),
                                      hour(one.clock_from),    hour(one.clock_to),       field(one.stretch),
                                      one.at_joint ? "A" : "", field(one.manhole_place), field(one.remark),
                                      field(one.photo),        field(one.video)};
      for (const std::string& name : extra) {
        const auto found = std::find_if(one.extra.begin(), one.extra.end(),
                                        [&name](const auto& pair) { return pair.first == name; });
        fields.push_back(found == one.extra.end() ? std::string() : field(found->second));
      }
      row(fields);
    }
  }

  std::string run(const std::vector<coding::Record>& inspections) {
    how();
    for (const coding::Record& record : inspections) {
      header(record.header);
      observations(record);
      line("#Z");
    }
    return std::move(out);
  }
};

}  // namespace

std::string exchange_to_text(const std::vector<coding::Record>& inspections, const TextStyle& style) {
  TextStyle used = style;
  if (used.separator == used.decimal) used.separator = ';';
  Writer writer{used, false, {}};
  std::string text = writer.run(inspections);
  if (writer.needed_quote) {
    used.quote = used.separator == '"' ? '\'' : '"';
    text = Writer{used, false, {}}.run(inspections);
  }
  if (const auto charset = charset_named(used.charset))
    if (auto encoded = from_utf8(text, *charset)) return std::move(*encoded);
  // A character that the set does not have: the whole file goes out as UTF-8 rather than lose it.
  used.charset = "UTF-8";
  Writer again{used, false, {}};
  return again.run(inspections);
}

}  // namespace haunch::exchange
