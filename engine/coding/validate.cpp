// SPDX-License-Identifier: Apache-2.0
// Walks a Record past every rule.
#include "coding/validate.hpp"

#include <algorithm>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"
#include "coding/suggest.hpp"

namespace haunch::coding {
namespace {

/// What problems of this kind have in common: of a list's rule the code, with characterisation 1 where the
/// rule differs by it; of a letter all letters; of places and runs nothing.
std::string subject(const Observation& one, const RuleWords& rule, const CodeList& list) {
  if (rule.group == "runs" || rule.group == "places" || rule.group == "nodes") return {};
  if (one.code.empty()) return {};
  const bool of_letters =
      rule.group == "letters" || rule.rule == Rule::letter_unknown || rule.rule == Rule::letter_missing;
  if (of_letters) return show_code(one) + ": ";
  const CodeEntry* entry = list.find(one.code);
  const bool of_clock = rule.name.rfind("clock", 0) == 0,
             of_size = rule.name.rfind("size", 0) == 0 || rule.rule == Rule::joint_angle;
  const bool by_ch1 = entry != nullptr && !one.ch1.empty() &&
                      ((of_clock && entry->clock == ClockRule::by_ch1) ||
                       (of_size && entry->q1 && !entry->q1->unit_by_ch1.empty()));
  return (by_ch1 ? one.code + ' ' + one.ch1 : one.code) + ": ";
}

void check_row(RemarksOn& remarks, std::size_t i, PipeHere& pipe) {
  const Observation& one = remarks.record.observations[i];
  const CodeEntry* entry = remarks.entries[i];
  const auto off = [](const std::optional<int>& hour) { return hour && (*hour < 1 || *hour > 12); };
  if (off(one.clock_from))
    remarks.row(Rule::clock_outside, i, "clock position 1 is " + std::to_string(*one.clock_from),
                "a whole hour from 1 to 12");
  if (off(one.clock_to))
    remarks.row(Rule::clock_outside, i, "clock position 2 is " + std::to_string(*one.clock_to),
                "a whole hour from 1 to 12");
  if (entry != nullptr) {
    check_letters(remarks, i, *entry);
    check_sizes(remarks, i, *entry);
    check_list_rules(remarks, i, *entry);
    check_against_pipe(remarks, i, *entry, pipe);
  } else if (one.code.empty()) {
    remarks.row(Rule::code_missing, i, "it has no main code", "a main code of three letters");
  } else if (of_manhole(one.code, 'D')) {
    const std::size_t told = remarks.found.size();
    remarks.row(Rule::code_unknown, i,
                "the main code \"" + one.code + "\" describes a manhole, and only pipes are read here",
                "an inspection of a pipe, whose codes begin with B");
    // A manhole's inspection has many such codes: all of them are one kind.
    if (remarks.found.size() > told)
      remarks.found.back().kind = "a code for manholes, and only pipes are read here";
  } else {
    remarks.row(Rule::code_unknown, i, "the main code \"" + one.code + "\" is not known",
                "a main code of " + remarks.list.standard(), suggest_code(one, remarks.list));
  }
}

}  // namespace

bool of_manhole(std::string_view code, char begins) {
  return code.size() == 3 && code[0] == begins && code[1] >= 'A' && code[1] <= 'D' && code[2] >= 'A' &&
         code[2] <= 'Z';
}

std::string RemarksOn::name(std::size_t index) const {
  const Observation& one = record.observations[index];
  std::string said = one.code.empty() ? "an observation" : show_code(one);
  if (!one.distance_m.empty()) said += " at " + one.distance_m.show() + (one.distance_m.value ? " m" : "");
  const bool placed = index < places.observations.size() && places.observations[index].line > 0;
  return placed ? said : "observation " + std::to_string(index + 1) + ", " + said;
}

base::Place RemarksOn::start() const {
  base::Place place = !places.observations.empty() ? places.observations.front()
                      : !places.header.empty()     ? places.header.front()
                                                   : base::Place{file_name, 0, 0};
  place.column = std::min(place.column, 1);
  return place;
}

void RemarksOn::at(const std::vector<base::Place>& known, std::size_t index, Rule rule, std::string what,
                   std::string expected, std::string suggestion, std::string kind) {
  const RuleWords& words = words_of(rule);
  found.push_back({{index < known.size() ? known[index] : base::Place{file_name, 0, 0}, words.severity,
                    std::move(what), std::move(expected), std::move(suggestion)},
                   rule,
                   kind.empty() ? std::string(words.says) : std::move(kind)});
}

void RemarksOn::row(Rule rule, std::size_t index, std::string_view what, std::string expected,
                    std::string suggestion, Solid solid) {
  if (!checks.on(rule, solid)) return;
  const RuleWords& words = words_of(rule);
  at(places.observations, index, rule, name(index) + ": " + std::string(what), std::move(expected),
     std::move(suggestion), subject(record.observations[index], words, list) + std::string(words.says));
  found.back().observation = index;
  found.back().quantification = quantification;
}

void RemarksOn::header(Rule rule, std::size_t index, std::string what, std::string expected,
                       std::string suggestion, Solid solid) {
  if (!checks.on(rule, solid)) return;
  const std::string& code = record.header[index].code;
  const Named* known = list.header_field(code);
  const std::size_t place = places.header.size() == 1 ? 0 : index;
  at(places.header, place, rule, std::move(what), std::move(expected), std::move(suggestion),
     "header " + code + (known == nullptr ? "" : " (" + known->name + ")") + ": " +
         std::string(words_of(rule).says));
}

void RemarksOn::whole(Rule rule, std::string what, std::string expected, std::string_view header_code) {
  if (!checks.on(rule)) return;
  base::Place place = start();
  if (places.header.size() == record.header.size())
    for (std::size_t i = record.header.size(); i-- > 0;)
      if (record.header[i].code == header_code) place = places.header[i];
  at({place}, 0, rule, std::move(what), std::move(expected));
}

std::string nearest_number(std::string_view text) {
  std::string cleaned = base::trim(text);
  std::replace(cleaned.begin(), cleaned.end(), ',', '.');
  cleaned = cleaned.substr(0, cleaned.find_first_not_of("+-.0123456789"));
  double value = 0;
  return base::read_number(cleaned, value) ? cleaned : std::string();
}

std::vector<Remark> remarks_on(const Record& record, const CodeList& list, const std::string& file_name,
                               const RecordPlaces& places, const Checks& checks) {
  RemarksOn remarks{record, list, file_name, places, checks};
  check_header(remarks);
  remarks.length_m = record.header_number("ABQ");
  if (remarks.length_m && !(*remarks.length_m > 0)) remarks.length_m.reset();
  PipeHere pipe = pipe_at_start(record, list);
  remarks.entries.reserve(record.observations.size());
  for (std::size_t i = 0; i < record.observations.size(); ++i) {
    remarks.entries.push_back(list.find(record.observations[i].code));
    check_distance(remarks, i);
    check_row(remarks, i, pipe);
  }
  check_runs(remarks);
  check_order(remarks);
  check_twice(remarks);
  check_nodes(remarks);
  check_names(remarks);
  // By line, so that a person can walk down the file; what has no line comes first.
  std::stable_sort(remarks.found.begin(), remarks.found.end(), [](const Remark& a, const Remark& b) {
    return std::pair(a.problem.place.line, a.problem.place.column) <
           std::pair(b.problem.place.line, b.problem.place.column);
  });
  return std::move(remarks.found);
}

base::Problems validate(const Record& record, const CodeList& list, const std::string& file_name,
                        const RecordPlaces& places, const Checks& checks) {
  base::Problems problems;
  for (Remark& remark : remarks_on(record, list, file_name, places, checks))
    problems.push_back(std::move(remark.problem));
  return problems;
}

}  // namespace haunch::coding
