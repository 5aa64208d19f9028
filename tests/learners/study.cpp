// SPDX-License-Identifier: Apache-2.0
#include "learners/study.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "learning/mastery.hpp"
#include "learning/order.hpp"
#include "learning/person.hpp"

namespace haunch::learners {
namespace {

using learning::Evidence;
using learning::Skill;

class Study {
 public:
  Study(const Kind& kind, Order order, std::uint64_t seed, const learning::Model& model,
        const StudyRules& rules)
      : order_(order),
        model_(model),
        rules_(rules),
        random_(base::mix(seed ^ 0x0badcafeULL)),
        learner_(kind.make(rules.codes, base::mix(seed))),
        person_(learning::fresh_person(model)),
        codes_(model.codes.begin(), model.codes.begin() + static_cast<std::ptrdiff_t>(rules.codes)) {
    for (std::size_t i = 0; i < rules.codes; ++i) cycle_.push_back(i);
    for (std::size_t i = cycle_.size(); i > 1; --i)
      std::swap(cycle_[i - 1], cycle_[random_.below(static_cast<std::uint32_t>(i))]);
  }

  Outcome run() {
    Outcome outcome;
    for (int day = 0; !done(outcome) && outcome.trials < rules_.most_trials && day < 1000; ++day) {
      right_today_.assign(rules_.codes, 0);
      double now = day;
      for (int i = 0; i < rules_.trials_a_day && outcome.trials < rules_.most_trials; ++i) {
        now = day + i * rules_.seconds_a_trial / 86400;
        const std::optional<Picture> picture = choose(now);
        if (!picture) break;
        ++outcome.trials;
        outcome.days = day + 1;
        show_one(*picture);
        if (std::all_of(codes_.begin(), codes_.end(), [this](const auto& code) { return once(code); })) {
          outcome.reached = true;
          if (done(outcome)) break;
        }
      }
      if (order_ == Order::ours) hold(now + 0.5, outcome);
      last_ = now;
    }
    for (std::size_t i = 0; i < rules_.codes; ++i)
      outcome.retention += learner_->chances({i, 0, last_ + rules_.retention_after_days}).both() /
                           static_cast<double>(rules_.codes);
    outcome.by_why = by_why_;
    return outcome;
  }

 private:
  bool mastered(const std::string& code) const {
    const learning::CodeHistory* const history = learning::of_code(person_.history, code);
    return history != nullptr && history->mastered_at.has_value();
  }
  bool done(const Outcome& outcome) const { return outcome.reached && outcome.trials >= rules_.least_trials; }
  bool once(const std::string& code) const {
    const learning::CodeHistory* const history = learning::of_code(person_.history, code);
    return history != nullptr && history->ever_mastered;
  }
  bool rests(std::size_t code) const {
    return mastered(codes_[code]) || right_today_[code] >= model_.order.enough_right_a_day;
  }

  std::optional<Picture> choose(double now) {
    switch (order_) {
      case Order::ours: {
        const auto wish =
            learning::next(person_, model_, {now, random_.next(), codes_, rules_.least_trials > 0});
        if (!wish) return std::nullopt;
        ++by_why_[static_cast<std::size_t>(wish->why)];
        return Picture{model_.place_of(wish->code), wish->difficulty, now};
      }
      case Order::random_left:
      case Order::random_all: {
        std::vector<std::size_t> left;
        for (std::size_t i = 0; i < rules_.codes; ++i)
          if (order_ == Order::random_all || !rests(i)) left.push_back(i);
        if (left.empty()) return std::nullopt;
        return Picture{left[random_.below(static_cast<std::uint32_t>(left.size()))], 0, now};
      }
      case Order::spaced_left:
      case Order::spaced_all:
        for (std::size_t i = 0; i < rules_.codes; ++i) {
          const std::size_t code = cycle_[turn_++ % rules_.codes];
          if (order_ == Order::spaced_all || !rests(code)) return Picture{code, 0, now};
        }
        return std::nullopt;
    }
    return std::nullopt;
  }

  void show_one(const Picture& picture) {
    const Answer answer = learner_->answer(picture);
    right_today_[picture.code] += answer.named ? 1 : 0;
    Evidence evidence;
    evidence.code = codes_[picture.code];
    evidence.at_days = picture.at_days;
    evidence.difficulty = picture.difficulty;
    evidence.skill = Skill::found;
    evidence.credit = answer.found ? 1 : 0;
    take(evidence);
    if (!answer.found) return;
    evidence.skill = Skill::named;
    evidence.credit = answer.named ? 1 : 0;
    evidence.latency_s = answer.latency_s;
    if (answer.said < codes_.size()) evidence.answered_code = codes_[answer.said];
    take(evidence);
  }

  void take(const Evidence& evidence) {
    if (order_ == Order::ours) {
      learning::learn(person_, model_, evidence);
      return;
    }
    // The other orders ask nobody's belief: only what mastery is judged by is kept.
    learning::CodeHistory* const code = learning::take_in(person_.history, evidence);
    if (code != nullptr && learning::says_something(code->trials.back()))
      learning::judge(*code, evidence.code, model_.mastery, learning::own_latency_s(person_.history));
  }

  void hold(double now, Outcome& outcome) const {
    for (std::size_t i = 0; i < rules_.codes; ++i) {
      if (learning::of_code(person_.history, codes_[i]) == nullptr) continue;
      const auto estimate = learning::estimate(person_.belief(Skill::named), model_, codes_[i], now);
      const double truth = learner_->chances({i, 0, now}).named;
      ++outcome.estimates;
      outcome.held += estimate.success.low <= truth && truth <= estimate.success.high ? 1 : 0;
    }
  }

  Order order_;
  const learning::Model& model_;
  const StudyRules& rules_;
  base::Random random_;
  std::unique_ptr<Learner> learner_;
  learning::Person person_;
  std::vector<std::string> codes_;
  std::vector<std::size_t> cycle_;
  std::size_t turn_ = 0;
  std::vector<int> right_today_;
  double last_ = 0;
  std::array<int, 5> by_why_{};
};

}  // namespace

std::string show(Order order) {
  switch (order) {
    case Order::ours:
      return "ours";
    case Order::random_left:
      return "random, of what is left";
    case Order::spaced_left:
      return "equal spacing, of what is left";
    case Order::random_all:
      return "random, every code";
    case Order::spaced_all:
      return "equal spacing, every code";
  }
  return {};
}

Outcome study(const Kind& kind, Order order, std::uint64_t seed, const learning::Model& model,
              const StudyRules& rules) {
  return Study(kind, order, seed, model, rules).run();
}

}  // namespace haunch::learners
