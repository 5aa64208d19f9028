// SPDX-License-Identifier: Apache-2.0
// Memory traces that fade by a power of time: each showing leaves one, and it fades the faster the stronger
// the memory was when it was laid (so that spacing pays). m = ln sum t^-d, d = c e^m + a, p = 1 / (1 +
// e^((tau - m) / s)).
#include <cmath>

#include "learners/kinds.hpp"

namespace haunch::learners {
namespace {

constexpr double c = 0.217, a = 0.177;     // Pavlik & Anderson 2008, from memory
constexpr double tau = -0.704, s = 0.255;  // Pavlik & Anderson 2005, from memory
constexpr double seconds_a_day =
    86400 * 0.025;  // between sessions time counts for so much less; 2005, from memory
constexpr double day_s = 86400;
constexpr double spread = 0.15;  // of codes and people about tau; ours

class Traces : public Learner {
 public:
  Traces(std::size_t codes, std::uint64_t seed) : Learner(seed), codes_(codes) {
    const double own = spread * random().normal();
    for (Code& code : codes_) code.harder = own + spread * random().normal();
  }
  Chances chances(const Picture& picture) const override {
    const Code& code = codes_[picture.code];
    const double m = strength(code, picture.at_days);
    return chances_of(logistic((m - tau - code.harder) / s - picture.difficulty));
  }

 private:
  struct Trace {
    double at_days = 0, fades = 0;
  };
  struct Code {
    double harder = 0;
    std::vector<Trace> traces;
  };
  static double seconds_since(double then, double now) {
    const double nights = std::floor(now) - std::floor(then);
    const double within = (now - then - nights) * day_s;  // of a session, the nights taken out
    return std::max(1.0, within + nights * seconds_a_day);
  }
  static double strength(const Code& code, double at_days) {
    double sum = 0;
    for (const Trace& trace : code.traces)
      sum += std::pow(seconds_since(trace.at_days, at_days), -trace.fades);
    return sum > 0 ? std::log(sum) : -10;
  }
  void learn(const Picture& picture, const Answer&) override {
    Code& code = codes_[picture.code];
    const double m = strength(code, picture.at_days);
    code.traces.push_back({picture.at_days, c * std::exp(m) + a});
  }
  std::vector<Code> codes_;
};

}  // namespace

std::unique_ptr<Learner> make_traces(std::size_t codes, std::uint64_t seed) {
  return std::make_unique<Traces>(codes, seed);
}

}  // namespace haunch::learners
