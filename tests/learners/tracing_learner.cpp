// SPDX-License-Identifier: Apache-2.0
// Knowledge tracing: a code is known or not, is learned all at once, and slips stay. To a code known, a hard
// picture makes a slip likelier. A known code is forgotten with a small chance a day (the original forgets
// nothing; ours, so that waiting costs something).
#include <cmath>

#include "learners/kinds.hpp"

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
    const double known = known_at(picture);
    const double if_known = logistic(logit(1 - slip) - picture.difficulty);
    return chances_of(known * if_known + (1 - known) * guess);
  }

 private:
  struct Code {
    double learn_rate = 0;
    double known = 0;  ///< 0 or 1 when last seen
    double at_days = 0;
  };
  double known_at(const Picture& picture) const {
    const Code& code = codes_[picture.code];
    return code.known * std::pow(1 - forgotten_a_day, std::max(0.0, picture.at_days - code.at_days));
  }
  void learn(const Picture& picture, const Answer& answer) override {
    Code& code = codes_[picture.code];
    double known = known_at(picture);
    // Whether it is known still is drawn as the answer says.
    const double if_known = answer.named ? logistic(logit(1 - slip) - picture.difficulty)
                                         : 1 - logistic(logit(1 - slip) - picture.difficulty);
    const double if_not = answer.named ? guess : 1 - guess;
    known = known * if_known / (known * if_known + (1 - known) * if_not);
    const bool knows = random().uniform() < known || random().uniform() < code.learn_rate;
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
