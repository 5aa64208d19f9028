// SPDX-License-Identifier: Apache-2.0
// The observation letters A..N and what each may hold.
#include "exchange/observation_row.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/utf8.hpp"
#include "exchange/split_row.hpp"

namespace haunch::exchange {

using base::Severity;

namespace {

bool number_of(std::string_view plain, double& value) {
  if (!plain.empty() && plain.front() == '+') plain.remove_prefix(1);
  const auto done = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  return done.ec == std::errc() && done.ptr == plain.data() + plain.size() && std::isfinite(value);
}

}  // namespace

bool read_number_into(coding::Number& number, std::string_view text, char decimal) {
  const std::string_view plain = trimmed(text);
  number.text.assign(plain);
  number.value.reset();
  if (plain.empty()) return false;
  double value = 0;
  if (number_of(plain, value)) {
    number.value = value;
    return decimal != '.' && plain.find('.') != std::string_view::npos;
  }
  if (plain.find(',') == std::string_view::npos || plain.find('.') != std::string_view::npos) return false;
  std::string swapped(plain);
  std::replace(swapped.begin(), swapped.end(), ',', '.');
  if (!number_of(swapped, value)) return false;
  number.text = std::move(swapped);
  number.value = value;
  return decimal != ',';
}

void RowReader::say(Severity severity, std::string what, std::string expected) {
  problems.push_back({{}, severity, std::move(what), std::move(expected), {}});
}

void RowReader::number(std::string_view plain, const char* name, coding::Number& into) {
  if (read_number_into(into, plain, decimal))
    say(Severity::warning,
        std::string(name) + " is written " + std::string(plain) + " though the decimal sign is " + decimal,
        std::string("the decimal sign ") + decimal);
}

void RowReader::hour(std::string_view plain, const char* name, std::optional<int>& into) {
  into.reset();
  if (plain.empty()) return;
  if (plain.size() <= 2 && plain[0] >= '0' && plain[0] <= '9' &&
      (plain.size() == 1 || (plain[1] >= '0' && plain[1] <= '9'))) {
    into = plain.size() == 1 ? plain[0] - '0' : 10 * (plain[0] - '0') + (plain[1] - '0');
    return;
  }
  double value = 0;
  if (number_of(plain, value) && value >= 0 && value <= 1000 && value == static_cast<int>(value))
    into = static_cast<int>(value);
  else
    say(Severity::error, std::string(name) + " is \"" + std::string(plain) + "\"",
        "a whole hour from 1 to 12");
}

void RowReader::joint(std::string_view plain, coding::Observation& into) {
  into.at_joint = plain == "A" || plain == "a";
  if (!plain.empty() && plain != "A")
    say(Severity::warning,
        "the joint mark (K) is \"" + std::string(plain) + "\"" + (into.at_joint ? "" : " and was left out"),
        "A, or nothing");
}

void RowReader::take(char letter, std::string_view text, coding::Observation& into) {
  const std::string_view plain = trimmed(text);
  switch (letter) {
    case 'A':
      into.code.assign(plain);
      return;
    case 'B':
      into.ch1.assign(plain);
      return;
    case 'C':
      into.ch2.assign(plain);
      return;
    case 'D':
      return number(plain, "quantification 1 (D)", into.q1);
    case 'E':
      return number(plain, "quantification 2 (E)", into.q2);
    case 'F':
      into.remark.assign(text);
      return;
    case 'G':
      return hour(plain, "clock position 1 (G)", into.clock_from);
    case 'H':
      return hour(plain, "clock position 2 (H)", into.clock_to);
    case 'I':
      number(plain, "the distance (I)", into.distance_m);
      if (!into.distance_m.text.empty() && !into.distance_m.value)
        say(Severity::error, "the distance (I) is \"" + std::string(plain) + "\"", "metres, a number");
      return;
    case 'J':
      into.stretch.assign(plain);
      return;
    case 'K':
      return joint(plain, into);
    case 'L':
      into.manhole_place.assign(text);
      return;
    case 'M':
      into.photo.assign(text);
      return;
    case 'N':
      into.video.assign(text);
      return;
    default:
      return;
  }
}

void whole_circumference(coding::Observation& one) {
  if (one.clock_from == 0 && one.clock_to == 12) one.clock_from = 12;
}

bool is_extra_name(std::string_view name) {
  return !name.empty() && trimmed(name) == name && name.find_first_of("\r\n") == std::string_view::npos &&
         (name.size() > 1 || name[0] < 'A' || name[0] > 'N');
}

std::vector<std::string> extra_names(const std::vector<coding::Observation>& observations) {
  std::vector<std::string> names;
  for (const coding::Observation& one : observations)
    for (std::size_t i = 0; i < one.extra.size(); ++i) {
      const std::string& name = one.extra[i].first;
      const auto same = [&name](const auto& pair) { return pair.first == name; };
      const auto here =
          std::count_if(one.extra.begin(), one.extra.begin() + static_cast<std::ptrdiff_t>(i) + 1, same);
      if (std::count(names.begin(), names.end(), name) < here) names.push_back(name);
    }
  return names;
}

const std::string* extra_text(const coding::Observation& one, std::string_view name, std::size_t n) {
  for (const auto& [known, text] : one.extra)
    if (known == name && n-- == 0) return &text;
  return nullptr;
}

int column_of(std::string_view line, std::size_t byte) { return base::characters(line.substr(0, byte)) + 1; }

}  // namespace haunch::exchange
