// SPDX-License-Identifier: Apache-2.0
// The header of a Record, and what refers to observations by name.
#include <unordered_set>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"

namespace haunch::coding {
namespace {

using base::Severity;

/// Names among which the nearest is looked for; more are a file that no person wrote, and take long.
constexpr std::size_t suggestions_among = 2000;

/// 'd' stands for a digit.
bool looks_like(std::string_view text, std::string_view form) {
  if (text.size() != form.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i)
    if (form[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != form[i]) return false;
  return true;
}

void check_field(RemarksOn& remarks, const CodeList& list, const HeaderField& field) {
  const Named* known = list.header_field(field.code);
  if (known == nullptr) {
    std::vector<std::string> codes;
    for (const Named& one : list.header_fields()) codes.push_back(one.code);
    remarks.whole(Severity::warning, "header code \"" + field.code + "\" is not known",
                  "a code from AAA to ADE", base::nearest_word(field.code, codes));
    return;
  }
  const std::string value = base::trim(field.value);
  if (value.empty()) return;
  const std::string name = "header " + field.code + " (" + known->name + ") is \"" + value + "\"";
  double number = 0;
  if (header_holds_number(field.code) && !base::read_number(value, number))
    remarks.whole(Severity::error, name, "a number");
  else if (header_holds_number(field.code) && number < 0)
    remarks.whole(Severity::error, name, "a number of at least 0");
  else if (field.code == "ABQ" && number > longest_pipe_m)
    remarks.whole(Severity::error, name + ", and no pipe is as long",
                  "at most " + base::show_number(longest_pipe_m) + " m");
  else if ((field.code == "ACB" || field.code == "ACC") && number > widest_pipe_mm)
    remarks.whole(Severity::error, name + ", and no pipe is as wide",
                  "at most " + base::show_number(widest_pipe_mm) + " mm");
  if (field.code == "ABF" && !looks_like(value, "dddd-dd-dd"))
    remarks.whole(Severity::warning, name, "a date such as 2026-03-02");
  if (field.code == "ABG" && !looks_like(value, "dd:dd") && !looks_like(value, "dd:dd:dd"))
    remarks.whole(Severity::warning, name, "a time such as 09:40");
  if (known->values.empty() || known->values.contains(value)) return;
  std::vector<std::string> letters;
  for (const auto& [letter, meaning] : known->values) letters.push_back(letter);
  // Materials and shapes come from an outside list; the other values only from memory.
  const bool sourced = field.code == "ACA" || field.code == "ACD" || field.code == "ACF";
  remarks.whole(sourced ? Severity::error : Severity::warning, name, "one of " + base::join(letters, ", "));
}

}  // namespace

void check_header(RemarksOn& remarks, const CodeList& list) {
  std::unordered_set<std::string> seen;
  for (const HeaderField& field : remarks.record.header) {
    check_field(remarks, list, field);
    // The general remark can honestly stand there more than once.
    if (!seen.insert(field.code).second && field.code != "ADE")
      remarks.whole(Severity::warning, "header " + field.code + " is given twice; the first is used",
                    "each header once");
  }
}

void check_names(RemarksOn& remarks) {
  std::unordered_set<std::string> names;
  const auto& observations = remarks.record.observations;
  for (std::size_t i = 0; i < observations.size(); ++i)
    if (!observations[i].id.empty() && !names.insert(observations[i].id).second)
      remarks.error(i, "the name \"" + observations[i].id + "\" is taken by another observation",
                    "a name of its own");
  const std::vector<std::string> there(names.begin(), names.end());
  const auto check = [&](const std::string& id, const std::string& where,
                         const std::vector<base::Place>& places, std::size_t index) {
    if (names.contains(id)) return;
    remarks.at(places, index, Severity::error,
               where + " names an observation \"" + id + "\" that is not there", "the id of an observation",
               there.size() > suggestions_among ? std::string() : base::only_nearest_word(id, there));
  };
  if (remarks.record.judgement)
    for (std::size_t i = 0; i < remarks.record.judgement->classes.size(); ++i)
      check(remarks.record.judgement->classes[i].observation, "the judgement", remarks.places.classes, i);
  for (std::size_t i = 0; i < remarks.record.not_visible.size(); ++i)
    check(remarks.record.not_visible[i].observation, "the list of what could not be seen",
          remarks.places.not_visible, i);
}

}  // namespace haunch::coding
