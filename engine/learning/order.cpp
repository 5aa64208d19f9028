// SPDX-License-Identifier: Apache-2.0
#include "learning/order.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/random.hpp"

namespace haunch::learning {
namespace {

struct Candidate {
  std::string code;
  Why why = Why::practice;
  double priority = 0;
  std::uint64_t lot = 0;  ///< decides between equals
  const CodeHistory* history = nullptr;
  bool firm = false;
};

std::uint64_t lot_of(const std::string& code, std::uint64_t seed) {
  std::uint64_t lot = base::mix(seed);
  for (const char letter : code) lot = base::mix(lot ^ static_cast<unsigned char>(letter));
  return lot;
}

bool named_right(const Trial& trial) { return found_and_named(trial); }

/// What a code has had today and how it stands.
struct Today {
  int right = 0;
  int right_in_a_row = 0;
  bool error = false;  ///< the latest answer was wrong
};
Today today(const CodeHistory& history, double at_days) {
  Today result;
  bool row = true;
  for (auto trial = history.trials.rbegin(); trial != history.trials.rend(); ++trial) {
    const bool same_day = std::floor(trial->at_days) == std::floor(at_days);
    if (!same_day && !row) break;
    const bool right = named_right(*trial);
    result.right += same_day && right ? 1 : 0;
    row = row && right;
    result.right_in_a_row += row ? 1 : 0;
  }
  result.error = !history.trials.empty() && !named_right(history.trials.back());
  return result;
}

/// Shown today within the last `gap` trials.
bool too_soon(const History& history, const CodeHistory& code, int gap, double at_days) {
  return !code.trials.empty() && std::floor(code.trials.back().at_days) == std::floor(at_days) &&
         history.shown - code.last_shown < gap;
}

bool easily_taken(const Model& model, const std::string& a, const std::string& b) {
  return std::any_of(model.confusable.begin(), model.confusable.end(), [&](const auto& pair) {
    return (pair.first == a && pair.second == b) || (pair.first == b && pair.second == a);
  });
}

class Chooser {
 public:
  Chooser(const Person& person, const Model& model, const Asking& asking)
      : person_(person), model_(model), asking_(asking), own_latency_s_(own_latency_s(person.history)) {}

  std::optional<Candidate> choose() {
    sort_codes();
    std::vector<Candidate> ready;
    for (const Candidate& candidate : learning_)
      if (!too_soon(person_.history, *candidate.history, model_.order.gap, asking_.at_days))
        ready.push_back(candidate);
    if (weak_ < model_.order.new_at_once) ready.insert(ready.end(), fresh_.begin(), fresh_.end());
    ready.insert(ready.end(), due_.begin(), due_.end());
    if (ready.empty() && (asking_.keep_going || !learning_.empty())) ready = fillers();
    return best(ready);
  }

 private:
  void sort_codes() {
    for (const std::string& code : asking_.codes.empty() ? model_.codes : asking_.codes) {
      if (model_.place_of(code) == Model::none) continue;
      Candidate candidate{code, Why::fresh, 0, lot_of(code, asking_.seed), of_code(person_.history, code)};
      if (candidate.history == nullptr || candidate.history->trials.empty()) {
        candidate.priority = model_.order.new_code * beside(code);
        fresh_.push_back(candidate);
      } else if (candidate.history->mastered_at) {
        sort_mastered(candidate);
      } else {
        sort_learning(candidate);
      }
    }
  }

  void sort_mastered(Candidate& candidate) {
    candidate.firm = true;
    if (recheck_due(*candidate.history, model_.mastery, asking_.at_days) &&
        !too_soon(person_.history, *candidate.history, model_.order.gap, asking_.at_days)) {
      candidate.why = Why::recheck;
      candidate.priority = model_.order.recheck;
      due_.push_back(candidate);
    } else {
      resting_.push_back(candidate);
    }
  }

  void sort_learning(Candidate& candidate) {
    const Today now = today(*candidate.history, asking_.at_days);
    candidate.firm = now.right_in_a_row >= model_.order.firm_after_right;
    weak_ += candidate.firm ? 0 : 1;
    if (now.right >= model_.order.enough_right_a_day && !now.error) {
      resting_.push_back(candidate);
      return;
    }
    candidate.why = now.error ? Why::error : Why::practice;
    Showing showing;
    showing.trials_since = trials_since(*candidate.history);
    showing.error = now.error;
    showing.latency = latency(*candidate.history);
    showing.need = 1 - expected_success(person_, model_, candidate.code, asking_.at_days, 0);
    candidate.priority = priority(showing, model_.order) * beside(candidate.code);
    learning_.push_back(candidate);
  }

