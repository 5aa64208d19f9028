// SPDX-License-Identifier: Apache-2.0
// Writes exchange text strictly: every field that could be misread is quoted, and nothing is lost unsaid.
#include <algorithm>
#include <array>

#include "base/words.hpp"
#include "exchange/exchange_columns.hpp"
#include "exchange/text_marks.hpp"
#include "exchange/text_writer.hpp"

namespace haunch::exchange {

using base::Severity;

namespace {

constexpr std::string_view canonical = "IABCDEGHJKLFMN";

bool used(char letter, const coding::Observation& one) {
  switch (letter) {
    case 'A':
    case 'I':
      return true;
    case 'B':
      return !one.ch1.empty();
    case 'C':
      return !one.ch2.empty();
    case 'D':
      return !one.q1.empty();
    case 'E':
      return !one.q2.empty();
    case 'F':
      return !one.remark.empty();
    case 'G':
      return one.clock_from.has_value();
    case 'H':
      return one.clock_to.has_value();
    case 'J':
      return !one.stretch.empty();
    case 'K':
      return one.at_joint;
    case 'L':
      return !one.manhole_place.empty();
    case 'M':
      return !one.photo.empty();
    case 'N':
      return !one.video.empty();
    default:
      return false;
  }
}

bool is_empty(const coding::Observation& one) {
  return one.code.empty() && one.distance_m.empty() && one.extra.empty() &&
         std::none_of(canonical.begin() + 2, canonical.end(), [&one](char c) { return used(c, one); });
}

/// Does the layout tell where the fields of the header stand?
bool tells(const TextLayout& layout, std::size_t fields) {
  std::size_t told = 0;
  for (const TextLayout::HeaderLine& line : layout.header) {
    told += line.codes;
    if (line.quoted.size() != line.codes || line.codes == 0 || tagged(line.mark + "=").tag != Tag::header)
      return false;
  }
  return told == fields;
}

}  // namespace

void TextWriter::choose_columns(const coding::Record& record, const TextLayout& layout) {
  columns_.clear();
  std::vector<std::string> names = extra_names(record.observations);
  const auto add = [this](const TextLayout::Column& as, char letter) {
    const auto same = [&as](const Column& one) { return one.letter == 0 && one.as.name == as.name; };
    const auto nth = letter != 0 ? 0 : std::count_if(columns_.begin(), columns_.end(), same);
    columns_.push_back({as, letter, static_cast<std::size_t>(nth)});
  };
  const auto has = [this](char letter) {
    return std::any_of(columns_.begin(), columns_.end(),
                       [letter](const Column& c) { return c.letter == letter; });
  };
  for (const TextLayout::Column& as : layout.columns) {
    const bool letter = as.name.size() == 1 && canonical.find(as.name[0]) != std::string_view::npos;
    if ((letter && has(as.name[0])) || (!letter && !is_extra_name(as.name))) continue;
    add(as, letter ? as.name[0] : '\0');
    if (const auto found = std::find(names.begin(), names.end(), as.name); found != names.end())
      names.erase(found);
  }
  for (const char letter : canonical) {
    if (has(letter)) continue;
    if (layout.columns.empty() || std::any_of(record.observations.begin(), record.observations.end(),
                                              [letter](const auto& one) { return used(letter, one); }))
      add({std::string(1, letter)}, letter);
  }
  for (const std::string& name : names) {
    if (is_extra_name(name)) {
      add({name}, 0);
      continue;
    }
    tell(Severity::error, "an unknown column is called \"" + name + "\", which cannot stand in exchange text",
         "a name without blanks at its ends that is no letter from A to N");
  }
}

void TextWriter::header(const std::vector<coding::HeaderField>& fields, const TextLayout& layout) {
  if (tells(layout, fields.size())) {
    const coding::HeaderField* at = fields.data();
    for (const TextLayout::HeaderLine& line : layout.header) {
      header_line(at, line);
      at += line.codes;
    }
    return;
  }
  // A code that stands there twice begins a new #B line, so that no line names a code twice.
  int number = 0;
  for (std::size_t from = 0, to = 0; from < fields.size(); from = to) {
    const auto named_before = [&](const std::string& code) {
      return std::any_of(fields.begin() + static_cast<std::ptrdiff_t>(from),
                         fields.begin() + static_cast<std::ptrdiff_t>(to),
                         [&code](const coding::HeaderField& one) { return one.code == code; });
    };
    while (to < fields.size() && to - from < most_columns && !named_before(fields[to].code)) ++to;
    const std::string digits = std::to_string(++number);
    header_line(fields.data() + from,
                {"#B" + (digits.size() < 2 ? "0" + digits : digits), to - from, std::string(to - from, '0')});
  }
}

void TextWriter::header_line(const coding::HeaderField* fields, const TextLayout::HeaderLine& line) {
  out += line.mark + '=';
  for (std::size_t i = 0; i < line.codes; ++i) {
    if (i > 0) out += style_.separator;
    name_ = "header " + fields[i].code;
    first_ = false;
    if (base::trim(fields[i].code).empty())
      tell(Severity::error, "a header code is empty, which cannot stand in exchange text",
           "a code such as AAA");
    text(fields[i].code, (line.quoted[i] - '0') % 2 == 1);
  }
  end_line();
  for (std::size_t i = 0; i < line.codes; ++i) {
    if (i > 0) out += style_.separator;
    name_ = "header " + fields[i].code;
    header_value(fields[i], line.quoted[i] >= '2', line.codes == 1);
    first_ = false;
  }
  end_line();
}

void TextWriter::header_value(const coding::HeaderField& one, bool habit, bool alone) {
  double number = 0;
  if (alone && is_blank(one.value, style_.separator)) {
    // A line with nothing on it would not be taken for the value.
    lacks_quote = lacks_quote || style_.quote == 0;
    if (style_.quote == 0) tell(Severity::error, "an empty value stands alone in its line", "a quote (#A5)");
    habit = true;
  }
  if (style_.decimal == '.' || !coding::header_holds_number(one.code) ||
      !base::read_number(base::trim(one.value), number))
    return text(one.value, habit);
  std::string value = one.value;
  std::replace(value.begin(), value.end(), '.', style_.decimal);
  text(value, habit);
}

void TextWriter::letter(char letter, const coding::Observation& one, const TextLayout::Column& column) {
  const auto habit = [&column](bool empty) { return empty ? column.quoted_empty : column.quoted; };
  const auto words = [&](const std::string& value) { text(value, habit(value.empty())); };
  switch (letter) {
    case 'A':
      return words(one.code);
    case 'B':
      return words(one.ch1);
    case 'C':
      return words(one.ch2);
    case 'D':
      return number(one.q1, habit(one.q1.empty()));
    case 'E':
      return number(one.q2, habit(one.q2.empty()));
    case 'F':
      return words(one.remark);
    case 'G':
      return hour(one.clock_from, column);
    case 'H':
      return hour(one.clock_to, column);
    case 'I':
      return number(one.distance_m, habit(one.distance_m.empty()));
    case 'J':
      return words(one.stretch);
    case 'K':
      return field(one.at_joint ? "A" : "", habit(!one.at_joint));
    case 'L':
      return words(one.manhole_place);
    case 'M':
      return words(one.photo);
    case 'N':
      return words(one.video);
    default:
      return;
  }
}

void TextWriter::row(const coding::Observation& one) {
  name_.clear();
  for (const Column& column : columns_) {
    if (!first_) out += style_.separator;
    if (column.letter != 0) {
      letter(column.letter, one, column.as);
    } else {
      const std::string* given = extra_text(one, column.as.name, column.nth);
      text(given != nullptr ? *given : std::string_view(),
           given != nullptr && !given->empty() ? column.as.quoted : column.as.quoted_empty);
    }
    first_ = false;
  }
  end_line();
}

void TextWriter::add(const coding::Record& record, const TextLayout& layout,
                     const coding::RecordPlaces& places, const base::Place& place) {
  place_ = place;
  header(record.header, layout);
  choose_columns(record, layout);
  put("#C=");
  for (std::size_t k = 0; k < columns_.size(); ++k) {
    if (k > 0) out += style_.separator;
    first_ = false;
    name_ = "the column " + columns_[k].as.name;
    text(columns_[k].as.name, columns_[k].as.quoted_name);
  }
  end_line();
  for (std::size_t i = 0; i < record.observations.size(); ++i) {
    const coding::Observation& one = record.observations[i];
    if (i < places.observations.size()) place_ = places.observations[i];
    if (is_empty(one))
      tell(Severity::warning, "an observation with nothing in it was left out", "a code");
    else
      row(one);
  }
  if (layout.ended) {
    put("#Z");
    end_line();
  }
  if (!layout.last_line_end) {
    const std::size_t end = style_.line_end == LineEnd::crlf ? 2 : 1;
    out.erase(out.size() - end);
  }
}

std::string exchange_to_text(const ExchangeFile& file) {
  TextStyle used = file.style;
  if (const base::Problems wrong = problems_of_style(used); !wrong.empty()) {
    const TextStyle ours;
    if (used.separator == used.decimal) used.separator = ours.separator;
    if (used.quote == used.separator || used.quote == used.decimal) used.quote = ours.quote;
    if (!problems_of_style(used).empty()) used = ours;
  }
  for (int round = 0;; ++round) {
    TextWriter writer(used);
    writer.head();
    for (std::size_t i = 0; i < file.inspections.size(); ++i) {
      TextLayout layout = i < file.layouts.size() ? file.layouts[i] : TextLayout{};
      // Nothing but the end of the file may lack them.
      if (i + 1 < file.inspections.size()) layout.ended = layout.last_line_end = true;
      writer.add(file.inspections[i].record, layout, {}, {});
    }
    if (round == 2 || (!writer.lacks_quote && !writer.lacks_character)) return std::move(writer.out);
    if (writer.lacks_quote) used.quote = used.separator == '"' ? '\'' : '"';
    // A character that the set does not have: the whole file goes out as UTF-8 rather than lose it.
    if (writer.lacks_character) used.charset = "UTF-8";
  }
}

std::string exchange_to_text(const std::vector<coding::Record>& inspections, const TextStyle& style) {
  ExchangeFile file{style, {}, {}};
  for (const coding::Record& record : inspections) file.inspections.push_back({record, {}});
  return exchange_to_text(file);
}

}  // namespace haunch::exchange
