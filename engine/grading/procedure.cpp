// SPDX-License-Identifier: Apache-2.0
#include "grading/procedure.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "base/words.hpp"

namespace haunch::grading {
namespace {

constexpr Procedure procedures[] = {
    {"three goals", run_three_goals, read_three_goals},
    {"mean score and worst", run_mean_and_worst, read_mean_and_worst},
};

}  // namespace

const Procedure* procedure_named(std::string_view name) {
  for (const Procedure& procedure : procedures)
    if (procedure.name == name) return &procedure;
  return nullptr;
}

std::vector<std::string> procedure_names() {
  std::vector<std::string> names;
  for (const Procedure& procedure : procedures) names.emplace_back(procedure.name);
  return names;
}

void Work::missing(const std::string& what, const std::string& follows_from_it) {
  const auto known = std::find(grade.missing.begin(), grade.missing.end(), what);
  const auto index = static_cast<std::size_t>(known - grade.missing.begin());
  if (known == grade.missing.end()) {
    grade.missing.push_back(what);
    follows.emplace_back();
  }
  std::vector<std::string>& all = follows[index];
  if (std::find(all.begin(), all.end(), follows_from_it) == all.end()) all.push_back(follows_from_it);
}

std::string Work::missing_words() const {
  // What has the same consequences is said together.
  std::vector<std::pair<std::vector<std::string>, std::vector<std::string>>> groups;
  for (std::size_t i = 0; i < grade.missing.size(); ++i) {
    const auto same = std::find_if(groups.begin(), groups.end(),
                                   [&](const auto& group) { return group.second == follows[i]; });
    if (same == groups.end())
      groups.push_back({{grade.missing[i]}, follows[i]});
    else
      same->first.push_back(grade.missing[i]);
  }
  std::vector<std::string> parts;
  for (const auto& [what, so] : groups)
    parts.push_back("Not known: " + base::join(what, ", ") + "; so " + base::join(so, ", "));
  return base::join(parts, ". ");
}

void Work::leave_open(const std::string& observation, const std::string& goal, bool classed,
                      const std::string& what) {
  grade.open.push_back({observation, goal, classed, words ? what : std::string()});
}

std::size_t Work::unclassed(const std::string& goal) const {
  std::set<std::string_view> found;
  for (const Open& one : grade.open)
    if (!one.classed && !one.observation.empty() && (goal.empty() || one.goal.empty() || one.goal == goal))
      found.insert(one.observation);
  return found.size();
}

std::string span_words(const Grade& grade) {
  return std::to_string(grade.object_least.value_or(0)) + " to " +
         std::to_string(grade.object_most.value_or(0));
}

std::string open_words(const Work& work) {
  constexpr std::size_t most = 6;
  std::vector<std::pair<std::string, std::size_t>> kinds;
  bool site = false;
  for (const Open& one : work.grade.open) {
    // The notes name them.
    if (one.observation.empty()) {
      site = true;
      continue;
    }
    std::string words = one.what;
    for (std::size_t i = 0; i < work.findings.size(); ++i)
      if (work.grade.observations[i].observation == one.observation)
        words = coding::show_code(*work.findings[i].seen) + " (" + one.what + ")";
    const auto known =
        std::find_if(kinds.begin(), kinds.end(), [&](const auto& kind) { return kind.first == words; });
    if (known == kinds.end())
      kinds.emplace_back(std::move(words), 1);
    else
      ++known->second;
  }
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < kinds.size() && i < most; ++i)
    parts.push_back((kinds[i].second > 1 ? std::to_string(kinds[i].second) + " times " : "") +
                    kinds[i].first);
  if (kinds.size() > most) parts.push_back("and " + std::to_string(kinds.size() - most) + " more kinds");
  if (site) parts.emplace_back("conditions of the site");
  return base::join(parts, "; ");
}

std::string unseen_words(const Grade& grade) {
  if (grade.not_inspected.empty()) return {};
  return "not wholly inspected (" + base::join(grade.not_inspected, "; ") +
         "): no class can be given for what was not seen";
}

}  // namespace haunch::grading
