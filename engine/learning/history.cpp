// SPDX-License-Identifier: Apache-2.0
#include "learning/history.hpp"

#include <algorithm>

#include "statistics/quantile.hpp"

namespace haunch::learning {
namespace {

constexpr std::size_t least_latencies = 5;

bool belongs(const Trial& trial, const Evidence& evidence) {
  if (trial.at_days != evidence.at_days || trial.instance != evidence.instance) return false;
  return evidence.skill == Skill::found ? !trial.found : !trial.named;
}

Trial& trial_for(History& history, CodeHistory& code, const Evidence& evidence) {
  if (code.last_shown == history.shown && !code.trials.empty() && belongs(code.trials.back(), evidence))
    return code.trials.back();
  code.last_shown = ++history.shown;
  Trial trial;
  trial.at_days = evidence.at_days;
  trial.difficulty = evidence.difficulty;
  trial.instance = evidence.instance;
  code.trials.push_back(std::move(trial));
  return code.trials.back();
}

}  // namespace

bool says_something(const Trial& trial) { return trial.named.has_value() || trial.found == false; }
bool found_and_named(const Trial& trial) { return trial.found.value_or(true) && trial.named.value_or(false); }
bool was_found(const Trial& trial) { return trial.found.value_or(trial.named.value_or(false)); }

CodeHistory* take_in(History& history, const Evidence& evidence) {
  if (evidence.skill != Skill::found && evidence.skill != Skill::named) return nullptr;
  if (!usable(evidence) || evidence.code.empty()) return nullptr;
  CodeHistory& code = history.codes[evidence.code];
  Trial& trial = trial_for(history, code, evidence);
  trial.first_exposure = trial.first_exposure && evidence.first_exposure;
  if (evidence.skill == Skill::found) {
    trial.found = is_right(evidence);
    return &code;
  }
  trial.named = is_right(evidence);
  trial.latency_s = evidence.latency_s;
  if (*trial.named && evidence.latency_s) {
    auto& sorted = history.right_latencies;
    sorted.insert(std::upper_bound(sorted.begin(), sorted.end(), *evidence.latency_s), *evidence.latency_s);
  }
  if (!evidence.answered_code.empty() && evidence.answered_code != evidence.code) {
    trial.answered = evidence.answered_code;
    ++history.taken_for[{evidence.code, evidence.answered_code}];
  }
  return &code;
}

const CodeHistory* of_code(const History& history, const std::string& code) {
  const auto found = history.codes.find(code);
  return found == history.codes.end() ? nullptr : &found->second;
}

std::optional<double> own_latency_s(const History& history) {
  if (history.right_latencies.size() < least_latencies) return std::nullopt;
  return statistics::quantile_of_sorted(history.right_latencies, 0.5);
}

}  // namespace haunch::learning