  /// After a night it is as if many others had been shown.
  int trials_since(const CodeHistory& history) const {
    const bool same_day = std::floor(history.trials.back().at_days) == std::floor(asking_.at_days);
    const int since = person_.history.shown - history.last_shown + 1;
    return same_day ? std::min(since, model_.order.most_trials_since) : model_.order.most_trials_since;
  }

  std::optional<double> latency(const CodeHistory& history) const {
    const Trial& last = history.trials.back();
    if (!own_latency_s_ || *own_latency_s_ <= 0 || !last.latency_s) return std::nullopt;
    return *last.latency_s / *own_latency_s_;
  }

  /// More for a code that is easily taken for one just shown, or that this person took for it.
  double beside(const std::string& code) const {
    double times = 1;
    for (const auto& [other, history] : person_.history.codes) {
      if (other == code || !too_soon(person_.history, history, model_.order.gap + 1, asking_.at_days))
        continue;
      const auto took = [&](const std::string& a, const std::string& b) {
        const auto found = person_.history.taken_for.find({a, b});
        return found == person_.history.taken_for.end() ? 0 : found->second;
      };
      if (easily_taken(model_, code, other) || took(code, other) + took(other, code) > 0)
        times = model_.order.confusable_times;
    }
    return times;
  }

  /// What else may be shown so that what is practised has its gap: the least sure of what rests.
  std::vector<Candidate> fillers() const {
    std::vector<Candidate> found;
    for (Candidate candidate : resting_) {
      if (too_soon(person_.history, *candidate.history, model_.order.gap, asking_.at_days)) continue;
      candidate.why = Why::filler;
      candidate.priority = 1 - expected_success(person_, model_, candidate.code, asking_.at_days, 0);
      found.push_back(candidate);
    }
    return found;
  }

  static std::optional<Candidate> best(const std::vector<Candidate>& ready) {
    const auto rank = [](const Candidate& c) { return std::tuple(c.priority, c.lot); };
    const auto found =
        std::max_element(ready.begin(), ready.end(),
                         [&](const Candidate& a, const Candidate& b) { return rank(a) < rank(b); });
    return found == ready.end() ? std::nullopt : std::optional<Candidate>(*found);
  }

  const Person& person_;
  const Model& model_;
  const Asking& asking_;
  std::optional<double> own_latency_s_;
  std::vector<Candidate> learning_, fresh_, due_, resting_;
  int weak_ = 0;
};

}  // namespace

std::string show(Why why) {
  switch (why) {
    case Why::error:
      return "the last answer was wrong";
    case Why::practice:
      return "on the way to mastery";
    case Why::fresh:
      return "new";
    case Why::recheck:
      return "asked again after days";
    case Why::filler:
      return "between the others";
  }
  return {};
}

double priority(const Showing& showing, const OrderRules& rules) {
  const double since = std::max(0, showing.trials_since - rules.gap);
  const double slow = showing.latency && *showing.latency > rules.usual_latency
                          ? std::log(*showing.latency / rules.usual_latency)
                          : 0;
  const double bracket = showing.error ? rules.error : rules.slow_answer * slow;
  return rules.per_trial_since * since * (bracket + rules.need * showing.need);
}

bool recheck_due(const CodeHistory& history, const MasteryRules& rules, double at_days) {
  if (!history.mastered_at || history.trials.empty()) return false;
  const double last = history.trials.back().at_days;
  return std::any_of(rules.recheck_days.begin(), rules.recheck_days.end(), [&](double days) {
    const double due = *history.mastered_at + days;
    return at_days >= due && last < due;
  });
}

std::optional<Wish> next(const Person& person, const Model& model, const Asking& asking) {
  if (!std::isfinite(asking.at_days)) return std::nullopt;
  const std::optional<Candidate> chosen = Chooser(person, model, asking).choose();
  if (!chosen) return std::nullopt;
  Wish wish{chosen->code, 0, 0, chosen->why};
  wish.difficulty = wished_difficulty(person, model, wish.code, asking.at_days, chosen->firm);
  wish.expected = expected_success(person, model, wish.code, asking.at_days, wish.difficulty);
  return wish;
}

}  // namespace haunch::learning
