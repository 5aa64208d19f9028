// SPDX-License-Identifier: Apache-2.0
#include "exchange/exchange_header.hpp"

#include "base/utf8.hpp"
#include "exchange/exchange_columns.hpp"
#include "exchange/observation_row.hpp"

namespace haunch::exchange {

using base::Severity;

void HeaderReader::tell(Severity severity, int column, std::string what, std::string expected) {
  problems.push_back({{file_name_, line_, column}, severity, std::move(what), std::move(expected), {}});
}

void HeaderReader::tell(Severity severity, const Caption& caption, std::string what, std::string expected) {
  tell(severity, column_of(text_, caption.at), std::move(what), std::move(expected));
}

void HeaderReader::take_codes(const Line& line, const Tagged& mark, const TextStyle& style) {
  Row row;
  row.split(mark.value, style.separator, style.quote, most_columns);
  captions_.clear();
  line_ = line.number;
  if (row.fields.size() > most_columns)
    return tell(Severity::error, 1,
                "the line names more than " + std::to_string(most_columns) + " header codes",
                "the codes of the standard, and a few more");
  for (const Row::Field& one : row.fields)
    captions_.push_back({std::string(trimmed(one.text)), mark.value_at + one.at, one.quoted});
  mark_ = line.text.substr(0, mark.value_at - 1);
  text_ = line.text;
  awaits_ = true;
}

void HeaderReader::lack_values() {
  awaits_ = false;
  tell(Severity::error, 1, "no values follow the header codes",
       "a line with " + std::to_string(captions_.size()) + " values");
}

void HeaderReader::take_values(const Line& line, const Row& row, const TextStyle& style, Inspection& into) {
  TextLayout::HeaderLine stands{mark_, 0, {}};
  base::Place place{file_name_, line.number, 1};
  std::size_t counted = 0;
  for (std::size_t k = 0; k < captions_.size(); ++k) {
    const std::size_t at = row.fields[k].at;
    place.column += base::characters(line.text.substr(counted, at - counted));
    counted = at;
    field(captions_[k], row.fields[k], k == 0, place, style, into, stands);
  }
  into.layout.header.push_back(std::move(stands));
}

void HeaderReader::field(const Caption& caption, const Row::Field& given, bool first,
                         const base::Place& place, const TextStyle& style, Inspection& into,
                         TextLayout::HeaderLine& stands) {
  if (caption.code.empty())
    return tell(Severity::error, caption, "a header code is empty", "a code such as AAA");
  std::string value(given.text);
  if (style.decimal == ',' && coding::header_holds_number(caption.code)) {
    coding::Number number;
    read_number_into(number, value, ',');
    if (number.value) value = number.text;
  }
  auto& header = into.placed.record.header;
  for (const coding::HeaderField& known : header) {
    if (known.code != caption.code) continue;
    if (known.value == value)
      tell(Severity::note, 1, "header " + caption.code + " is given twice with the same value",
           "each code once");
    else if (caption.code != "ADE")  // the general remark can honestly stand there more than once
      tell(Severity::warning, caption,
           "header " + caption.code + " is \"" + known.value + "\" and also \"" + value +
               "\"; the first counts",
           "one value");
    break;
  }
  header.push_back({caption.code, std::move(value)});
  into.placed.places.header.push_back(place);
  ++stands.codes;
  const bool habit = given.quoted && !needs_quotes(given.text, style, first);
  const bool code = caption.quoted && !needs_quotes(caption.code, style, false);
  stands.quoted += static_cast<char>('0' + (code ? 1 : 0) + (habit ? 2 : 0));
}

}  // namespace haunch::exchange
