// SPDX-License-Identifier: Apache-2.0
// The observation letters A..N and what each may hold.
#include "exchange/observation_row.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "base/words.hpp"

namespace haunch::exchange {

using base::Severity;

ReadNumber number_from(std::string_view text, char decimal) {
  const std::string plain = base::trim(text);
  ReadNumber read;
  read.number = coding::Number::from_text(plain);
  const bool comma = plain.find(',') != std::string::npos;
  const bool point = plain.find('.') != std::string::npos;
  if (comma && !point) {
    std::string swapped = plain;
    std::replace(swapped.begin(), swapped.end(), ',', '.');
    auto number = coding::Number::from_text(swapped);
    if (number.value) {
      read.number = std::move(number);
      read.other_decimal = decimal != ',';
    }
  } else if (point && read.number.value) {
    read.other_decimal = decimal != '.';
  }
  return read;
}

void RowReader::take(const std::string& letter, const std::string& text, coding::Observation& into) {
  const std::string plain = base::trim(text);
  const auto say = [this](Severity severity, std::string what, std::string expected) {
    problems.push_back({{}, severity, std::move(what), std::move(expected), {}});
  };
  const auto number = [&](const char* name) {
    ReadNumber read = number_from(text, decimal);
    if (read.other_decimal)
      say(Severity::warning,
          std::string(name) + " is written " + plain + " though the decimal sign is " + decimal,
          std::string("the decimal sign ") + decimal);
    return std::move(read.number);
  };
  const auto hour = [&](const char* name) -> std::optional<int> {
    if (plain.empty()) return {};
    double value = 0;
    if (base::read_number(plain, value) && value >= 0 && value <= 1000 && value == static_cast<int>(value))
      return static_cast<int>(value);
    say(Severity::error, std::string(name) + " is \"" + plain + "\"", "a whole hour from 1 to 12");
    return {};
  };
  const char column = letter.size() == 1 ? letter[0] : '?';
  switch (column) {
    case 'A':
      into.code = plain;
      return;
    case 'B':
      into.ch1 = plain;
      return;
    case 'C':
      into.ch2 = plain;
      return;
    case 'D':
      into.q1 = number("quantification 1 (D)");
      return;
    case 'E':
      into.q2 = number("quantification 2 (E)");
      return;
    case 'F':
      into.remark = text;
      return;
    case 'G':
      into.clock_from = hour("clock position 1 (G)");
      return;
    case 'H':
      into.clock_to = hour("clock position 2 (H)");
      return;
    case 'I':
      into.distance_m = number("the distance (I)");
      if (!into.distance_m.empty() && !into.distance_m.value)
        say(Severity::error, "the distance (I) is \"" + plain + "\"", "metres, a number");
      return;
    case 'J':
      into.stretch = plain;
      return;
    case 'K':
      into.at_joint = base::lower(plain) == "a";
      if (!plain.empty() && plain != "A")
        say(Severity::warning,
            "the joint mark (K) is \"" + plain + "\"" + (into.at_joint ? "" : " and was left out"),
            "A, or nothing");
      return;
    case 'L':
      into.manhole_place = text;
      return;
    case 'M':
      into.photo = text;
      return;
    case 'N':
      into.video = text;
      return;
    default:
      if (!plain.empty()) into.extra.emplace_back(letter, text);
  }
}

void whole_circumference(coding::Observation& one) {
  if (one.clock_from == 0 && one.clock_to == 12) one.clock_from = 12;
}

int column_of(std::string_view line, std::size_t byte) { return base::characters(line.substr(0, byte)) + 1; }

}  // namespace haunch::exchange
