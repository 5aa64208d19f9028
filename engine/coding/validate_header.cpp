// SPDX-License-Identifier: Apache-2.0
// The header of a Record, field by field.
#include <algorithm>
#include <chrono>
#include <cmath>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"

namespace haunch::coding {
namespace {

/// 'd' stands for a digit.
bool looks_like(std::string_view text, std::string_view form) {
  if (text.size() != form.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i)
    if (form[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != form[i]) return false;
  return true;
}

int digits(std::string_view text) {
  int number = 0;
  for (const char c : text) number = number * 10 + (c - '0');
  return number;
}

bool is_day(std::string_view text) {
  if (!looks_like(text, "dddd-dd-dd")) return false;
  const std::chrono::year_month_day day{std::chrono::year(digits(text.substr(0, 4))),
                                        std::chrono::month(static_cast<unsigned>(digits(text.substr(5, 2)))),
                                        std::chrono::day(static_cast<unsigned>(digits(text.substr(8, 2))))};
  return day.ok();
}

/// "2026-03-02" for "02.03.2026", day first.
std::string nearest_day(std::string_view text) {
  if (!looks_like(text, "dd.dd.dddd") && !looks_like(text, "dd/dd/dddd") && !looks_like(text, "dd-dd-dddd"))
    return {};
  std::string day = std::string(text.substr(6)) + '-' + std::string(text.substr(3, 2)) + '-' +
                    std::string(text.substr(0, 2));
  return is_day(day) ? day : std::string();
}

bool is_time(std::string_view text) {
  if (!looks_like(text, "dd:dd") && !looks_like(text, "dd:dd:dd")) return false;
  return digits(text.substr(0, 2)) < 24 && digits(text.substr(3, 2)) < 60 &&
         (text.size() == 5 || digits(text.substr(6, 2)) < 60);
}

/// "2011" of "EN 13508-2:2003+A1:2011": the last year that is named; 0 when none is.
int last_year(std::string_view text) {
  int year = 0;
  for (std::size_t i = 0; i + 4 <= text.size(); ++i) {
    const bool alone = (i == 0 || text[i - 1] < '0' || text[i - 1] > '9') &&
                       (i + 4 == text.size() || text[i + 4] < '0' || text[i + 4] > '9');
    const std::string_view four = text.substr(i, 4);
    if (alone && looks_like(four, "dddd") && (four[0] == '1' || four[0] == '2') && digits(four) >= 1950 &&
        digits(four) < 2100)
      year = digits(four);
  }
  return year;
}

/// The letters whose name was written out, or which are near.
std::string nearest_value(const std::map<std::string, std::string>& values, const std::string& value) {
  std::vector<std::string> letters, names;
  for (const auto& [letter, meaning] : values) {
    letters.push_back(letter);
    names.push_back(meaning);
  }
  if (const std::string near = base::only_nearest_word(value, names); !near.empty())
    return letters[static_cast<std::size_t>(std::find(names.begin(), names.end(), near) - names.begin())];
  return base::only_nearest_word(value, letters);
}

template <class Said>
void check_number(RemarksOn& remarks, std::size_t i, const std::string& value, const Said& name) {
  const std::string& code = remarks.record.header[i].code;
  double number = 0;
  const bool readable = base::read_number(value, number);
  if (readable && number >= 0 && number <= longest_pipe_m) return;
  const std::string said = name();
  if (!readable)
    remarks.header(Rule::header_number, i, said, "a number", nearest_number(value));
  else if (number < 0)
    remarks.header(Rule::header_beyond, i, said, "a number of at least 0");
  else if (code == "ABQ" && number > longest_pipe_m)
    remarks.header(Rule::header_beyond, i, said + ", and no pipe is as long",
                   "at most " + base::show_number(longest_pipe_m) + " m");
  else if ((code == "ACB" || code == "ACC") && number > widest_pipe_mm)
    remarks.header(Rule::header_beyond, i, said + ", and no pipe is as wide",
                   "at most " + base::show_number(widest_pipe_mm) + " mm");
}

/// Header fields that are more than text; a number, so that one step tells which it is.
constexpr int field(std::string_view code) {
  return code.size() != 3 ? 0 : code[0] * 65536 + code[1] * 256 + code[2];
}

void unknown_code(RemarksOn& remarks, std::size_t i) {
  const std::string& code = remarks.record.header[i].code;
  if (of_manhole(code, 'C'))
    return remarks.header(Rule::header_code, i,
                          "header code \"" + code + "\" describes a manhole, and only pipes are read here",
                          "an inspection of a pipe, whose header codes run from AAA to ADE");
  std::vector<std::string> codes;
  for (const Named& one : remarks.list.header_fields()) codes.push_back(one.code);
  remarks.header(Rule::header_code, i, "header code \"" + code + "\" is not known", "a code from AAA to ADE",
                 base::only_nearest_word(code, codes));
}

void check_value(RemarksOn& remarks, std::size_t i, const Named& known, const std::string& value) {
  if (known.values.empty() || known.values.contains(value)) return;
  std::vector<std::string> letters;
  for (const auto& [letter, meaning] : known.values)
    letters.push_back(known.values.size() > 12 ? letter : letter + " (" + meaning + ")");
  // Materials and shapes come from an outside list; the other values only from memory.
  const bool sourced = known.code == "ACA" || known.code == "ACD" || known.code == "ACF";
  remarks.header(sourced ? Rule::header_value : Rule::header_value_memory, i,
                 "header " + known.code + " (" + known.name + ") is \"" + value + "\"",
                 "one of " + base::join(letters, ", "), nearest_value(known.values, value),
                 sourced ? Solid::sourced : Solid::memory);
}

void check_field(RemarksOn& remarks, std::size_t i, const Named& known) {
  const std::string value = base::trim(remarks.record.header[i].value);
  if (value.empty()) return;
  const auto said = [&] { return "header " + known.code + " (" + known.name + ") is \"" + value + "\""; };
  double number = 0;
  switch (field(known.code)) {
    case field("ABQ"):
    case field("ACB"):
    case field("ACC"):
    case field("ACG"):
    case field("ACH"):
    case field("ACI"):
      check_number(remarks, i, value, said);
      break;
    case field("ABF"):
      if (!is_day(value))
        remarks.header(Rule::header_date, i, said(), "a date such as 2026-03-02", nearest_day(value));
      break;
    case field("ACN"):
      if (!looks_like(value, "dddd")) remarks.header(Rule::header_date, i, said(), "a year such as 1987");
      break;
    case field("ABG"):
      if (!is_time(value)) remarks.header(Rule::header_time, i, said(), "a time such as 09:40");
      break;
    case field("AAI"):
      if (!base::read_number(value, number) || number < 1 || number > 12 || number != std::floor(number))
        remarks.header(Rule::header_clock, i, said(), "a whole hour from 1 to 12");
      break;
    default:
      break;
  }
  check_value(remarks, i, known, value);
}

/// An inspection cannot have been written to a standard that was still to come: it was translated.
void check_age(RemarksOn& remarks) {
  std::string_view standard, day;
  for (const HeaderField& one : remarks.record.header) {
    if (one.code == "ABA") standard = one.value;
    if (one.code == "ABF") day = one.value;
    if (one.code == "ABB" && !one.value.empty()) return;
  }
  if (standard.empty() || !is_day(day) || digits(day.substr(0, 4)) >= last_year(standard)) return;
  remarks.whole(Rule::header_older,
                "the inspection of " + std::string(day) + " (ABF) is older than the standard it names, " +
                    std::string(standard) + " (ABA)",
                "the coding system that it was first written in (ABB)", "ABA");
}

/// The header's own shape against its own sizes.
void check_shape(RemarksOn& remarks) {
  const PipeHere pipe = pipe_at_start(remarks.record, remarks.list);
  if (pipe.shape == "A" && pipe.height_mm > 0 && pipe.width_mm > 0 &&
      std::abs(pipe.height_mm - pipe.width_mm) > 1)
    remarks.whole(Rule::shape_sizes,
                  "the header's pipe is circular (ACA), " + base::show_number(pipe.height_mm) +
                      " mm high (ACB) and " + base::show_number(pipe.width_mm) + " mm wide (ACC)",
                  "one size, or another shape", "ACC");
}

}  // namespace

void check_header(RemarksOn& remarks) {
  const auto& header = remarks.record.header;
  std::vector<const Named*> known(header.size());
  for (std::size_t i = 0; i < header.size(); ++i) {
    known[i] = remarks.list.header_field(header[i].code);
    if (known[i] == nullptr)
      unknown_code(remarks, i);
    else
      check_field(remarks, i, *known[i]);
    bool twice = false;
    for (std::size_t k = 0; k < i && !twice; ++k)
      twice = known[k] == known[i] && (known[i] != nullptr || header[k].code == header[i].code);
    // The general remark can honestly stand there more than once.
    if (twice && header[i].code != "ADE")
      remarks.header(Rule::header_twice, i, "header " + header[i].code + " is given twice; the first is used",
                     "each header once");
  }
  check_shape(remarks);
  check_age(remarks);
}

}  // namespace haunch::coding
