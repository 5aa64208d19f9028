// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <map>

#include "base/words.hpp"
#include "report/owner_words.hpp"
#include "report/unseen.hpp"

namespace haunch::report {
namespace {

bool waits(std::size_t next, const Advice& advice, const Meanings& meanings) {
  return advice.no_jet && next == meanings.next_for(coding::Action::clean_again);
}

OwnerStep rest_of_the_pipe(const coding::Record& record, const Advice& advice, const grading::Grade& grade,
                           const Measure& measure) {
  OwnerStep rest;
  rest.heading = only_blind(grade) ? "Have the part inspected that the camera could not see"
                                   : "Have the rest of the pipe inspected";
  rest.text =
      "The record does not show the whole pipe: " + base::join(unseen_words(record, grade, measure), "; ") +
      ".";
  if (advice.no_jet) rest.text += " First settle what stands above.";
  return rest;
}

}  // namespace

std::string step_heading(std::size_t next, const Advice& advice, const Meanings& meanings) {
  return waits(next, advice, meanings) ? "Cleaning has to wait" : meanings.next()[next].heading;
}

std::string then_words(const FindingGroup& group, const Advice& advice, const Meanings& meanings,
                       const coding::CodeList& list) {
  if (waits(group.next, advice, meanings)) return "Other findings say that this pipe may not bear it.";
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
  if (advice.next > 0) numbers[advice.next];  // a material or a note may call for more than any finding
  for (const FindingGroup& group : advice.groups)
    for (const RankedFinding& one : group.findings)
      if (group.next > 0) numbers[group.next].push_back(one.number);
  std::vector<OwnerStep> steps;
  for (auto& [next, list] : numbers) {
    const NextStep& step = meanings.next()[next];
    OwnerStep one{next, step.heading, step.text, std::move(list)};
    if (next == advice.next && !advice.about_material.empty())
      one.text = base::join(advice.about_material, " ") + " " + one.text;
    if (waits(next, advice, meanings)) {
      one.heading = "Later have it cleaned, if a qualified person agrees";
      one.text =
          "These findings would usually be cleaned away. Not before a qualified person has said that the "
          "pipe "
          "can bear it.";
    }
    steps.push_back(std::move(one));
  }
  if (!grade.not_inspected.empty()) {
    OwnerStep rest = rest_of_the_pipe(record, advice, grade, measure);
    const auto mild = [&](const OwnerStep& step) { return step.next <= meanings.watch(); };
    steps.insert(std::find_if(steps.begin(), steps.end(), mild), std::move(rest));
  }
  if (steps.empty()) {
    const NextStep& step = meanings.next().front();
    steps.push_back({0, step.heading, "Keep this page for the next inspection.", {}});
  }
  return steps;
}

}  // namespace haunch::report
