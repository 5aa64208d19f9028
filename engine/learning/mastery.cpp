// SPDX-License-Identifier: Apache-2.0
#include "learning/mastery.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/words.hpp"
#include "statistics/proportion.hpp"
#include "statistics/quantile.hpp"

namespace haunch::learning {
namespace {

using Trials = std::vector<const Trial*>;  // latest first

/// `most` of the latest that count.
Trials latest(const CodeHistory& history, const MasteryRules& rules, int most) {
  Trials counted;
  for (auto trial = history.trials.rbegin(); trial != history.trials.rend(); ++trial) {
    if (static_cast<int>(counted.size()) == most) break;
    if (trial->first_exposure && says_something(*trial) && trial->difficulty >= rules.least_difficulty)
      counted.push_back(&*trial);
  }
  return counted;
}

/// So many right ones must follow before the proportion is good enough; at most `rules.most_counted`.
int more_right(int right, int counted, const MasteryRules& rules) {
  int more = std::max(0, rules.least_trials - counted);
  while (statistics::wilson(right + more, counted + more).low < rules.least_bound && more < 1000) ++more;
  return more;
}

/// What a stretch of latest trials amounts to.
struct Stretch {
  int counted = 0, right = 0, days = 0, more_right = 0, more_days = 0;
  std::string taken_for;
  bool better_than(const Stretch& other) const {
    const auto rank = [](const Stretch& s) {
      return std::tuple(s.more_right + (s.taken_for.empty() ? 0 : 1), s.more_days, -s.counted);
    };
    return rank(*this) < rank(other);
  }
};

std::string too_often_said(const std::map<std::string, int>& said, int counted, const MasteryRules& rules) {
  std::string worst;
  int most = 0;
  for (const auto& [code, times] : said) {
    if (times > most && times > rules.most_confused * counted) worst = code;
    most = std::max(most, times);
  }
  return worst;
}

/// The stretch from the latest trial back that comes nearest to mastery.
Stretch nearest_stretch(const Trials& trials, const MasteryRules& rules) {
  int failed_lately = 0;  // so many right ones must follow before the last ones are all found
  for (int i = 0; i < std::min<int>(rules.last_found, static_cast<int>(trials.size())); ++i)
    if (!was_found(*trials[i])) {
      failed_lately = rules.last_found - i;
      break;
    }
  Stretch now;
  now.more_right = std::max(more_right(0, 0, rules), failed_lately);
  now.more_days = rules.least_days;
  Stretch best = now;
  std::set<double> days;
  std::map<std::string, int> said;
  for (const Trial* trial : trials) {
    ++now.counted;
    now.right += found_and_named(*trial) ? 1 : 0;
    if (!trial->answered.empty()) ++said[trial->answered];
    days.insert(std::floor(trial->at_days));
    now.days = static_cast<int>(days.size());
    now.more_days = std::max(0, rules.least_days - now.days);
    now.more_right = std::max(more_right(now.right, now.counted, rules), failed_lately);
    now.taken_for = too_often_said(said, now.counted + now.more_right, rules);
    // A stretch that what must follow would push out of those looked at is of no use.
    const bool fits = now.counted + std::max(now.more_right, now.more_days) <= rules.most_counted;
    if (fits && now.better_than(best)) best = now;
  }
  return best;
}

bool slow(const Trials& trials, const MasteryRules& rules, std::optional<double> own_latency_s) {
  if (!own_latency_s) return false;
  std::vector<double> lately;
  for (const Trial* trial : trials)
    if (found_and_named(*trial) && trial->latency_s && lately.size() < 5) lately.push_back(*trial->latency_s);
  return !lately.empty() &&
         statistics::quantile(std::move(lately), 0.5) > rules.latency_times_own * *own_latency_s;
}

bool met(const Mastery& mastery) {
  return mastery.more_right == 0 && mastery.more_days == 0 && mastery.taken_for.empty() && !mastery.too_slow;
}

std::string count_of(int count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " more " + (count == 1 ? one : many);
}

std::string missing_words(const Mastery& mastery, const std::string& code) {
  std::vector<std::string> parts;
  if (mastery.more_days > 0) parts.push_back(count_of(mastery.more_days, "day", "days"));
  if (mastery.more_right > 0) parts.push_back(count_of(mastery.more_right, "right", "right"));
  if (!mastery.taken_for.empty()) parts.push_back("tell " + code + " from " + mastery.taken_for);
  if (mastery.too_slow) parts.emplace_back("answer faster");
  return base::join(parts, ", ");
}

Mastery weigh(const Trials& trials, const MasteryRules& rules) {
  const Stretch best = nearest_stretch(trials, rules);
  Mastery mastery;
  mastery.counted = best.counted;
  mastery.right = best.right;
  mastery.days = best.days;
  mastery.bound = statistics::wilson(best.right, best.counted);
  mastery.more_right = best.more_right;
  mastery.more_days = best.more_days;
  mastery.taken_for = best.taken_for;
  return mastery;
}

void say(Mastery& mastery, const std::string& code) {
  if (mastery.standing != Standing::mastered) mastery.missing = missing_words(mastery, code);
  mastery.sentence = code + ": " + show(mastery.standing);
  if (!mastery.missing.empty()) mastery.sentence += ": " + mastery.missing;
  mastery.sentence += ".";
}

}  // namespace

std::string show(Standing standing) {
  switch (standing) {
    case Standing::never_tried:
      return "never tried";
    case Standing::not_yet:
      return "not yet";
    case Standing::shaky:
      return "shaky";
    case Standing::mastered:
      return "mastered";
  }
  return {};
}

Mastery mastery_of(const CodeHistory& history, const std::string& code, const MasteryRules& rules,
                   std::optional<double> own_latency_s) {
  const Trials trials = latest(history, rules, rules.most_counted);
  Mastery mastery = weigh(trials, rules);
  mastery.too_slow = slow(trials, rules, own_latency_s);
  mastery.mastered_at = history.mastered_at;
  if (history.mastered_at) {
    mastery.standing = Standing::mastered;
  } else if (history.ever_mastered) {
    mastery.standing = Standing::shaky;
  } else {
    mastery.standing = history.trials.empty() ? Standing::never_tried : Standing::not_yet;
  }
  say(mastery, code);
  return mastery;
}

void judge(CodeHistory& history, const std::string& code, const MasteryRules& rules,
           std::optional<double> own_latency_s) {
  if (history.trials.empty()) return;
  if (!met(mastery_of(history, code, rules, own_latency_s))) {
    history.mastered_at.reset();
  } else if (!history.mastered_at) {
    history.mastered_at = history.trials.back().at_days;
    history.ever_mastered = true;
  }
}

Mastery mastery_of_family(const History& history, const Family& family, const MasteryRules& rules) {
  Trials trials;
  bool tried = false;
  for (const std::string& code : family.codes) {
    const CodeHistory* const of = of_code(history, code);
    if (of == nullptr) continue;
    tried = tried || !of->trials.empty();
    for (const Trial* trial : latest(*of, rules, rules.most_counted)) trials.push_back(trial);
  }
  std::stable_sort(trials.begin(), trials.end(),
                   [](const Trial* a, const Trial* b) { return a->at_days > b->at_days; });
  Mastery mastery = weigh(trials, rules);
  // Confusion within the family is what its codes are judged by one by one.
  mastery.taken_for.clear();
  if (met(mastery)) {
    mastery.standing = Standing::mastered;
  } else {
    mastery.standing = tried ? Standing::not_yet : Standing::never_tried;
  }
  say(mastery, family.title);
  return mastery;
}

}  // namespace haunch::learning
