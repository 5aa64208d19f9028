// SPDX-License-Identifier: Apache-2.0
// A Record's header, its actions and the names of its observations.
#include "coding/record.hpp"

#include <algorithm>
#include <array>
#include <unordered_set>

#include "base/words.hpp"

namespace haunch::coding {
namespace {

struct ActionWords {
  Action action;
  const char* words;
};
constexpr std::array<ActionWords, 5> action_words{{{Action::carry_on, "carry on"},
                                                   {Action::clean_again, "clean again"},
                                                   {Action::do_not_jet, "do not jet"},
                                                   {Action::stop_and_refer, "stop and refer"},
                                                   {Action::call_gas_utility, "call the gas utility"}}};

}  // namespace

bool header_holds_number(std::string_view code) {
  static constexpr std::array<std::string_view, 6> numbers{"ABQ", "ACB", "ACC", "ACG", "ACH", "ACI"};
  return std::find(numbers.begin(), numbers.end(), code) != numbers.end();
}

std::string show(Action action) {
  for (const ActionWords& one : action_words)
    if (one.action == action) return one.words;
  return {};
}

std::optional<Action> action_from(std::string_view words) {
  const std::string wanted = base::lower(base::trim(words));
  for (const ActionWords& one : action_words)
    if (wanted == one.words) return one.action;
  return {};
}

const std::vector<Action>& all_actions() {
  static const std::vector<Action> all = [] {
    std::vector<Action> actions;
    for (const ActionWords& one : action_words) actions.push_back(one.action);
    return actions;
  }();
  return all;
}

std::optional<std::string> Record::header_value(std::string_view code) const {
  for (const HeaderField& field : header)
    if (field.code == code) return field.value;
  return {};
}

std::optional<double> Record::header_number(std::string_view code) const {
  const auto text = header_value(code);
  double value = 0;
  if (!text || !base::read_number(base::trim(*text), value)) return {};
  return value;
}

void Record::set_header(std::string_view code, std::string value) {
  for (HeaderField& field : header) {
    if (field.code != code) continue;
    field.value = std::move(value);
    return;
  }
  header.push_back({std::string(code), std::move(value)});
}

const Observation* Record::find(std::string_view id) const {
  if (id.empty()) return nullptr;
  const auto found = std::find_if(observations.begin(), observations.end(),
                                  [id](const Observation& one) { return one.id == id; });
  return found == observations.end() ? nullptr : &*found;
}

void number_observations(Record& record) {
  std::unordered_set<std::string> taken;
  for (const Observation& one : record.observations) taken.insert(one.id);
  std::size_t next = 1;
  for (Observation& one : record.observations) {
    if (!one.id.empty()) continue;
    while (taken.contains("o" + std::to_string(next))) ++next;
    one.id = "o" + std::to_string(next++);
  }
}

}  // namespace haunch::coding
