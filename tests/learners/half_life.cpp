// SPDX-License-Identifier: Apache-2.0
// A memory that halves: p = 2^(-time / half-life). A right answer lengthens the half-life the more, the
// longer the last showing lies back; a wrong one shortens it.
#include <algorithm>
#include <cmath>

#include "learners/kinds.hpp"

namespace haunch::learners {
namespace {

constexpr double first_days = 0.65;  // a third is left after a day: Ebbinghaus 1885, from memory
constexpr double shortest_days = 0.1, longest_days = 300;
constexpr double most_lengthened = 2;  // adds up to this many half-lives
constexpr double shortened = 0.8;
constexpr double knows_at_first = 0.03, slip = 0.03;

class HalfLife : public Learner {
 public:
  HalfLife(std::size_t codes, std::uint64_t seed) : Learner(seed), codes_(codes) {
    for (Code& code : codes_) code.quick = std::exp(0.4 * random().normal());
  }
  Chances chances(const Picture& picture) const override {
    const Code& code = codes_[picture.code];
    const double recalled = code.seen ? std::exp2(-since(code, picture) / code.days) : knows_at_first;
    const double share = std::clamp((1 - slip) * recalled, 1e-6, 1 - slip);
    return chances_of(logistic(logit(share) - picture.difficulty));
  }

 private:
  struct Code {
    bool seen = false;
    double days = first_days, at_days = 0, quick = 1;
  };
  static double since(const Code& code, const Picture& picture) {
    return std::max(0.0, picture.at_days - code.at_days);
  }
  void learn(const Picture& picture, const Answer& answer) override {
    Code& code = codes_[picture.code];
    if (!code.seen) {
      code.days = first_days * code.quick;
    } else if (answer.named) {
      const double spaced = std::min(1.0, since(code, picture) / code.days);
      code.days *= 1 + most_lengthened * spaced * std::min(code.quick, 1.5);
      // A showing shortly after the last adds a little nevertheless.
      code.days += 0.01;
    } else {
      code.days *= shortened;
    }
    code.days = std::clamp(code.days, shortest_days, longest_days);
    code.at_days = picture.at_days;
    code.seen = true;
  }
  std::vector<Code> codes_;
};

}  // namespace

std::unique_ptr<Learner> make_half_life(std::size_t codes, std::uint64_t seed) {
  return std::make_unique<HalfLife>(codes, seed);
}

}  // namespace haunch::learners
