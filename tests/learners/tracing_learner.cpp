// SPDX-License-Identifier: Apache-2.0
// Knowledge tracing: a code is known or not, is learned all at once, and slips stay. To a code known, a hard
// picture makes a slip likelier. A known code is forgotten with a small chance a day (the original forgets
// nothing; ours, so that waiting costs something).
#include <algorithm>
#include <cmath>

#include "learners/kinds.hpp"
#include "learning/tracing.hpp"

namespace haunch::learners {
namespace {

constexpr double slip = 0.04;
constexpr double guess = 1.0 / 40;
constexpr double forgotten_a_day = 0.005;

class TracingLearner : public Learner {
 public:
  TracingLearner(std::size_t codes, std::uint64_t seed) : Learner(seed) {
    for (std::size_t i = 0; i < codes; ++i)
      codes_.push_back({random().uniform(0.05, 0.35), random().uniform() < 0.1 ? 1.0 : 0.0, 0});
  }
  Chances chances(const Picture& picture) const override {
    return chances_of(learning::traced_success(rules_of(picture), known_at(picture)));
  }

 private:
  struct Code {
    double learn_rate = 0;
    double known = 0;  ///< 0 or 1 when last seen
    double at_days = 0;
  };
  learning::Tracing rules_of(const Picture& picture) const {
    const double if_known = logistic(logit(1 - slip) - picture.difficulty);
    return {codes_[picture.code].learn_rate, 1 - if_known, guess};
  }
  double known_at(const Picture& picture) const {
    const Code& code = codes_[picture.code];
    return code.known * std::pow(1 - forgotten_a_day, std::max(0.0, picture.at_days - code.at_days));
  }
  void learn(const Picture& picture, const Answer& answer) override {
    Code& code = codes_[picture.code];
    // Whether it is known still is drawn as the answer says.
    const double known = learning::known_by(rules_of(picture), known_at(picture), answer.named);
    const bool knows = random().uniform() < known || random().uniform() < rules_of(picture).learn;
    code.known = knows ? 1 : 0;
    code.at_days = picture.at_days;
  }
  std::vector<Code> codes_;
};

}  // namespace

std::unique_ptr<Learner> make_tracing(std::size_t codes, std::uint64_t seed) {
  return std::make_unique<TracingLearner>(codes, seed);
}

}  // namespace haunch::learners
