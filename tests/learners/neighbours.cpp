// SPDX-License-Identifier: Apache-2.0
// Perceptual learning: ability at a code grows towards a ceiling, quickly at first, and two codes that look
// alike are taken for each other until they have been seen close together often enough. Forgetting is slow.
#include <algorithm>
#include <cmath>

#include "learners/kinds.hpp"

namespace haunch::learners {
namespace {

constexpr double start = -1.5, ceiling = 4.5;  // logits
constexpr double growth = 0.12;                // share of what is missing, with each showing
constexpr double lost_a_day = 0.01;            // share of what was gained
constexpr double confused_at_first = 0.4;
constexpr double after_contrast = 0.75, after_showing = 0.97;  // what is left of the confusion
constexpr int close_by = 4;                                    // trials

class Neighbours : public Learner {
 public:
  Neighbours(std::size_t codes, std::uint64_t seed) : Learner(seed), codes_(codes) {
    const double own = 0.5 * random().normal();
    for (Code& code : codes_) {
      code.base = start + own + 0.7 * random().normal();
      code.ability = code.base;
      code.growth = growth * std::exp(0.3 * random().normal());
    }
    confused_.assign(codes / 2 + 1, 0.0);
    for (double& share : confused_) share = confused_at_first * random().uniform();
  }
  Chances chances(const Picture& picture) const override {
    const double known = logistic(ability_at(picture) - picture.difficulty);
    return chances_of(known * (1 - confused_[picture.code / 2]));
  }

 private:
  struct Code {
    double base = 0, ability = 0, growth = 0, at_days = 0;
    int shown = -100;
  };
  double ability_at(const Picture& picture) const {
    const Code& code = codes_[picture.code];
    const double left = std::pow(1 - lost_a_day, std::max(0.0, picture.at_days - code.at_days));
    return code.base + (code.ability - code.base) * left;
  }
  void learn(const Picture& picture, const Answer&) override {
    Code& code = codes_[picture.code];
    code.ability = ability_at(picture);
    code.ability += code.growth * (ceiling - code.ability);
    code.at_days = picture.at_days;
    code.shown = ++shown_;
    const std::size_t other = picture.code ^ 1U;
    const bool contrast = other < codes_.size() && shown_ - codes_[other].shown <= close_by;
    confused_[picture.code / 2] *= contrast ? after_contrast : after_showing;
  }
  std::vector<Code> codes_;
  std::vector<double> confused_;
  int shown_ = 0;
};

}  // namespace

std::unique_ptr<Learner> make_neighbours(std::size_t codes, std::uint64_t seed) {
  return std::make_unique<Neighbours>(codes, seed);
}

}  // namespace haunch::learners
