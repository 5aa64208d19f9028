// SPDX-License-Identifier: Apache-2.0
#include "exchange/exchange_columns.hpp"

#include <algorithm>
#include <set>

namespace haunch::exchange {

using base::Severity;

bool needs_quotes(std::string_view text, const TextStyle& style, bool first) {
  if (text.find(style.separator) != std::string_view::npos) return true;
  if (style.quote != 0 && text.find(style.quote) != std::string_view::npos) return true;
  return first && text.size() > 1 && text[0] == '#' &&
         (text[1] == 'A' || text[1] == 'B' || text[1] == 'C' || text[1] == 'Z');
}

std::optional<ColumnFault> fault_of_quotes(const Row& row) {
  if (row.bad_quote == std::string_view::npos) return {};
  if (row.unclosed)
    return ColumnFault{Severity::error, row.bad_quote, false, "a quote is not closed in its line",
                       "the closing quote; no line break stands inside text"};
  return ColumnFault{Severity::error, row.bad_quote, false, "text stands after a closing quote",
                     "the separator, or the quote written twice inside text"};
}

std::optional<ColumnFault> fault_of_count(const Row& row, std::size_t length, std::size_t wanted,
                                          const std::string& what) {
  const auto& fields = row.fields;
  if (fields.size() == wanted) return {};
  const std::string many = std::to_string(wanted);
  if (fields.size() > wanted && fields.size() <= most_columns &&
      std::all_of(fields.begin() + static_cast<std::ptrdiff_t>(wanted), fields.end(),
                  [](const Row::Field& one) { return trimmed(one.text).empty(); }))
    return ColumnFault{Severity::warning, fields[wanted].at, false,
                       "empty values stand after the last of " + many + " " + what,
                       "no more values than " + what};
  const std::string found = fields.size() > most_columns
                                ? "more than " + std::to_string(most_columns) + " values"
                                : std::to_string(fields.size()) + (fields.size() == 1 ? " value" : " values");
  return ColumnFault{Severity::error, fields.size() > wanted ? fields[wanted].at : length, false,
                     "the line has " + found + " for " + many + " " + what, many + " values"};
}

std::vector<ColumnFault> ColumnReader::read(const Row& row, std::string_view value, const TextStyle& style) {
  std::vector<ColumnFault> faults;
  columns_.clear();
  letters_.clear();
  style_ = style;
  std::set<std::string> seen;
  if (row.fields.size() > most_columns)
    faults.push_back({Severity::error, 0, true,
                      "the line names more than " + std::to_string(most_columns) + " columns",
                      "the letters A to N, and a few more"});
  for (const Row::Field& field : row.fields) {
    if (columns_.size() >= most_columns) break;
    const std::string name(trimmed(field.text));
    const bool letter = name.size() == 1 && name[0] >= 'A' && name[0] <= 'N';
    const bool again = !seen.insert(name).second;
    if (name.empty())
      faults.push_back({Severity::error, field.at, false, "a column has no letter", "a letter from A to N"});
    else if (again)
      // Two unknown columns are told apart by their place.
      faults.push_back({letter ? Severity::error : Severity::warning, field.at, false,
                        "the column " + name + " is named twice", "each column once"});
    else if (!letter)
      faults.push_back({Severity::warning, field.at, false,
                        "the column \"" + name + "\" is not known; its text is kept", "letters from A to N"});
    columns_.push_back({name, field.quoted && !needs_quotes(name, style, false), false, false, false});
    letters_.push_back(letter && !again ? name[0] : '\0');
  }
  if (!seen.contains("A"))
    faults.push_back({Severity::error, 0, true, "no column for the main code", "a column A"});
  if (!seen.contains("I"))
    faults.push_back({Severity::error, 0, true, "no column for the distance", "a column I"});
  value_ = value;
  sound_ = std::none_of(faults.begin(), faults.end(),
                        [](const ColumnFault& one) { return one.severity == Severity::error; });
  return faults;
}

void ColumnReader::begin(TextLayout& layout) {
  layout.columns = columns_;
  seen_.assign(columns_.size(), {});
  for (std::size_t k = 0; k < letters_.size(); ++k) seen_[k].hour = letters_[k] != 'G' && letters_[k] != 'H';
}

void ColumnReader::habit(std::size_t k, const Row::Field& field, TextLayout::Column& column) {
  Seen& seen = seen_[k];
  const std::string_view text = field.text;
  if (!seen.text && !(field.quoted && needs_quotes(text, style_, k == 0))) {
    column.quoted = field.quoted;
    seen.text = true;
  }
  if (!seen.hour && (text.size() == 1 || text[0] == '0')) {
    column.two_digits = text.size() == 2;
    seen.hour = true;
  }
}

void ColumnReader::take(const Row& row, RowReader& reader, TextLayout& layout, coding::Observation& into) {
  for (std::size_t k = 0; k < letters_.size(); ++k) {
    const Row::Field& field = row.fields[k];
    if (field.text.empty()) {
      if (!seen_[k].empty) layout.columns[k].quoted_empty = field.quoted;
      seen_[k].empty = true;
      continue;
    }
    if (!seen_[k].text || !seen_[k].hour) habit(k, field, layout.columns[k]);
    if (letters_[k] != 0)
      reader.take(letters_[k], field.text, into);
    else
      into.extra.emplace_back(columns_[k].name, field.text);
    while (problem_fields_.size() < reader.problems.size()) problem_fields_.push_back(k);
  }
}

}  // namespace haunch::exchange
