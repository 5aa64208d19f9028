// SPDX-License-Identifier: Apache-2.0
// An observation as a sentence, from the code list's own words.
#include "base/words.hpp"
#include "coding/code_list.hpp"
#include "coding/observation.hpp"
#include "coding/stretch.hpp"

namespace haunch::coding {
namespace {

std::string meaning(const std::map<std::string, std::string>& known, const std::string& letter) {
  const auto found = known.find(letter);
  return found == known.end() ? "\"" + letter + "\" (not in the list)" : found->second;
}

std::string quantity(const Number& number, const std::optional<QuantityRule>& rule, const std::string& ch1) {
  std::string said = number.show();
  if (!rule || !number.value) return said;
  const std::string& unit = rule->unit_for(ch1);
  if (unit == "degree")
    said += *number.value == 1 ? " degree" : " degrees";
  else if (unit != "count" && !unit.empty())
    said += ' ' + unit;
  const std::string& more = rule->says_for(ch1);
  return more.empty() ? said : said + ' ' + more;
}

std::string clock(const Observation& one) {
  if (one.clock_from && one.clock_to) {
    if (*one.clock_from == *one.clock_to)
      return *one.clock_from == 12 ? "all the way round"
                                   : "at " + std::to_string(*one.clock_from) + " o'clock";
    return "from " + std::to_string(*one.clock_from) + " to " + std::to_string(*one.clock_to) + " o'clock";
  }
  const auto only = one.clock_from ? one.clock_from : one.clock_to;
  return only ? "at " + std::to_string(*only) + " o'clock" : std::string();
}

std::string stretch(const std::string& text) {
  const auto mark = stretch_mark(text);
  if (!mark) return text.empty() ? text : "stretch \"" + text + "\"";
  const char* what = mark->kind == 'A' ? " begins here" : mark->kind == 'B' ? " ends here" : " changes here";
  return "stretch " + mark->number + what;
}

}  // namespace

std::string in_words(const Observation& one, const CodeList& list) {
  const CodeEntry* entry = list.find(one.code);
  std::vector<std::string> parts;
  const auto add = [&parts](std::string part) {
    if (!part.empty()) parts.push_back(std::move(part));
  };
  if (entry != nullptr) {
    if (!one.ch1.empty()) add(meaning(entry->ch1, one.ch1));
    if (!one.ch2.empty()) add(meaning(entry->ch2, one.ch2));
  }
  add(quantity(one.q1, entry ? entry->q1 : std::nullopt, one.ch1));
  add(quantity(one.q2, entry ? entry->q2 : std::nullopt, one.ch1));
  add(clock(one));
  if (one.at_joint) add("at a joint");
  add(stretch(one.stretch));
  if (!one.remark.empty()) add("\"" + base::trim(one.remark) + "\"");
  const std::string name = entry ? entry->name : show_code(one) + " (not a known code)";
  return parts.empty() ? name : name + ": " + base::join(parts, "; ");
}

}  // namespace haunch::coding
