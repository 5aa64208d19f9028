// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <map>

#include "base/words.hpp"
#include "report/owner_words.hpp"
#include "report/plain_text.hpp"
#include "report/unseen.hpp"

namespace haunch::report {
namespace {

OwnerStep rest_of_the_pipe(const coding::Record& record, const Advice& advice, const grading::Grade& grade,
                           const Measure& measure, const Meanings& meanings) {
  OwnerStep rest;
  rest.next = meanings.inspect_rest();
  rest.heading = only_blind(grade) ? "Have the part inspected that the camera could not see"
                                   : meanings.next()[rest.next].heading;
  rest.text =
      "The record does not show the whole pipe: " + base::join(unseen_words(record, grade, measure), "; ") +
      ".";
  if (advice.no_jet) rest.text += " First settle what stands above.";
  return rest;
}

/// Long ones stand whole further down.
std::string quoted(const std::string& remark) {
  constexpr std::size_t most = 160;
  if (remark.size() <= most) return "\u201C" + remark + "\u201D";
  const auto cut = remark.rfind(' ', most);
  return "\u201C" + remark.substr(0, cut == std::string::npos ? remark.find(' ', most) : cut) +
         " \u2026\u201D";
}

std::string about_remarks(const Advice& advice, const Measure& measure) {
  std::string text;
  for (std::size_t i = 0; i < advice.remarks.size() && i < 3; ++i) {
    const RemarkFound& one = advice.remarks[i];
    text += (one.at_m ? "The remark at " + measure.show(*one.at_m) : std::string("A remark")) +
            " says: " + quoted(one.words) + ". ";
  }
  if (advice.remarks.size() > 3) text += "So do " + std::to_string(advice.remarks.size() - 3) + " more. ";
  return text;
}

std::string unjudged_words(const Advice& advice) {
  if (advice.remark_count == 0) return {};
  const bool one = advice.remark_count == 1;
  return std::string(one ? " The record has a remark in free words."
                         : " The record has " + std::to_string(advice.remark_count) +
                               " remarks in free words.") +
         " Words that speak of gas, of dangerous air or of a pipe that is not the drain's are looked for; "
         "nothing else in " +
         (one ? "it is judged here: read it." : "them is judged here: read them.");
}

}  // namespace

bool waits(std::size_t next, const Advice& advice, const Meanings& meanings) {
  return advice.no_jet && next == meanings.next_for(coding::Action::clean_again);
}

std::string nothing_heading(bool remarks, const Meanings& meanings) {
  const std::string& heading = meanings.next().front().heading;
  return remarks ? heading + " by the codes; read the remarks" : heading;
}

std::string step_heading(std::size_t next, const Advice& advice, const Meanings& meanings) {
  return waits(next, advice, meanings) ? "Cleaning has to wait" : meanings.next()[next].heading;
}

std::string then_words(const FindingGroup& group, const Advice& advice, const Meanings& meanings,
                       const coding::CodeList& list) {
  if (waits(group.next, advice, meanings))
    return "Something else in the record says that a jet may do harm here.";
  const coding::CodeEntry* code = list.find(group.findings.front().seen->code);
  // What is in the way is no reason to clean or cut before a pipe that may not bear it is judged.
  if (advice.no_jet && group.next < meanings.no_jet_from() && code != nullptr && code->group == "operation")
    return "No cleaning or cutting before what is more urgent is settled; then somebody decides about this "
           "anew.";
  if (group.next == meanings.watch() && !group.meaning->watched.empty()) return group.meaning->watched;
  if (group.next == meanings.ask() && !group.meaning->watched.empty())
    return "If work is advised: " + small_first(group.meaning->then);
  return group.meaning->then;
}

std::vector<OwnerStep> next_steps(const coding::Record& record, const Advice& advice,
                                  const grading::Grade& grade, const Measure& measure,
                                  const Meanings& meanings) {
  std::map<std::size_t, std::vector<int>, std::greater<>> numbers;
  if (advice.next > 0)
    numbers[advice.next];  // more than any finding may call for: a material, a remark, the class
  if (!grade.not_inspected.empty()) numbers[meanings.inspect_rest()];
  for (const FindingGroup& group : advice.groups)
    for (const RankedFinding& one : group.findings)
      if (group.next > 0) numbers[group.next].push_back(one.number);
  std::vector<OwnerStep> steps;
  for (auto& [next, list] : numbers) {
    const NextStep& step = meanings.next()[next];
    if (next == meanings.inspect_rest()) {
      steps.push_back(rest_of_the_pipe(record, advice, grade, measure, meanings));
      continue;
    }
    // Whatever is less urgent than a step within days sets no time against it.
    const bool later =
        next < advice.next && (advice.next >= meanings.ask_within_days() || advice.by_class > next);
    OwnerStep one{next, step.heading, later ? step.after : step.text, std::move(list)};
    if (next == advice.next) {
      if (!advice.about_material.empty()) one.text = base::join(advice.about_material, " ") + " " + one.text;
      if (advice.lifted_by_class) one.text = advice.about_class + " " + one.text;
      one.text = about_remarks(advice, measure) + one.text;
    }
    if (waits(next, advice, meanings)) {
      one.waits = true;
      one.heading = "Later have it cleaned, if a qualified person agrees";
      one.text =
          "These findings would usually be cleaned away. Not before a qualified person has said that the "
          "pipe "
          "can bear it.";
    }
    steps.push_back(std::move(one));
  }
  if (steps.empty())
    steps.push_back({0,
                     nothing_heading(advice.remark_count > 0, meanings),
                     "Keep this page for the next inspection.",
                     {}});
  steps.front().text += unjudged_words(advice);
  return steps;
}

std::string steps_text(const std::vector<OwnerStep>& steps) {
  std::string text;
  for (const OwnerStep& step : steps) {
    text +=
        wrapped((text.empty() ? "what comes next: " : "after that: ") + step.heading + ". " + step.text, 0);
  }
  return text;
}

}  // namespace haunch::report
